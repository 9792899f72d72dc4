package eval

import (
	"slices"

	"guardband/eval/bound"
	"guardband/eval/circuit"
	"guardband/eval/network"
	"guardband/units"
)

// This file judges criteria that ask the network. Where all that is asked has
// one formula it takes the place of the quantity, and the criterion is one
// like others; else it is judged over the cases of the network.

// askNetwork puts what the network says into every criterion that asks it.
func (c judge) askNetwork(all []*Claim) {
	if len(c.asks) == 0 {
		return
	}
	for _, cl := range all {
		for _, k := range cl.Crit {
			if !k.bad && len(c.askedIn(k.comp.Reg)) > 0 {
				if c.network != nil {
					c.network.n.Question()
				}
				fault := isolate(func() { c.askCriterion(cl, k) })
				if fault != "" {
					c.claimFault(cl, fault)
					k.bad = true
				}
			}
		}
	}
}

// askedIn are the questions of a formula.
func (c judge) askedIn(r bound.Reg) (out []*question) {
	for _, i := range c.b.Vars(r) {
		if q := c.asks[i]; q != nil {
			out = append(out, q)
		}
	}
	return out
}

// answered puts the quantities of the network in the place of the inputs that
// stand for them, and notes what they rest on.
func (c judge) answered(r bound.Reg) (put func(bound.Reg) bound.Reg, presumed []string) {
	b := c.boardNetwork()
	sub := map[int]bound.Reg{}
	for _, q := range c.askedIn(r) {
		if x := q.ask(b); x != 0 {
			sub[q.y.input.num] = x
		}
		for _, n := range q.nets {
			i := b.about[b.island(n)]
			for _, y := range i.rests {
				q.y.deps = circuit.AddTo(q.y.deps, y)
			}
			for _, a := range i.assumed {
				presumed = circuit.AddTo(presumed, a)
			}
		}
	}
	return func(r bound.Reg) bound.Reg {
		if r == 0 {
			return 0
		}
		return c.b.Substitute(r, sub)
	}, presumed
}

func (c judge) askCriterion(cl *Claim, k *Criterion) {
	b := c.boardNetwork()
	if why := b.refuses(c.askedIn(k.comp.Reg)); why != "" {
		k.told = &answer{b: b, j: network.Judgement{Why: why}}
		return
	}
	put, presumed := c.answered(k.comp.Reg)
	for _, a := range presumed {
		cl.Presume(a)
	}
	k.comp = k.comp.Put(put)
	among := b.scope(cl, k, false)
	if t := k.comp.Tests; len(t) == 1 && len(k.either) == 0 && k.Once == "" && t[0].Slack != 0 && t[0].Need == 0 {
		if j, ok := b.n.JudgeSum(t[0].Slack, t[0].Op == "<" || t[0].Op == ">", among); ok {
			k.told = &answer{b: b, among: among, j: j}
			return
		}
	}
	if x := b.n.Sole(k.comp.Reg, among); x != nil && k.Once == "" {
		k.comp = k.comp.Put(x.Put)
		return
	}
	k.told = &answer{b: b, among: among}
	switch {
	case k.Once != "":
		k.told.j = b.once(k, among)
	case len(k.either) > 0:
		k.told.j = b.oneOf(k, put, among, b.n.Judge(k.comp.Reg, among))
	default:
		rest := b.scope(cl, k, true)
		if slices.Equal(rest.Only, among.Only) {
			k.told.j = b.n.Judge(k.comp.Reg, among)
			return
		}
		if k.told.j = b.n.Passes(k.comp.Reg, among); k.told.j.Verdict == network.Passed {
			return
		}
		if j := b.n.Judge(k.comp.Reg, rest); j.Verdict == network.Failed {
			k.told.j, k.told.among = j, rest
		} else if c := k.told.j.Case; c != nil { // one of many
			k.told.among.Only = c.States
		}
	}
}

// oneOf judges alternatives of which one has to hold in all states: which of
// them may not change from one state to another. j is of any of them.
func (b *boardNet) oneOf(k *Criterion, put func(bound.Reg) bound.Reg, among network.Scope, j network.Judgement) network.Judgement {
	if j.Verdict != network.Passed && !k.Meant {
		return j
	}
	for i, r := range k.either {
		x := b.n.Judge(put(r), among)
		if x.Verdict == network.Passed {
			return x
		}
		if i == 0 && k.Meant {
			j = x
			continue
		}
		if j.Verdict != network.Undecided && !k.Meant {
			j = x
		}
	}
	return j
}

// answer is what the network says of a criterion.
type answer struct {
	b     *boardNet
	among network.Scope
	j     network.Judgement
}

