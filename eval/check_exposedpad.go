package eval

import (
	"slices"
	"strings"

	"guardband/eval/record"
)

// exposedPad asks that the thermal pad is joined to the net its sheet asks for.
var exposedPad = &builtin{
	name: "exposed-pad",
	rule: "The exposed pad is joined to the net that the notes require: a pin named after a comma in its row or in `exposed pad:`, or what the cited words of the sheet say. " +
		"Looked at: pins of type thermal pad or numbered EP.",
	source: "pin table of the part's own sheet",
	run: func(c *compiler, b *builtin) {
		for _, m := range c.placedParts() {
			for _, q := range m.part.pins {
				if q.row.Type == "thermal pad" || slices.Contains(q.row.Numbers, "EP") {
					c.padAt(b, m, q)
				}
			}
		}
	},
}

func (c *compiler) padAt(b *builtin, m *component, q *pin) {
	cl := c.builtClaim(b, m.ref, "The exposed pad of "+m.label()+" is joined as its sheet asks.", q.entry)
	if e := m.part.attrs["exposed pad"]; e != nil {
		cl.entries = append(cl.entries, e)
	}
	n := m.pinNets[q]
	want := m.part.padNet(q)
	switch {
	case want == "":
		cl.lacks("no fact", "the notes do not say what the exposed pad of part "+m.part.id+" is joined to", "write it after a comma in its row (`EP EPAD thermal pad, GND`), or cite the words of the sheet")
	case want == "open" && n == nil:
		cl.settle(record.Passed, "the pad stays open, as noted")
	case want == "open":
		cl.settle(record.Failed, "the pad stays open by the notes, but is joined to "+n.name)
	case n == nil:
		cl.settle(record.Failed, "the pad is not joined; by the notes it belongs to "+want)
	case m.sameNet(want, n):
		cl.settle(record.Passed, "the pad is joined to "+n.name+"; by the notes it belongs to "+want)
	default:
		cl.settle(record.Failed, "the pad is joined to "+n.name+"; by the notes it belongs to "+want)
	}
}

// padNet is what the notes require of the pad: the name of a pin, "ground",
// "open", or "" where they are silent.
func (p *part) padNet(q *pin) string {
	texts := []string{q.row.Facts}
	for _, o := range q.row.More {
		texts = append(texts, o.S)
	}
	if e := p.attrs["exposed pad"]; e != nil {
		texts = append(texts, value(e))
		for _, k := range e.Cites {
			texts = append(texts, k.Quote)
		}
	}
	for _, k := range q.entry.Cites {
		texts = append(texts, k.Quote)
	}
	if q.row.Type == "ground" {
		texts = append(texts, "ground")
	}
	for _, t := range texts {
		if w := p.padWord(q, t); w != "" {
			return w
		}
	}
	return ""
}

// padWord looks for a pin's name, "ground" or "open" in a text.
func (p *part) padWord(q *pin, text string) string {
	for _, w := range strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune(" ,;.()", r) }) {
		switch strings.ToLower(w) {
		case "ground", "gnd", "earth":
			return "ground"
		case "open", "unconnected", "floating":
			return "open"
		}
		for _, o := range p.pins {
			if o != q && o.row.Name == w {
				return w
			}
			if o.row.Type == "ground" && len(w) > 1 && bareName(o.row.Name) == w { // VSS where the pins are VSS1, VSS2
				return "ground"
			}
		}
	}
	return ""
}

// sameNet says that a net is the one of a named pin, or the return.
func (m *component) sameNet(want string, n *net) bool {
	for _, q := range m.part.pins {
		if q.row.Name == want || want == "ground" && q.row.Type == "ground" {
			if m.pinNets[q] == n {
				return true
			}
		}
	}
	return want == "ground" && isGround(n.name)
}
