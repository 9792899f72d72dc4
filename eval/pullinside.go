package eval

// pullsInside are the pull-ups inside the parts on a net. A pull stands for its
// fact: its designator is the name of the resistance in a formula. known is
// false, and the claim open, where a pull inside is flagged and not enough is
// noted to reckon with it.
func (c *compiler) pullsInside(cl *claim, n *net, pins []joint) (pulls []resistor, known bool) {
	known = true
	for _, j := range pins {
		switch {
		case j.pin.has("pull-down"), j.pin.has("keeper"):
			cl.entries = append(cl.entries, j.pin.entry)
			cl.lacks("no fact", "the pull inside "+j.name()+" may work against the pull-up of "+n.name+", so its level is not known", "claim the level with the figures of that pull, and skip this check with the reason")
			known = false
		case j.pin.has("pull-up"):
			cl.entries = append(cl.entries, j.pin.entry)
			_, r := c.pinFact(j.comp, "spec", j.pin, dimOhm, "R_PU", "R_PULL")
			supply := c.supplyOf(j.comp, j.pin)
			if r == "" || supply == nil || !c.voltageKnown(supply) {
				cl.lacks("no fact", "the resistance of the pull-up inside "+j.name()+", or the supply it pulls to, is not noted", "note `spec R_PU = ...` in part "+j.comp.part.id+", and the voltage of its supply")
				known = false
				continue
			}
			pulls = append(pulls, resistor{&component{ref: r}, supply})
		}
	}
	return pulls, known
}
