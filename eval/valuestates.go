package eval

import (
	"cmp"
	"fmt"
	"slices"

	"guardband/eval/circuit"
	"guardband/eval/formula"
	"guardband/eval/record"
	"guardband/notebook"
)

// This file judges the states that give nets their values, as
// `reversed: V_BAT = -16 V to 0 V`. The whole design is worked out again in each.
// A supply that is at zero there, or turned round, is off, and with it what is
// made of it: then only what parts withstand is asked.

// stateCheck is what the record has of such a state.
var stateCheck = &Check{
	Name: "state",
	Rule: "In a state that gives nets their values every claim of a built-in check holds too; where a supply is at " +
		"zero or turned round, those of what parts withstand: " +
		"maximum ratings, pins above their supply, back-powering, and the ratings of resistors, capacitors, " +
		"diodes, lights, coils, suppressors, cells and transistors. The whole design is worked out again with " +
		"the values; what is made of a supply that is off is at 0 V.",
	Source: "common practice",
}

// inState is the state in which a run takes the values of nets.
type inState struct {
	name  string
	conds []notebook.Cond
	off   map[string]bool // values by which a supply is at zero or turned round
}

// gives is the value that the state gives a net, nil without.
func (s *inState) gives(n *circuit.Net) *notebook.Cond {
	if s == nil {
		return nil
	}
	for i := range s.conds {
		if n.GoesBy(s.conds[i].Name) {
			return &s.conds[i]
		}
	}
	return nil
}

// judgedStates are the states that a run judges: those without values of their
// own, or the one whose values it takes.
func (c powers) judgedStates() (out []string) {
	if c.opt.in != nil {
		return []string{c.opt.in.name}
	}
	for _, s := range c.design.states {
		if c.design.given[s] == nil {
			out = append(out, s)
		}
	}
	return out
}

// findLost finds the supplies that parts make no more in the state of a run.
func (c powers) findLost() {
	if c.opt.in == nil {
		return
	}
	lost := map[*circuit.Net]bool{}
	for _, n := range c.Nets.List {
		lost[n] = c.opt.in.gives(n) == nil && len(n.Drivers()) > 0 && c.powerIn(n, c.opt.in.name) == down
	}
	c.lost, c.netSymbols = lost, map[*circuit.Net]*symbol{}
}

// checkGiven complains of values that a state gives to what has none.
func (c powers) checkGiven(row *notebook.Entry) {
	for i := range row.Conds {
		k := &row.Conds[i]
		_, isNet := c.Nets.Get(k.Name)
		if _, ok := c.values.Get(k.Name); !ok || !isNet {
			c.diagnose(notebook.Err, "state-value", k.Text, "state `"+row.Arg+"` gives `"+k.Name+
				"` a value, which is not a net with a value in the notes",
				cmp.Or(notebook.HintNear(k.Name, c.values.Names()), "give it one in a `values` block first; of what a part makes say `U2 off`"))
		}
	}
}

// valueStates works the design out again in each state that gives nets their
// values.
func (c chooser) valueStates() {
	if c.opt.in != nil {
		return // this is such a run
	}
	for _, s := range c.design.states {
		if row := c.design.given[s]; row != nil {
			c.valueState(s, row)
		}
	}
}

func (c chooser) valueState(s string, row *notebook.Entry) {
	in := &inState{name: s, conds: row.Conds, off: map[string]bool{}}
	for i := range in.conds {
		if !c.readGiven(in, &in.conds[i]) {
			return
		}
	}
	cl := c.Claim(stateCheck, s, "In state `"+s+"`, "+row.Trimmed()+", every part is within its limits.", row)
	if c.work.retried += len(c.claims); c.work.retried > mostRetried {
		cl.Lacks("budget", fmt.Sprintf("the states of this design ask to work out more than %d claims again", mostRetried), "name fewer of them")
		judge(c).conclude(cl)
		return
	}
	opt := c.opt
	opt.in = in
	x := compile(c.again(opt))
	judged, same, worst := 0, []string(nil), record.Passed
	for _, now := range x.claims {
		old, known := c.claimIndex.Get(now.id)
		switch v := verdictOf(&now.Out); {
		case known && slices.Contains(now.Out.States, s):
			c.takeOver(old, now, s)
		case now.kind != "built-in" || notOfAlternates(now.check.Name) || len(in.off) > 0 && !now.check.Withstands:
		case v == record.Passed:
			judged++
		case known && v == verdictOf(&old.Out) && now.Out.Headline == old.Out.Headline:
			same, worst = append(same, now.id), worse(worst, v)
		default:
			cl.Settle(v, now.id+": "+now.Out.Headline)
		}
	}
	if len(same) > 0 {
		cl.Settle(worst, "as without it: "+circuit.SomeOf(same, 3))
	}
	if judged > 0 {
		cl.Settle(record.Passed, fmt.Sprintf("claims that hold in it: %d", judged))
	} else if len(cl.Out.Criteria) == 0 {
		cl.Lacks("nothing stated", "no claim speaks of a limit in it", "note the maximum ratings of the parts")
	}
	judge(c).conclude(cl)
}

// readGiven reads one value of a state: a voltage, and whether the supply is off by it.
func (c chooser) readGiven(in *inState, k *notebook.Cond) bool {
	y, ok := c.values.Get(k.Name)
	if !ok {
		return false // told when it was read
	}
	z := &symbol{name: k.Name, entry: &notebook.Entry{Text: k.Text, Further: &notebook.Further{}}}
	z.define = func(y *symbol) { bench(c).defineUse(y, k) }
	c.lower(z)
	if y.val.Class != formula.Number || z.val.Class != formula.Number {
		return false
	}
	if z.val.Type != circuit.Volt || y.val.Type != circuit.Volt {
		c.diagnose(notebook.Err, "state-value", k.Text, "`"+k.Name+"` is not given a direct voltage here", "write V_BAT = -16 V to 0 V")
		return false
	}
	usual, now := judge(c).rangeOf(y.val.Reg), judge(c).rangeOf(z.val.Reg)
	if usual.Lo.Outer >= 0 && now.Hi.Outer <= 0 || usual.Hi.Outer <= 0 && now.Lo.Outer >= 0 {
		in.off[k.Name] = true
	}
	return true
}

// takeOver gives a written claim that names a state its verdict there: the
// only one where it names no others, else the worse.
func (c chooser) takeOver(old, now *Claim, s string) {
	only := old.Out.States[0] == s && !slices.ContainsFunc(old.Out.States, func(o string) bool { return c.design.given[o] == nil })
	if only || rankOf(&now.Out) > rankOf(&old.Out) {
		old.Out = now.Out
	}
}
