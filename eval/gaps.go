package eval

import (
	"fmt"
	"strings"

	"guardband/eval/circuit"
	"guardband/eval/record"
)

// gaps lists what a part's note still lacks, as notes of its record: facts
// without a page, pins without a net, needs that nothing meets, and whether a
// second person has compared it with the sheet.
func (c recorder) gaps(p *circuit.Part) []record.Field {
	var facts, pins, needs []string
	seen := map[string]bool{}
	for _, f := range p.FactOrder {
		for _, e := range f.Rows {
			if len(e.Cites) == 0 && !seen[f.Name] {
				seen[f.Name] = true
				facts = append(facts, f.Section+" "+f.Name)
			}
		}
	}
	for _, m := range p.Placed {
		if m.NotFitted() {
			continue
		}
		for _, q := range p.Pins {
			if m.PinNets[q] == nil && !circuit.MayStayOpen(q) && !m.Bare[q] {
				pins = append(pins, m.Ref+"."+q.Row.Name)
			}
		}
	}
	if len(p.Placed) > 0 {
		for _, e := range p.Needs {
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
	if p.Checked == "" {
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
