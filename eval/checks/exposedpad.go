package checks

import (
	"slices"
	"strings"

	"guardband/eval"
	"guardband/eval/circuit"
	"guardband/eval/record"
)

// exposedPad asks that the thermal pad is joined to the net its sheet asks for.
var exposedPad = &eval.Check{
	Name: "exposed-pad",
	Rule: "The exposed pad is joined to the net that the notes require: a pin named after a comma in its row or in `exposed pad:`, or what the cited words of the sheet say. " +
		"Looked at: pins of type thermal pad or numbered EP.",
	Source: "pin table of the part's own sheet",
	Run: on(func(c *board, b *eval.Check) {
		for _, m := range c.PlacedParts() {
			for _, q := range m.Pins() {
				if q.Row.Type == "thermal pad" || slices.Contains(q.Row.Numbers, "EP") {
					padAt(c, b, m, q)
				}
			}
		}
	}),
}

func padAt(c *board, b *eval.Check, m *circuit.Component, q *circuit.Pin) {
	cl := c.Claim(b, m.Ref, "The exposed pad of "+m.Label()+" is joined as its sheet asks.", q.Entry)
	if e := m.Part.Attrs["exposed pad"]; e != nil {
		cl.Entries = append(cl.Entries, e)
	}
	n := m.PinNets[q]
	want := padNet(m.Part, q)
	switch {
	case want == "":
		cl.Lacks("no fact", "the notes do not say what the exposed pad of part "+m.Part.ID+" is joined to",
			"write it after a comma in its row (`EP EPAD thermal pad, GND`), or cite the words of the sheet")
	case want == "open" && n == nil:
		cl.Settle(record.Passed, "the pad stays open, as noted")
	case want == "open":
		cl.Settle(record.Failed, "the pad stays open by the notes, but is joined to "+n.Name)
	case n == nil:
		cl.Settle(record.Failed, "the pad is not joined; by the notes it belongs to "+want)
	case sameNet(m, want, n):
		cl.Settle(record.Passed, "the pad is joined to "+n.Name+"; by the notes it belongs to "+want)
	default:
		cl.Settle(record.Failed, "the pad is joined to "+n.Name+"; by the notes it belongs to "+want)
	}
}

// padNet is what the notes require of the pad: the name of a pin, "ground",
// "open", or "" where they are silent.
func padNet(p *circuit.Part, q *circuit.Pin) string {
	texts := []string{q.Row.Facts}
	for _, o := range q.Row.More {
		texts = append(texts, o.S)
	}
	if e := p.Attrs["exposed pad"]; e != nil {
		texts = append(texts, e.Trimmed())
		for _, k := range e.Cites {
			texts = append(texts, k.Quote)
		}
	}
	for _, k := range q.Entry.Cites {
		texts = append(texts, k.Quote)
	}
	if q.Row.Type == "ground" {
		texts = append(texts, "ground")
	}
	for _, t := range texts {
		if w := padWord(p, q, t); w != "" {
			return w
		}
	}
	return ""
}

// padWord looks for a pin's name, "ground" or "open" in a text.
func padWord(p *circuit.Part, q *circuit.Pin, text string) string {
	for _, w := range strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune(" ,;.()", r) }) {
		switch strings.ToLower(w) {
		case "ground", "gnd", "earth":
			return "ground"
		case "open", "unconnected", "floating":
			return "open"
		}
		for _, o := range p.Pins {
			if o != q && o.Row.Name == w {
				return w
			}
			if o.Row.Type == "ground" && len(w) > 1 && circuit.BareName(o.Row.Name) == w { // VSS where the pins are VSS1, VSS2
				return "ground"
			}
		}
	}
	return ""
}

// sameNet says that a net is the one of a named pin, or the return.
func sameNet(m *circuit.Component, want string, n *circuit.Net) bool {
	for _, q := range m.Pins() {
		if q.Row.Name == want || want == "ground" && q.Row.Type == "ground" {
			if m.PinNets[q] == n {
				return true
			}
		}
	}
	return want == "ground" && circuit.IsGround(n.Name)
}
