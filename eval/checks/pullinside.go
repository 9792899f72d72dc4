package checks

import (
	"guardband/eval"
	"guardband/eval/circuit"
)

// pullsInside are the pull-ups inside the parts on a net. A pull stands for its
// fact: its designator is the name of the resistance in a formula. known is
// false, and the claim open, where a pull inside is flagged and not enough is
// noted to reckon with it.
func pullsInside(c *board, cl *eval.Claim, n *circuit.Net, pins []circuit.Joint) (pulls []circuit.Resistor, known bool) {
	known = true
	for _, j := range pins {
		switch {
		case j.Pin.Has("pull-down"), j.Pin.Has("keeper"):
			cl.Entries = append(cl.Entries, j.Pin.Entry)
			cl.Lacks("no fact", "the pull inside "+j.Name()+" may work against the pull-up of "+n.Name+", so its level is not known", "claim the level with the figures of that pull, and skip this check with the reason")
			known = false
		case j.Pin.Has("pull-up"):
			cl.Entries = append(cl.Entries, j.Pin.Entry)
			_, r := c.PinFact(j.Comp, "spec", j.Pin, circuit.DimOhm, "R_PU", "R_PULL")
			supply := c.SupplyOf(j.Comp, j.Pin)
			if r == "" || supply == nil || !c.VoltageKnown(supply) {
				cl.Lacks("no fact", "the resistance of the pull-up inside "+j.Name()+", or the supply it pulls to, is not noted", "note `spec R_PU = ...` in part "+j.Comp.Part.ID+", and the voltage of its supply")
				known = false
				continue
			}
			pulls = append(pulls, circuit.Resistor{Comp: &circuit.Component{Ref: r}, Other: supply})
		}
	}
	return pulls, known
}
