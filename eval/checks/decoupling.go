package checks

import (
	"guardband/eval"
	"guardband/eval/circuit"
	"guardband/eval/record"
)

// decoupling asks for a capacitor at every supply pin. Its claims are made
// with those of the application circuits, so that one capacitor is not counted
// for two pins.
var decoupling = &eval.Check{
	Name: "decoupling",
	Rule: "Between the net of each supply pin and ground is a capacitor that is not counted for another pin. A part of a single supply that notes its capacitors in its application circuit is judged there. A part whose ground pin is not noted and joined is open. " +
		"Where the sheet states no value, 10 nF or more passes; less than 1 nF fails, and what is between, or electrolytic, is open. " +
		"Whether the capacitor is close to its pin must be inspected.",
	Source: "common practice",
	Run:    on(func(*board, *eval.Check) {}),
}

func decouplingClaims(c *board, needs []*need) {
	names := map[*circuit.Component]map[*circuit.Pin]string{}
	for _, n := range needs {
		if n.pin == nil || !wantsDecoupling(n.m) {
			continue
		}
		if n.bad != "" {
			if names[n.m] == nil { // once a part
				cl := c.Claim(decoupling, n.m.Ref, "The supply pins of "+n.m.Label()+" have capacitors of their own.", n.m.Entry)
				cl.Lacks("no fact", n.bad+", so it is not known where its capacitors return to",
					"note its ground pin and join it, or note `application: none` if it needs none")
			}
			names[n.m] = map[*circuit.Pin]string{}
			continue
		}
		if names[n.m] == nil {
			names[n.m] = subjects(n.m)
		}
		cl := c.Claim(decoupling, names[n.m][n.pin], "Supply pin "+n.pin.Row.Name+" of "+n.m.Label()+" has a capacitor of its own.", n.entry)
		if n.met == nil {
			cl.Settle(record.Failed, "no capacitor is left for it between "+n.a.Name+" and "+n.b.Name+whatStands(c, n))
			continue
		}
		cl.Entries = append(cl.Entries, n.met.Entry)
		decoupled(c, cl, n)
	}
}

// decoupled judges the size of a capacitor of which the sheet states none.
func decoupled(c *board, cl *eval.Claim, n *need) {
	m, s := n.met, sizesOf(c, n.met)
	settle := "note the row of the application circuit that it answers (`" + n.row.A + " " + n.b.Name + " capacitor ...`), or place 10 nF or more"
	switch {
	case !s.known:
		cl.Lacks("no value", "the value of "+m.Ref+" is not stated", "give its row a value")
	case s.bulk:
		cl.Lacks("no fact", m.Ref+" is electrolytic, made to store charge: at high frequencies it does little", settle)
	case n.suits(s) < 2:
		cl.Lacks("no fact", m.Ref+" is "+valueText(m)+", less than the 10 nF that are usual at a supply pin", settle)
	default:
		cl.Settle(record.Passed, m.Ref+" is between "+n.a.Name+" and "+n.b.Name)
	}
}

// wantsDecoupling leaves out what is a load and no circuit: two pins and a
// supply, such as a fan or a lamp, and parts that need nothing by their note.
func wantsDecoupling(m *circuit.Component) bool {
	if e := m.Part.Attrs["application"]; e != nil && e.Trimmed() == "none" {
		return false
	}
	return len(m.Pins()) > 2
}
