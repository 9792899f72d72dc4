package eval

import (
	"fmt"
	"slices"
	"strings"

	"guardband/eval/circuit"
	"guardband/notebook"
)

// This file tells which supplies are up in each operating state. A row of
// `states:` names what it knows: a supply by its net or by the part that makes
// it, `off` where it is down and anything else where it is up. What needs a
// supply that is down is down, what a supply that is up needs is up; of the
// rest nothing is said.

// checkStates complains of rows that speak of nothing on the board.
func (c powers) checkStates() {
	for _, b := range c.stateRows() {
		c.checkGiven(b)
		for _, t := range b.Value.List() {
			f := strings.Fields(t.S)
			if len(f) != 2 || strings.Contains(t.S, "=") {
				continue // told when it was read, or a value
			}
			_, part := c.Comps.Get(f[0])
			_, net := c.Nets.Get(f[0])
			rows := c.budgetRows(f[0])
			isSupply := net || c.makesSupply(f[0])
			switch {
			case !part && !net && len(rows) == 0:
				among := append(append(c.Comps.Names(), c.Nets.Names()...), c.budgetRefs()...)
				c.diagnose(notebook.Err, "state-part", t, "state `"+b.Arg+"` speaks of `"+f[0]+
					"`, which is neither a placed part nor a net", notebook.HintNear(f[0], among))
			case isSupply && len(rows) == 0 && f[1] != "on" && f[1] != "off":
				c.diagnose(notebook.Warn, "state-row", t, "a state sets a supply on or off; `"+f[1]+"` says nothing of "+
					f[0], notebook.HintNear(f[1], []string{"on", "off"}))
			case len(rows) > 0 && !slices.Contains(rows, f[1]) && !(isSupply && (f[1] == "on" || f[1] == "off")):
				c.diagnose(notebook.Warn, "state-row", t, "no budget has a row `"+f[1]+"` of "+f[0]+
					"; it is taken at its largest row", stateHint(f[1], rows))
			}
		}
	}
}

// makesSupply says that a placed part has a supply output, so that a state may
// say whether it is on.
func (c powers) makesSupply(ref string) bool {
	m, ok := c.Comps.Get(ref)
	return ok && m.Part != nil && m.Part.HasSupplyOutput()
}

func stateHint(word string, rows []string) string {
	if h := notebook.HintNear(word, append([]string{"on", "off"}, rows...)); h != "" {
		return h
	}
	return "its rows are " + strings.Join(rows, ", ")
}

// stateRows are the rows of `states:`, in the order written.
func (c powers) stateRows() []*notebook.Entry {
	var out []*notebook.Entry
	for _, n := range c.book.Notebooks {
		for _, b := range n.Blocks {
			if b.Kind != "design" {
				continue
			}
			for _, e := range b.Entries {
				if e.Label == "states" {
					out = append(out, e.Rows...)
				}
			}
		}
	}
	return out
}

// budgetRows are the rows that the budgets give a load.
func (c powers) budgetRows(ref string) []string {
	var out []string
	for _, b := range c.budgets {
		for _, l := range b.loads {
			if l.row.Ref == ref && l.row.State != "" {
				out = circuit.AddTo(out, l.row.State)
			}
		}
	}
	return out
}

func (c powers) budgetRefs() []string {
	var out []string
	for _, b := range c.budgets {
		for _, l := range b.loads {
			out = append(out, l.row.Ref)
		}
	}
	return out
}

// power is what is known of a supply in a state.
type power uint8

const (
	unsaidPower power = iota
	up
	down
)

// saidOf is what a state says of a net itself: by its name, or by the part
// that makes it.
func (c powers) saidOf(n *circuit.Net, state string) power {
	if k := c.opt.in.gives(n); k != nil {
		if c.opt.in.off[k.Name] {
			return down
		}
		return up
	}
	in := c.design.stateOf[state]
	for _, name := range append([]string{n.Name}, n.Names...) {
		if w := in[name]; w != "" {
			return c.powerOf(name, w)
		}
	}
	for _, j := range circuit.SupplyOutputs(n) {
		if w := in[j.Comp.Ref]; w != "" {
			return c.powerOf(j.Comp.Ref, w)
		}
	}
	return unsaidPower
}

