package eval

import (
	"slices"
	"strings"

	"guardband/notebook"
	"guardband/units"
)

// need is one row of an application circuit, for one placed part.
type need struct {
	m      *component
	entry  *notebook.Entry
	row    *notebook.NeedRow
	a, b   *net
	supply bool   // it stands at a supply pin: more than the value drawn will do
	pin    *pin   // of a bare supply pin that no row speaks of
	bad    string // why its nets are not known
	ask    asked
	met    *component
}

// asked is the value a need asks for: its ends as typed, "" where open, or one
// nominal value.
type asked struct {
	low, high, nominal string
	lo, hi, nom        float64
	dim                units.Dim
	ok                 bool
}

// readAsked takes the text of a need apart. A range, a column and a value with
// tolerance are limits for what is left of the part in use; one value alone is
// the nominal value that the sheet draws.
func readAsked(text string) asked {
	parts, err := units.Split(text)
	if err != nil || strings.TrimSpace(text) == "" {
		return asked{}
	}
	var out asked
	read := func(l units.Leaf, at *string, f *float64) {
		if !l.Present() {
			return
		}
		t := strings.TrimSpace(text[l.Off:l.End])
		if q, err := units.ParseLiteral(t); err == nil {
			*at, *f = t, units.Float(q.SI)
			out.dim, out.ok = q.Type.Dim, true
		}
	}
	switch parts.Shape {
	case units.Single:
		read(parts.Single, &out.nominal, &out.nom)
	case units.Range:
		read(parts.Lo, &out.low, &out.lo)
		read(parts.Hi, &out.high, &out.hi)
		if out.low != "" && out.lo != 0 && !strings.ContainsAny(out.low, " ") { // "1 to 22 µF"
			if q, err := units.ParseLiteral(out.low + " " + unitOf(out.high)); err == nil {
				out.low, out.lo = out.low+" "+unitOf(out.high), units.Float(q.SI)
			}
		}
	case units.Columns:
		read(parts.Min, &out.low, &out.lo)
		read(parts.Max, &out.high, &out.hi)
		if out.low == "" && out.high == "" {
			read(parts.Typ, &out.nominal, &out.nom)
		}
	case units.Deviated:
		out.deviated(text, parts)
	}
	return out
}

// deviated reads "2.00 kΩ ± 1 %" into its ends.
func (a *asked) deviated(text string, parts units.Parts) {
	q, err := units.ParseLiteral(strings.TrimSpace(text[parts.Centre.Off:parts.Centre.End]))
	if err != nil {
		return
	}
	lits := func(ls []units.Leaf) (qs []units.Quantity) {
		for _, l := range ls {
			if x, err := units.ParseLiteral(strings.TrimSpace(text[l.Off:l.End])); err == nil {
				qs = append(qs, x)
			}
		}
		return qs
	}
	lo, hi, e := units.Deviate(q, lits(parts.Plus), lits(parts.Minus))
	if e != nil {
		return
	}
	spell := func(x units.Quantity) string {
		return units.Format(x.SI, x.Type, units.Style{Unit: &q.Unit, Digits: 12})
	}
	*a = asked{low: spell(lo), high: spell(hi), lo: units.Float(lo.SI), hi: units.Float(hi.SI), dim: q.Type.Dim, ok: true}
}

func unitOf(text string) string {
	_, u, _ := strings.Cut(strings.TrimSpace(text), " ")
	return u
}

// needsOf lists what the notes ask to stand around the placed parts: the rows
// of the application circuits, and a capacitor at every supply pin that none
// of them speaks of.
func (c *compiler) needsOf() []*need {
	var out []*need
	for _, m := range c.placedParts() {
		asked := map[*pin]bool{}
		for _, e := range m.part.needs {
			n := c.needAt(m, e)
			out = append(out, n)
			if n.row.Kind == "capacitor" {
				for _, q := range m.part.pins {
					if q.row.Name == n.row.A || q.row.Name == n.row.B || slices.Contains(q.row.Numbers, n.row.A) {
						asked[q] = true
					}
				}
			}
		}
		var ground *net
		bad := "no ground pin of part " + m.part.id + " is noted and joined"
		if g := m.grounds(); len(g) > 0 {
			ground, bad = g[0], ""
		}
		for _, q := range m.part.pins {
			if q.row.Type != "supply" || asked[q] || m.pinNets[q] == nil || isGround(m.pinNets[q].name) {
				continue
			}
			out = append(out, &need{m: m, pin: q, row: &notebook.NeedRow{A: q.row.Name, Kind: "capacitor"},
				entry: q.entry, a: m.pinNets[q], b: ground, bad: bad, supply: true})
		}
	}
	return out
}

// needAt finds the nets of a row for one placed part.
func (c *compiler) needAt(m *component, e *notebook.Entry) *need {
	n := &need{m: m, entry: e, row: e.Need}
	for _, x := range e.Need.Needs {
		if x.Name == "" && !n.ask.ok {
			n.ask = readAsked(x.Value.S)
			break
		}
	}
	find := func(name string) *net {
		pins := m.part.pinsNamed(name)
		for _, q := range pins {
			if q.row.Type == "supply" || q.row.Type == "supply output" {
				n.supply = true
			}
			if m.pinNets[q] != nil {
				return m.pinNets[q]
			}
		}
		if len(pins) > 0 {
			n.bad = "pin " + name + " of " + m.ref + " is joined to no net"
			return nil
		}
		x, ok := c.nets.get(name)
		if !ok {
			n.bad = "part " + m.part.id + " has no pin `" + name + "`, and no net goes by that name"
		}
		return x
	}
	n.a, n.b = find(e.Need.A), find(e.Need.B)
	return n
}
