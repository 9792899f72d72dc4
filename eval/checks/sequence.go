package checks

import (
	"strings"

	"guardband/eval"
	"guardband/eval/circuit"
	"guardband/eval/record"
	"guardband/notebook"
)

// supplySequence asks that supplies rise in the order a part asks for.
var supplySequence = &eval.Check{
	Name: "sequence",
	Rule: "Where the row of a supply pin says `after PIN` or `before PIN` behind a comma, the circuit makes the supplies rise in that order: " +
		"the later one is regulated from the earlier, or enabled by it or by its power-good output. Pins on one net rise together. In no state of `states:` is the later one up while the earlier is down.",
	Source: "supply sequence of the part's own sheet",
	Run: on(func(c *board, b *eval.Check) {
		for _, m := range c.PlacedParts() {
			names := subjects(m)
			for _, q := range m.Pins() {
				for _, o := range q.Row.More {
					word, other, _ := strings.Cut(strings.TrimSpace(o.S), " ")
					if word == "after" || word == "before" {
						sequenceOf(c, b, m, q, word, strings.TrimSpace(other), names[q])
					}
				}
			}
		}
	}),
}

func sequenceOf(c *board, b *eval.Check, m *circuit.Component, q *circuit.Pin, word, other, subject string) {
	cl := c.Claim(b, subject, "The supply at "+q.Row.Name+" of "+m.Label()+" rises "+word+" that at "+other+".", q.Entry)
	pins := m.PinsNamed(other)
	if len(pins) == 0 {
		cl.Lacks("no fact", "part "+m.Part.ID+" has no pin `"+other+"`", notebook.HintNear(other, m.Part.PinNames()))
		return
	}
	first, later := m.PinNets[pins[0]], m.PinNets[q]
	if word == "before" {
		first, later = later, first
	}
	switch {
	case first == nil || later == nil:
		cl.Lacks("no net", "one of the two pins has no net", "join both pins")
	case first == later:
		cl.Settle(record.Passed, "both are on "+first.Name)
	case first.StandsAs() == later.StandsAs():
		cl.Settle(record.Passed, first.Name+" and "+later.Name+" hang on "+first.StandsAs().Name+" and rise with it")
	case c.Needs(later)[first]:
		cl.Settle(record.Passed, later.Name+" cannot be up before "+first.Name+", by what feeds and enables it")
	case len(surelyApart(c, later, first)) > 0:
		cl.Settle(record.Failed, "in state "+strings.Join(surelyApart(c, later, first), ", ")+" "+later.Name+" is up and "+first.Name+" is down")
	case c.Needs(first)[later]:
		cl.Settle(record.Failed, first.Name+" cannot be up before "+later.Name+", by what feeds and enables it")
	default:
		cl.Lacks("no fact", "the circuit does not say whether "+first.Name+" is up before "+later.Name,
			"enable the later supply by the earlier one, or skip this with the reason why they rise in order")
	}
}

// surelyApart are the states that say that one supply is up and another down.
func surelyApart(c *board, live, dead *circuit.Net) []string {
	sure, _, _ := c.ApartIn(live, dead)
	return sure
}