// powerOf is what the word of a state says of a supply: a row of a budget is
// one in which it is up.
func (c powers) powerOf(name, word string) power {
	switch {
	case word == "off":
		return down
	case word == "on" || slices.Contains(c.budgetRows(name), word):
		return up
	}
	return unsaidPower
}

// powerKey is a supply in a state.
type powerKey struct {
	net   *circuit.Net
	state string
}

// powerIn is what is known of a supply in a state.
func (c powers) powerIn(n *circuit.Net, state string) power {
	p, ok := c.power[powerKey{n, state}]
	if !ok {
		p = c.findPower(n, state)
		c.power[powerKey{n, state}] = p
	}
	return p
}

// saidUp are the supplies that a state itself says are up.
func (c powers) saidUp(state string) []*circuit.Net {
	if c.upIn == nil {
		c.upIn = map[string][]*circuit.Net{}
		for _, s := range c.design.states {
			for _, n := range c.Nets.List {
				if c.saidOf(n, s) == up {
					c.upIn[s] = append(c.upIn[s], n)
				}
			}
		}
	}
	return c.upIn[state]
}

func (c powers) findPower(n *circuit.Net, state string) power {
	if said := c.saidOf(n, state); said != unsaidPower {
		return said
	}
	if c.lostIn(n, state, map[*circuit.Net]bool{}) {
		return down
	}
	if n.Feed != nil && !n.Feed.By.Unsaid() && c.powerIn(n.Feed.From, state) == up {
		return up
	}
	for _, m := range c.saidUp(state) {
		if m != n && c.Needs(m)[n] {
			return up
		}
	}
	return unsaidPower
}

// lostIn says that a supply is down in a state: by what is said of it, else
// because nothing that could feed it is up. A part of several supplies may
// live on any of them, so all must be down.
func (c powers) lostIn(n *circuit.Net, state string, seen map[*circuit.Net]bool) bool {
	if seen[n] {
		return false
	}
	seen[n] = true
	if said := c.saidOf(n, state); said != unsaidPower {
		return said == down
	}
	if n.Feed != nil && !n.Feed.By.Unsaid() && len(n.Feed.Also) == 0 && c.OtherFeeder(n) == "" {
		return c.lostIn(n.Feed.From, state, seen)
	}
	makers := circuit.SupplyOutputs(n)
	for _, j := range makers {
		inputs := 0
		for _, m := range j.Comp.Supplies() {
			if m == n || circuit.IsReturn(m) {
				continue
			}
			if inputs++; !c.lostIn(m, state, seen) {
				return false
			}
		}
		if inputs == 0 {
			return false
		}
	}
	return len(makers) > 0
}

// ApartIn are the states in which one supply may be up while another is down:
// sure where both are said to be so, unsaid where nothing tells. ok is false
// where the design names no such states.
func (c answers) ApartIn(live, dead *circuit.Net) (sure, unsaid []string, ok bool) {
	states := powers(c).judgedStates()
	if len(c.design.stateOf) == 0 || len(states) == 0 {
		return nil, nil, false
	}
	for _, s := range states {
		l, d := powers(c).powerIn(live, s), powers(c).powerIn(dead, s)
		switch {
		case l == down || d == up:
		case l == up && d == down:
			sure = append(sure, s)
		default:
			unsaid = append(unsaid, s)
		}
	}
	return sure, unsaid, true
}

// OffIn is a state in which a supply is off, "" where none is noted; now says that
// it is the one which is worked out.
func (c answers) OffIn(n *circuit.Net) (state string, now bool) {
	for _, s := range powers(c).judgedStates() {
		if powers(c).powerIn(n, s) == down {
			return s, c.opt.in != nil
		}
	}
	return "", false
}

// Unsaid words what a state leaves open of two supplies, and the line to write
// for it.
func (c answers) Unsaid(live, dead *circuit.Net, state string) (text, hint string) {
	var nets, lines []string
	for _, n := range []*circuit.Net{dead, live} {
		if powers(c).powerIn(n, state) == unsaidPower {
			name := n.Name
			if s := circuit.SupplyOutputs(n.Head()); len(s) > 0 {
				name = s[0].Comp.Ref
			}
			nets, lines = append(nets, n.Name), append(lines, name+" on")
		}
	}
	return fmt.Sprintf("state `%s` does not set whether %s is up", state, strings.Join(nets, " and ")),
		fmt.Sprintf("add it to the design block: `%s: ..., %s` (or `off`)", state, strings.Join(lines, ", "))
}
