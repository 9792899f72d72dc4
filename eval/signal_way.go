package eval

import "strings"

// divided words the level that a source makes on a net through one resistor
// against the pulls of the net, and the resistance that a current into the net
// works on.
func (c *compiler) divided(n *net, source string, by resistor) (level, par string) {
	var pulls []resistor
	for _, r := range c.pulls(n) {
		if c.ohms(r.comp) && (isReturn(r.other) || c.voltageKnown(r.other)) {
			pulls = append(pulls, r)
		}
	}
	if len(pulls) == 0 {
		return source, by.comp.ref
	}
	all := append([]resistor{by}, pulls...)
	sum, down := []string{source + " / " + by.comp.ref}, []string{}
	for _, r := range pulls {
		if !isReturn(r.other) {
			sum = append(sum, c.netText(r.other)+" / "+r.comp.ref)
		}
	}
	for _, r := range all {
		down = append(down, "1 / "+r.comp.ref)
	}
	return "(" + strings.Join(sum, " + ") + ") / (" + strings.Join(down, " + ") + ")", parallel(all)
}
