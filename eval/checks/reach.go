package checks

import (
	"slices"
	"strings"

	"guardband/eval"
	"guardband/eval/circuit"
)

// This file says what hangs together with a net without passing a supply: which
// pins may set its level, and by what. The level itself is the network's.

// presumeResting presumes that nobody presses a switch nor plugs something in.
func presumeResting(r *circuit.Reach, cl *eval.Claim) {
	if len(r.Plugs) > 0 {
		cl.Presume("nothing is plugged into " + strings.Join(r.Plugs, ", ") + " that drives or draws current on " + r.Nets[0].Name)
	}
}

// letGo are the states in which outputs let go of a net where they can, and
// nothing is plugged in nor pressed; by is one that does not, in its state. An
// output that cannot is in the state rest, "" for any.
func letGo(r *circuit.Reach, by circuit.Joint, state, rest string) func(*eval.Drive) []string {
	return func(x *eval.Drive) []string {
		switch {
		case x.What == eval.AnOutput && x.At == by && state == eval.Sinking && !x.Has(state):
			return []string{"low"}
		case x.What == eval.AnOutput && x.At == by:
			return []string{state}
		case x.What == eval.AnOutput && x.Has("off"):
			return []string{"off"}
		case x.What == eval.AnOutput && rest != "" && x.Has(rest):
			return []string{rest}
		case x.What == eval.APlug:
			return []string{"free"}
		case x.What == eval.ASwitch && slices.Contains(r.Buttons, x.Comp):
			return []string{"open"}
		}
		return nil
	}
}
