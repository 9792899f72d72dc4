package checks

import (
	"slices"

	"guardband/eval/circuit"
	"guardband/notebook"
)

// need is one row of an application circuit, for one placed part.
type need struct {
	m      *circuit.Component
	entry  *notebook.Entry
	row    *notebook.NeedRow
	a, b   *circuit.Net
	supply bool         // it stands at a supply pin: more than the value drawn will do
	pin    *circuit.Pin // of a bare supply pin that no row speaks of
	bad    string       // why its nets are not known
	ask    circuit.Asked
	met    *circuit.Component
}

// needsOf lists what the notes ask to stand around the placed parts: the rows
// of the application circuits, and a capacitor at every supply pin that none
// of them speaks of.
func needsOf(c *board) []*need {
	var out []*need
	for _, m := range c.PlacedParts() {
		asked := map[*circuit.Pin]bool{}
		for _, e := range m.Part.Needs {
			n := needAt(c, m, e)
			out = append(out, n)
			if n.row.Kind == "capacitor" {
				for _, q := range m.Pins() {
					if q.Row.Name == n.row.A || q.Row.Name == n.row.B || slices.Contains(q.Row.Numbers, n.row.A) {
						asked[q] = true
					}
				}
			}
		}
		var ground *circuit.Net
		bad := "no ground pin of part " + m.Part.ID + " is noted and joined"
		if g := m.Grounds(); len(g) > 0 {
			ground, bad = g[0], ""
		}
		for _, q := range m.Pins() {
			if q.Row.Type != "supply" || asked[q] || m.PinNets[q] == nil || circuit.IsGround(m.PinNets[q].Name) {
				continue
			}
			out = append(out, &need{m: m, pin: q, row: &notebook.NeedRow{A: q.Row.Name, Kind: "capacitor"},
				entry: q.Entry, a: m.PinNets[q], b: ground, bad: bad, supply: true})
		}
	}
	return out
}

// needAt finds the nets of a row for one placed part.
func needAt(c *board, m *circuit.Component, e *notebook.Entry) *need {
	n := &need{m: m, entry: e, row: e.Need}
	for _, x := range e.Need.Needs {
		if x.Name == "" && !n.ask.Ok {
			n.ask = circuit.ReadAsked(x.Value.S)
			break
		}
	}
	find := func(name string) *circuit.Net {
		pins := m.PinsNamed(name)
		for _, q := range pins {
			if q.Row.Type == "supply" || q.Row.Type == "supply output" {
				n.supply = true
			}
			if m.PinNets[q] != nil {
				return m.PinNets[q]
			}
		}
		if len(pins) > 0 {
			n.bad = "pin " + name + " of " + m.Ref + " is not connected to a net"
			return nil
		}
		x, ok := c.Nets.Get(name)
		if !ok {
			n.bad = "part " + m.Part.ID + " has no pin `" + name + "`, and there is no net of that name"
		}
		return x
	}
	n.a, n.b = find(e.Need.A), find(e.Need.B)
	return n
}

// linked is a link of the kind that a need asks for and of the size that will
// do; nil where none joins its two pins.
func (n *need) linked() *circuit.Component {
	for _, m := range n.a.Links {
		if a := n.ask; kindFits(n.row.Kind, m.Sort()) && (!a.Ok || a.Nominal != "" && a.Nom == 0 || a.Nominal == "" && a.Lo == 0) {
			return m
		}
	}
	return nil
}
