package checks

import (
	"cmp"
	"strings"

	"guardband/eval"
	"guardband/eval/circuit"
	"guardband/units"
)

// rating is the limit of a placed part as a formula holds it.
type rating struct {
	text     string // "C1.absmax.V_R.max", "16 V"
	presumed string // where a standard and not the notes gives it: which
}

// rated is the limit stated for a placed part: an absolute maximum of one of
// some names, an operating limit of one, else an option of its row that is a
// quantity of the same dimension ("16 V", "0.1 W").
func rated(m *circuit.Component, dim units.Dim, names ...string) (rating, bool) {
	if m.Part != nil {
		for _, section := range []string{"absmax", "operating"} {
			if n := m.Part.FactNamed(section, names...); n != "" {
				return rating{text: m.Ref + "." + section + "." + n + ".max"}, true
			}
		}
	}
	if q, ok := m.Option(dim); ok {
		return rating{text: q}, true
	}
	return rating{}, false
}

// sizeOf is the chip size of a placed part: an option of its row, else the
// package of its note.
func sizeOf(m *circuit.Component) (circuit.ChipSize, bool) {
	for _, o := range m.Row.Options {
		if s, ok := circuit.ChipOf(strings.TrimSpace(o.S)); ok {
			return s, true
		}
	}
	if m.Part != nil {
		return circuit.ChipOf(strings.TrimSpace(m.Part.Pack))
	}
	return circuit.ChipSize{}, false
}

// derating is the share of a rating that may be used, as a factor of a
// formula: from `derating KIND: 80 %` of the part, the circuit or the design,
// else `derating: 80 %`; "" where the notes ask for none. curve says that it
// is stated by temperature, as in `100 % at 70 °C, 0 % at 155 °C`. The claim tells
// it.
func derating(c *board, cl *eval.Claim, m *circuit.Component, kind string) (factor string, curve bool) {
	p := c.Derating(m, kind)
	var told []string
	for _, x := range p {
		told = append(told, strings.TrimSuffix(x.Share+" at "+x.At, " at "))
	}
	if cl.Out.Derating = cmp.Or(strings.Join(told, ", "), "none stated"); p == nil {
		return "", false
	}
	return share(c, m, p) + " * ", len(p) > 1
}

// share spells the share at the temperature round a part: straight between the
// points, the least of all where the temperature is not stated.
func share(c *board, m *circuit.Component, points []eval.DeratingPoint) string {
	around := around(c, m)
	if len(points) == 1 {
		return points[0].Share
	}
	if around == "" {
		var all []string
		for _, p := range points {
			all = append(all, p.Share)
		}
		return "min(" + strings.Join(all, ", ") + ")"
	}
	text := "(" + points[0].Share
	for i, p := range points[1:] {
		from := points[i]
		text += " + (" + p.Share + " - " + from.Share + ") * max(0, min(1, (" + around + " - " + from.At + ") / (" + p.At + " - " + from.At + ")))"
	}
	return text + ")"
}
