package eval

import (
	"strings"

	"guardband/eval/record"
)

// supplySequence asks that supplies rise in the order a part asks for.
var supplySequence = &builtin{
	name: "sequence",
	rule: "Where the row of a supply pin says `after PIN` or `before PIN` behind a comma, the circuit makes the supplies rise in that order: " +
		"the later one is regulated from the earlier, or enabled by it or by its power-good output. Pins on one net rise together. In no state of `states:` is the later one up while the earlier is down.",
	source: "supply sequence of the part's own sheet",
	run: func(c *compiler, b *builtin) {
		for _, m := range c.placedParts() {
			names := subjects(m)
			for _, q := range m.part.pins {
				for _, o := range q.row.More {
					word, other, _ := strings.Cut(strings.TrimSpace(o.S), " ")
					if word == "after" || word == "before" {
						c.sequenceOf(b, m, q, word, strings.TrimSpace(other), names[q])
					}
				}
			}
		}
	},
}

func (c *compiler) sequenceOf(b *builtin, m *component, q *pin, word, other, subject string) {
	cl := c.builtClaim(b, subject, "The supply at "+q.row.Name+" of "+m.label()+" rises "+word+" that at "+other+".", q.entry)
	pins := m.part.pinsNamed(other)
	if len(pins) == 0 {
		cl.lacks("no fact", "part "+m.part.id+" has no pin `"+other+"`", hintNear(other, m.part.pinNames()))
		return
	}
	first, later := m.pinNets[pins[0]], m.pinNets[q]
	if word == "before" {
		first, later = later, first
	}
	switch {
	case first == nil || later == nil:
		cl.lacks("no net", "one of the two pins has no net", "join both pins")
	case first == later:
		cl.settle(record.Passed, "both stand on "+first.name)
	case first.standsAs() == later.standsAs():
		cl.settle(record.Passed, first.name+" and "+later.name+" hang on "+first.standsAs().name+" and rise with it")
	case c.needs(later)[first]:
		cl.settle(record.Passed, later.name+" cannot be up before "+first.name+", by what feeds and enables it")
	case len(c.surelyApart(later, first)) > 0:
		cl.settle(record.Failed, "in state "+strings.Join(c.surelyApart(later, first), ", ")+" "+later.name+" is up and "+first.name+" is down")
	case c.needs(first)[later]:
		cl.settle(record.Failed, first.name+" cannot be up before "+later.name+", by what feeds and enables it")
	default:
		cl.lacks("no fact", "the circuit does not say whether "+first.name+" is up before "+later.name, "enable the later supply by the earlier one, or skip this with the reason why they rise in order")
	}
}