// scope is the states that a criterion speaks of. What is plugged in, and a
// switch that is neither said to be open nor closed, are anything; sure adds
// that nothing is plugged in, and open and closed, which is less, but sure.
func (b *boardNet) scope(cl *Claim, k *Criterion, sure bool) network.Scope {
	var s network.Scope
	if k.Lone != nil {
		s.Driven, s.Without = true, slices.Concat(b.ofPin[*k.Lone], b.clamps)
	}
	for _, p := range k.Into {
		s.Without, s.With = slices.Concat(s.Without, b.clamps, b.vague[p]), append(s.With, b.takes[p]...)
	}
	for _, x := range b.drives {
		var only []string
		if k.Among != nil {
			only = k.Among(x)
		}
		switch {
		case only != nil:
		case x.What == ASupply:
			only = b.supplyStates(cl, x)
		case x.What == ASwitch && sure && x.Comp.Sort() == "switch": // both occur; a jumper has one
			only = []string{"open", "closed"}
		case x.What == ASwitch:
			only = []string{"either"}
		case x.What == APlug && sure:
			only = []string{"free"}
		case x.What == APlug: // what is plugged in may as well do nothing
			only = []string{"plugged"}
		case x.What == AnOutput && x.At.Pin.Row.Type == "bidirectional" && b.reads(x):
			only = []string{"off"}
		case x.sink != nil:
			for _, state := range x.d.States {
				if state.Name != Sinking {
					only = append(only, state.Name)
				}
			}
		}
		for _, name := range only {
			if x.Has(name) {
				s.Only = append(s.Only, network.Pick{Driver: x.d, State: name})
			}
		}
	}
	return s
}

// once judges a comparison that has to hold in one state alone.
func (b *boardNet) once(k *Criterion, among network.Scope) network.Judgement {
	test := &k.comp.Tests[0]
	e, strict := b.n.Range(test.Slack, among), test.Op == ">"
	none, hangs := e.Why == "" && len(e.States) > 0, ""
	for _, s := range e.States {
		if s.Lo > 0 || s.Lo >= 0 && !strict {
			return network.Judgement{Verdict: network.Passed}
		}
	}
	for _, s := range e.States { // what is costly comes after all that may settle it
		if none && s.Hi >= 0 && (s.Hi > 0 || !strict) {
			none, hangs = b.never(k, s.States)
		}
	}
	if none {
		return network.Judgement{Verdict: network.Failed, Why: k.Once}
	}
	j := b.n.Judge(k.comp.Reg, among)
	if j.Verdict == network.Failed { // in one state, and nothing is shown of others
		if j.Verdict, j.Why = network.Undecided, k.Once+", as far as is known"; hangs != "" {
			j.Why = "with " + hangs + " " + k.Once + "; elsewhere in that range one may"
		}
	}
	return j
}

// never says that a comparison fails in a state, also while what may be switched
// off, a range with zero in it, is on; hangs names what that is otherwise.
func (b *boardNet) never(k *Criterion, states []network.Pick) (none bool, hangs string) {
	j := b.n.Judge(k.comp.Reg, network.Scope{Only: states})
	for i, at := range j.Point {
		in := b.c.inputs[i]
		if s := in.set(); in.sym != nil && !s.Spread && (s.Lo == nil || s.Lo.Sign() <= 0) && (s.Hi == nil || s.Hi.Sign() > 0) {
			if text := in.name + " at " + units.Format(at, in.typ, units.Style{Unit: in.unit, Digits: 3}); hangs == "" || text < hangs {
				hangs = text
			}
		}
	}
	return j.Verdict == network.Failed && hangs == "", hangs
}

// Has says that what drives has a state of that name.
func (x *Drive) Has(state string) bool {
	return slices.ContainsFunc(x.d.States, func(s network.State) bool { return s.Name == state })
}

// supplyStates are those of a supply in the states of a claim: it is up where
// none says that it is down.
func (b *boardNet) supplyStates(cl *Claim, x *Drive) []string {
	var out []string
	states, in := cl.Out.States, b.c.opt.in
	if in != nil {
		if states = []string{in.name}; in.said {
			states = nil // what is off is at 0 V
		}
	}
	for _, s := range states {
		name := "on"
		if in.gives(x.Net) == nil && (powers{b.c}).powerIn(x.Net, s) == down {
			if name = "off"; !x.Has(name) {
				name = "down"
			}
		}
		if !slices.Contains(out, name) {
			out = append(out, name)
		}
	}
	if len(out) == 0 {
		return []string{"on"}
	}
	return out
}

// reads says that a bidirectional pin is an input where it is placed: a divider
// between known nets, or exactly one other output, sets the level of its net.
func (b *boardNet) reads(x *Drive) bool {
	c, rails := b.c, map[*circuit.Net]bool{}
	for _, r := range c.ResistorsAt(x.Net) {
		if b.given(r.Other) {
			rails[r.Other] = true
		}
	}
	others := 0
	for _, j := range x.Net.PinsOf() {
		if j.Comp != x.At.Comp && j.Pin.Drives() && j.Pin.Row.Type != "bidirectional" {
			others++
		}
	}
	return len(rails) > 1 || others == 1
}
