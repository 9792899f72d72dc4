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
// `reversed: V_BAT = -16 V to 0 V`, and those in which a supply is off. The whole
// design is worked out again in each. A supply that is given zero, or turned round,
// is off, and with it what is made of it: then only what parts withstand is asked.
// Where the row says `V_BAT off`, what needs no supply that is off has to work on.

// stateCheck is what the record has of such a state.
var stateCheck = &Check{
	Name: "state",
	Rule: "In a state that gives nets their values every claim of a built-in check holds too; where a supply is at " +
		"zero or turned round, those of what parts withstand: " +
		"maximum ratings, pins above their supply, back-powering, and the ratings of resistors, capacitors, " +
		"diodes, lights, coils, suppressors, cells and transistors. Where a row says that a supply is off, the " +
		"parts that have another supply still work: all other claims. The whole design is worked out again with " +
		"the values; what is made of a supply that is off is at 0 V, if nothing else feeds it.",
	Source: "common practice",
}

// inState is the state in which a run takes the values of nets.
type inState struct {
	name  string
	conds []notebook.Cond
	off   map[string]bool // values by which a supply is at zero or turned round
	said  bool            // the row says that supplies are off, and gives no values
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
	for _, m := range c.Comps.List {
		if m.Part == nil {
			continue
		}
		s := m.Supplies()
		m.Asleep = c.opt.in.said && len(s) > 0 && !slices.ContainsFunc(s, func(n *circuit.Net) bool {
			return c.fedBesides(n) || c.powerIn(n, c.opt.in.name) != down
		})
	}
}

// fedBesides says that a supply which no part makes any more in the state of a
// run is fed by a diode, transistor or coil.
func (c powers) fedBesides(n *circuit.Net) bool {
	return c.lost[n] && slices.ContainsFunc(n.Joined, func(j circuit.Joint) bool {
		m := j.Comp
		from, to := m.NetworkEnds()
		if from == n && !m.IsJunction() {
			from, to = to, from
		}
		return !m.NotFitted() && to == n && from != nil && !circuit.IsReturn(from) && !c.lost[from] &&
			(m.IsJunction() || m.IsTransistor() || m.Sort() == "inductor")
	})
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
// values, or in which a supply is off.
func (c chooser) valueStates() {
	if c.opt.in != nil {
		return // this is such a run
	}
	for _, s := range c.design.states {
		if row := c.design.given[s]; row != nil {
			c.valueState(&inState{name: s, conds: row.Conds, off: map[string]bool{}}, row)
		} else if in := c.offIn(s); in != nil {
			i := slices.IndexFunc(powers(c).stateRows(), func(e *notebook.Entry) bool { return e.Arg == s })
			c.valueState(in, powers(c).stateRows()[i])
		}
	}
}

// offIn is a state by whose words a supply is off, nil where none is.
func (c chooser) offIn(s string) *inState {
	in, some := &inState{name: s, off: map[string]bool{}, said: true}, false
	for _, n := range c.Nets.List {
		if powers(c).powerIn(n, s) != down {
			continue
		}
		y, given := c.values.Get(n.Name)
		given = given && y.val.Class == formula.Number && y.val.Type == circuit.Volt
		if some = some || given || len(n.Drivers()) > 0; given {
			in.off[n.Name] = true
			in.conds = append(in.conds, notebook.Cond{Name: n.Name, Op: "=", NameText: notebook.Text{S: n.Name},
				Value: notebook.Text{S: "0 V"}})
		}
	}
	if !some {
		return nil
	}
	return in
}

func (c chooser) valueState(in *inState, row *notebook.Entry) {
	s := in.name
	for i := range in.conds {
		if !in.said && !c.readGiven(in, &in.conds[i]) {
			return
		}
	}
	says := ", every part is within its limits."
	if in.said {
		says = ", the parts that are on work."
	}
	cl := c.Claim(stateCheck, s, "In state `"+s+"`, "+row.Trimmed()+says, row)
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
		case now.kind != "built-in" || notOfAlternates(now.check.Name) || in.said && (now.check.Withstands || now.check == LimitCoverage) ||
			!in.said && len(in.off) > 0 && !now.check.Withstands:
		case v == record.Passed:
			judged++
		case known && in.said && rankOf(&now.Out) <= rankOf(&old.Out): // told there
		case known && v == verdictOf(&old.Out) && now.Out.Headline == old.Out.Headline:
			same, worst = append(same, now.id), worse(worst, v)
		default:
			cl.Settle(v, now.id+": "+now.Out.Headline+now.broken())
			for _, p := range now.openPoints() {
				cl.Lacks(p.Reason, now.id+": "+p.Text, p.Settle)
			}
		}
	}
	if len(same) > 0 {
		cl.Settle(worst, "as without it: "+circuit.SomeOf(same, 3))
	}
	if judged > 0 || in.said {
		cl.Settle(record.Passed, fmt.Sprintf("claims that hold in it: %d", judged))
	} else if len(cl.Out.Criteria) == 0 {
		cl.Lacks("nothing stated", "no claim speaks of a limit in it", "note the maximum ratings of the parts")
	}
	judge(c).conclude(cl)
}

// broken is the first comparison of a claim that does not hold.
func (cl *Claim) broken() string {
	for _, k := range cl.Out.Criteria {
		if k.Verdict != record.Failed {
			continue
		}
		for _, t := range k.Tests {
			if t.Verdict == record.Failed {
				return ", " + t.Text + ": " + t.Left.Shown + " " + t.Op + " " + t.Right.Shown
			}
		}
		return ", " + cmp.Or(k.CornerText, k.Text)
	}
	return ""
}

// readGiven reads one value of a state: a voltage, and whether the supply is off by it.
func (c chooser) readGiven(in *inState, k *notebook.Cond) bool {
	y, ok := c.values.Get(k.Name)
	if !ok {
		return false // told when it was read
	}
	z := &symbol{name: k.Name, entry: &notebook.Entry{Text: k.Text}}
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
