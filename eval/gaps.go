package eval

import (
	"fmt"
	"strings"

	"guardband/eval/record"
)

// gaps lists what a part's note still lacks, as notes of its record: facts
// without a page, pins without a net, needs that nothing meets, and whether a
// second person has compared it with the sheet.
func (c *compiler) gaps(p *part) []record.Field {
	var facts, pins, needs []string
	seen := map[string]bool{}
	for _, f := range p.factOrder {
		for _, e := range f.rows {
			if len(e.Cites) == 0 && !seen[f.name] {
				seen[f.name] = true
				facts = append(facts, f.section+" "+f.name)
			}
		}
	}
	for _, m := range p.placed {
		if m.notFitted() {
			continue
		}
		for _, q := range p.pins {
			if m.pinNets[q] == nil && !mayStayOpen(q) && !m.bare[q] {
				pins = append(pins, m.ref+"."+q.row.Name)
			}
		}
	}
	if len(p.placed) > 0 {
		for _, e := range p.needs {
			if c.met[e] == "" {
				needs = append(needs, e.Need.A+" to "+e.Need.B+": "+e.Need.Kind)
			}
		}
	}
	var out []record.Field
	add := func(name string, l []string) {
		if len(l) > 0 {
			out = append(out, record.Field{Name: name, Value: fmt.Sprintf("%d: %s", len(l), strings.Join(l, ", "))})
		}
	}
	add("facts without a page", facts)
	add("pins without a net", pins)
	add("needs without a part", needs)
	if p.checked == "" {
		out = append(out, record.Field{Name: GapSecondPerson, Value: "none has compared it with the sheet"})
	}
	return out
}

// GapSecondPerson is the note of a part that nobody but its author has compared
// with its sheet.
const GapSecondPerson = "not checked by a second person"

// GapNames are the names of the notes of a part's record that say what its
// note lacks, in the order they are listed.
func GapNames() []string {
	return []string{"facts without a page", "pins without a net", "needs without a part", GapSecondPerson}
}
