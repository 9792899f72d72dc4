package eval

import (
	"strings"

	"guardband/eval/circuit"
)

// This file says what hangs together with a net without passing a supply: which
// pins may set its level, and by what. The level itself is the network's.

// presumeResting presumes that nobody presses a switch nor plugs something in.
func presumeResting(r *circuit.Reach, cl *claim) {
	if len(r.Plugs) > 0 {
		cl.presume("nothing is plugged into " + strings.Join(r.Plugs, ", ") + " that brings or takes current on " + r.Nets[0].Name)
	}
}

// letGo are the states in which outputs let go of a net where they can, and
// nothing is plugged in nor pressed; by is one that does not, in its state. An
// output that cannot is in the state rest, "" for any.
func letGo(r *circuit.Reach, by circuit.Joint, state, rest string) func(*drive) []string {
	return func(x *drive) []string {
		switch {
		case x.what == anOutput && x.at == by:
			return []string{state}
		case x.what == anOutput && x.has("off"):
			return []string{"off"}
		case x.what == anOutput && rest != "" && x.has(rest):
			return []string{rest}
		case x.what == aPlug:
			return []string{"free"}
		case x.what == aSwitch && holds(r.Buttons, x.comp):
			return []string{"open"}
		}
		return nil
	}
}
