package eval

import (
	"math/big"
	"strings"

	"guardband/eval/circuit"
	"guardband/notebook"
	"guardband/units"
)

// rating is the limit of a placed part as a formula holds it.
type rating struct {
	text     string // "C1.absmax.V_R.max", "16 V"
	presumed string // where a standard and not the notes gives it: which
}

var (
	watt       = units.Type{Dim: units.Dim{4, 2, -6}}
	currentDim = units.Dim{0, 0, 0, 2}
)

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
func sizeOf(m *circuit.Component) (chipSize, bool) {
	for _, o := range m.Row.Options {
		if s, ok := chipOf(strings.TrimSpace(o.S)); ok {
			return s, true
		}
	}
	if m.Part != nil {
		return chipOf(strings.TrimSpace(m.Part.Pack))
	}
	return chipSize{}, false
}

// derating is the share of a rating that may be used, as a factor of a
// formula: from `derating KIND: 80 %` of the part, the circuit or the design,
// else `derating: 80 %`; "" where the notes ask for none. curve says that it
// is stated by temperature, as in `100 % at 70 °C, 0 % at 155 °C`.
func (c *compiler) derating(m *circuit.Component, kind string) (factor string, curve bool) {
	if m.Part != nil {
		for _, want := range []string{kind, ""} {
			if p := deratingIn(m.Part.Block, want); p != nil {
				return c.share(m, p) + " * ", len(p) > 1
			}
		}
	}
	for _, want := range []string{kind, ""} {
		for _, n := range c.book.Notebooks {
			for _, b := range n.Blocks {
				if p := deratingIn(b, want); b.Kind != "part" && p != nil {
					return c.share(m, p) + " * ", len(p) > 1
				}
			}
		}
	}
	return "", false
}

// deratingPoint is a share of a rating and the temperature it is stated for, ""
// for any.
type deratingPoint struct{ share, at string }

// share spells the share at the temperature round a part: straight between the
// points, the least of all where the temperature is not stated.
func (c *compiler) share(m *circuit.Component, points []deratingPoint) string {
	around := c.around(m)
	if len(points) == 1 {
		return points[0].share
	}
	if around == "" {
		var all []string
		for _, p := range points {
			all = append(all, p.share)
		}
		return "min(" + strings.Join(all, ", ") + ")"
	}
	text := "(" + points[0].share
	for i, p := range points[1:] {
		from := points[i]
		text += " + (" + p.share + " - " + from.share + ") * max(0, min(1, (" + around + " - " + from.at + ") / (" + p.at + " - " + from.at + ")))"
	}
	return text + ")"
}

// deratingIn finds the label of a block that speaks of a kind, nil without one.
func deratingIn(b *notebook.Block, kind string) []deratingPoint {
	for _, e := range b.Entries {
		if e.Label == "derating" && strings.TrimSpace(e.Arg) == kind {
			if p := deratingPoints(e.Trimmed()); p != nil {
				return p
			}
		}
	}
	return nil
}

// deratingPoints reads a share, or shares at rising temperatures; nil of what
// is neither.
func deratingPoints(text string) (out []deratingPoint) {
	last := (*big.Rat)(nil)
	list := strings.Split(text, ",")
	for _, t := range list {
		share, at, _ := strings.Cut(t, " at ")
		p := deratingPoint{strings.TrimSpace(share), strings.TrimSpace(at)}
		q, err := units.ParseLiteral(p.share)
		if err != nil || q.Type != (units.Type{}) || q.SI.Sign() < 0 || len(list) == 1 && (p.at != "" || q.SI.Sign() == 0) {
			return nil
		}
		if len(list) > 1 {
			x, err := units.ParseLiteral(p.at)
			if err != nil || x.Type.Kind != units.Point || last != nil && x.SI.Cmp(last) <= 0 {
				return nil
			}
			last = x.SI
		}
		out = append(out, p)
	}
	return out
}

// checkDeratings tells of labels that no derating can be read from: nothing
// would be derated.
func (c *compiler) checkDeratings() {
	for _, b := range c.blocks {
		for _, e := range b.Entries {
			if e.Label == "derating" && deratingPoints(e.Trimmed()) == nil {
				c.whole(notebook.Err, "derating-bad", e.Text, "no share of a rating can be read here",
					"write `derating resistor: 80 %`, or by rising temperature `derating resistor: 100 % at 70 °C, 0 % at 155 °C`")
			}
		}
	}
}
