package checks

import (
	"guardband/eval"
	"guardband/eval/circuit"
	"guardband/eval/record"
)

// resetsAlong asks that the outputs and inputs of a reset on one line mean the
// same level by it.
func resetsAlong(c *board, b *eval.Check, wire []*circuit.Net) {
	var outputs, inputs []circuit.Joint
	for _, n := range wire {
		for _, j := range n.PinsOf() {
			switch isReset := j.Pin.Has("reset") || isResetName(j.Pin.Row.Name); {
			case !isReset:
			case j.Pin.Row.Type == "output":
				outputs = append(outputs, j)
			case j.Pin.OnlyReads():
				inputs = append(inputs, j)
			}
		}
	}
	if len(outputs) == 0 || len(inputs) == 0 {
		return
	}
	n := wire[0]
	cl := c.Claim(b, n.Name, "The pins on "+n.Name+" reset by the same level.", outputs[0].Pin.Entry)
	for _, out := range outputs {
		for _, in := range inputs {
			switch a, z := resetLevel(out), resetLevel(in); {
			case a == z || a == "low" && z == "":
			case a != "" && z != "":
				cl.Settle(record.Failed, out.Name()+" resets by a "+a+" level, "+in.Name()+" by a "+z+" one")
			case in.Pin.Has("active low") || z == "high":
				cl.Lacks("no fact", in.Name()+" resets by a "+z+" level; whether "+out.Name()+" makes one is not noted",
					"flag the output `active low` if it is, or say `active high` in the title of its part")
			}
		}
	}
	if len(cl.Out.Open)+len(cl.Out.Criteria) == 0 {
		cl.Settle(record.Passed, pinNames(outputs)+" and "+pinNames(inputs)+" agree")
	}
}

// resetLevel is the level by which a pin resets, "" where neither its flags nor
// its name nor the title of its part say.
func resetLevel(j circuit.Joint) string {
	switch {
	case activeLow(j.Pin), j.Pin.OnlyPullsLow():
		return "low"
	case j.Comp.Says("active high", "active-high"):
		return "high"
	}
	return ""
}
