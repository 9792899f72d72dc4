package eval

import (
	"math"
	"slices"
	"strings"

	"guardband/eval/bound"
	"guardband/eval/circuit"
	"guardband/eval/formula"
	"guardband/eval/network"
	"guardband/eval/record"
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
		k.told.j = b.n.Judge(k.comp.Reg, among)
		if rest := b.scope(cl, k, true); k.told.j.Verdict == network.Undecided && !slices.Equal(rest.Only, among.Only) {
			if j := b.n.Judge(k.comp.Reg, rest); j.Verdict == network.Failed {
				k.told.j, k.told.among = j, rest
			}
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
	e, strict := b.n.Bounds(test.Slack, among), test.Op == ">"
	none, hangs := e.Why == "" && len(e.States) > 0, ""
	for _, s := range e.States {
		if s.Lo > 0 || s.Lo >= 0 && !strict {
			return network.Judgement{Verdict: network.Passed}
		}
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

func (x *Drive) Has(state string) bool {
	for _, s := range x.d.States {
		if s.Name == state {
			return true
		}
	}
	return false
}

// supplyStates are those of a supply in the states of a claim: it is up where
// none says that it is down.
func (b *boardNet) supplyStates(cl *Claim, x *Drive) []string {
	var out []string
	for _, s := range cl.Out.States {
		name := "on"
		if (powers{b.c}).powerIn(x.Net, s) == down {
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

// judgeTold writes the verdict of a criterion that the network judged.
func (c judge) judgeTold(t *trial) {
	k, x := t.k, t.k.told
	k.out.Boxes, k.thin = x.j.Boxes, math.Inf(1)
	switch {
	case t.cl.samples > 0 || t.cl.Out.Analysis == "root sum square":
		k.out.Verdict = record.Open
		k.out.Open = append(k.out.Open, record.OpenPoint{Reason: "not evaluated", Text: "it has no single formula over the circuit, which statistics need", Settle: "judge it at its worst: leave `analysis:` out"})
	case x.j.Verdict == network.Passed:
		k.out.Verdict = record.Passed
	case x.j.Verdict == network.Failed && k.Unsure == nil:
		k.out.Verdict, k.out.Failure = record.Failed, "broken"
		if p := k.comp.Plain; p != 0 && p != k.comp.Reg && x.b.n.Judge(p, x.among).Verdict != network.Failed {
			k.out.Failure = "short"
		}
		k.out.Corner, k.out.CornerText = c.toldCorner(x)
	case k.Unsure != nil:
		k.out.Verdict = record.Open
		k.out.Open = append(k.out.Open, *k.Unsure)
	default:
		k.out.Verdict = record.Open
		k.out.Open = append(k.out.Open, c.toldOpen(t)...)
	}
	c.block(t)
	c.toldTests(t)
}

// toldOpen says why the network leaves a criterion open.
func (c judge) toldOpen(t *trial) []record.OpenPoint {
	x := t.k.told
	var out []record.OpenPoint
	for _, i := range x.j.Lacking {
		if p := c.madePoints(t, i); p != nil {
			out = append(out, p...)
		} else if y := c.inputs[i].sym; y != nil {
			out = append(out, y.why...)
		}
	}
	for _, y := range c.allAsked(t.k.uses) {
		if p := y.rare().lacking; p != nil {
			out = append(out, *p)
		}
	}
	if turn := x.j.Turns; turn != nil {
		in := c.inputs[turn.Input]
		name := strings.TrimPrefix(in.name, "the ")
		text := "it applies while the " + name + " is at least "
		at := turn.AtLeast
		if at == nil {
			at, text = turn.AtMost, "it applies while the "+name+" is at most "
		}
		text += units.Format(at, in.typ, units.Style{Digits: 2})
		if turn.AtLeast == nil && in.set().Lo == nil {
			text += " in either direction"
		}
		out = append(out, record.OpenPoint{Reason: "no fact", Text: text, Settle: "note it, if that is so"})
	}
	if len(out) == 0 || x.j.Why != "" && !strings.HasPrefix(x.j.Why, "what is known") {
		if n, ok := strings.CutPrefix(x.j.Why, nothingFeeds); ok {
			return append(out, record.OpenPoint{Reason: "no value", Text: x.j.Why, Settle: "give a value `" + n + " = ...`, or place what feeds it"})
		}
		out = append(out, record.OpenPoint{Reason: "no fact", Text: x.j.Why, Settle: "state what the circuit gives there in the row of the part (`in use:`), or claim it yourself"})
	}
	return telling(dedupe(out))
}

// stateUse is what settles an input of the network's own, which no line of the
// notes states.
const stateUse = "state the quantity in the row of the part (`in use:`), or claim it yourself"

// telling leaves out what a reader can do nothing about: the network's own
// inputs where a missing fact is named too, all but two of them elsewhere, and
// of these rather those that say where something lies between its bounds.
func telling(in []record.OpenPoint) (out []record.OpenPoint) {
	var own, within []record.OpenPoint
	for _, p := range in {
		switch {
		case p.Settle != stateUse:
			out = append(out, p)
		case strings.HasPrefix(p.Text, "the place of "):
			within = append(within, p)
		default:
			own = append(own, p)
		}
	}
	if len(out) == 0 {
		own = append(own, within...)
		out = own[:min(len(own), 2)]
	}
	return out
}

// madePoints says why an input that the network made keeps a criterion open:
// nil of others.
func (c judge) madePoints(t *trial, i int) (out []record.OpenPoint) {
	b := c.network
	if b == nil {
		return nil
	}
	p, made := b.made[i]
	switch {
	case !made:
		return nil
	case p.Text != "":
		return []record.OpenPoint{p}
	}
	for _, y := range c.allAsked(t.k.uses) {
		if p := y.rare().lacking; p != nil {
			out = append(out, *p)
		}
		for _, n := range c.asks[y.input.num].nets {
			out = append(out, b.about[b.island(n)].missing...)
		}
	}
	if len(out) == 0 {
		name := strings.TrimPrefix(c.inputs[i].name, "the ")
		out = []record.OpenPoint{{Reason: "no fact", Text: "the " + name + " is not known", Settle: stateUse}}
	}
	return dedupe(out)
}

func dedupe(in []record.OpenPoint) (out []record.OpenPoint) {
	seen := map[record.OpenPoint]bool{}
	for _, p := range in {
		if !seen[p] {
			seen[p] = true
			out = append(out, p)
		}
	}
	return out
}

// allAsked are the symbols among some, and those they are made of, that the
// network tells.
func (c judge) allAsked(ys []*symbol) (out []*symbol) {
	for _, y := range closure(ys) {
		if y.input != nil && c.asks[y.input.num] != nil {
			out = append(out, y)
		}
	}
	return out
}

// toldCorner is the point at which a criterion is broken.
func (c judge) toldCorner(x *answer) (out []record.CornerValue, text string) {
	for i, in := range c.inputs {
		at := x.j.Point[i]
		if at == nil || in.sym == nil {
			continue
		}
		f := units.Float(at)
		out = append(out, record.CornerValue{Name: in.name, Value: &f,
			Text: units.Format(at, in.typ, units.Style{Unit: in.unit, Digits: 12}), End: endName(at, in.set())})
	}
	var states []string
	if x.j.Case != nil {
		for _, p := range x.j.Case.States {
			if len(p.Driver.States) > 1 && p.State != "on" {
				states = append(states, p.Driver.Name+" "+p.State)
			}
		}
	}
	if text = x.j.Why; len(states) > 0 {
		text = "with " + strings.Join(states, ", ")
	}
	return out, text
}

// toldTests writes the comparisons of such a criterion with their ranges.
func (c judge) toldTests(t *trial) {
	k, x := t.k, t.k.told
	for i := range k.comp.Tests {
		test := &k.comp.Tests[i]
		out := record.Test{Text: test.Text(), Op: test.Op, LimitRight: test.LimitRight, Verdict: k.out.Verdict}
		lu, ru := showUnits(test)
		out.Left, out.Right = c.toldSpan(x, test.Left, lu), c.toldSpan(x, test.Right, ru)
		out.Left.Text, out.Right.Text = test.Sides()
		if k.out.Verdict == record.Passed && test.Slack != 0 && !test.Negated {
			if e := x.b.n.Bounds(test.Slack, x.among); !math.IsInf(e.Lo, 0) && !math.IsNaN(e.Lo) && e.Lo >= 0 {
				lo := e.Lo
				m := &record.Margin{Absolute: &lo, Base: test.Base, Required: k.asked.words()}
				m.Text = units.FormatFloat(lo, slackType(test), units.Style{Unit: marginUnit(test), Digits: 4, Round: units.Down})
				out.Margin = m
			}
		}
		k.out.Tests = append(k.out.Tests, out)
	}
}

// toldSpan is the range of one side.
func (c judge) toldSpan(x *answer, v formula.Value, u *units.Unit) record.Span {
	s := record.Span{Unit: baseUnit(v.Type)}
	if v.Class != formula.Number {
		return s
	}
	e := x.extent(v.Reg)
	s.Min, s.Max = finite(e.Lo), finite(e.Hi)
	s.Shown = extentText(e, v.Type, u)
	return s
}

// extent is the range of a number in the states that are asked.
func (x *answer) extent(r bound.Reg) bound.Extent {
	switch {
	case len(judge{x.b.c}.askedIn(r)) > 0: // it was not followed
		return bound.Extent{Lo: bound.End{Outer: math.Inf(-1), Unbounded: true}, Hi: bound.End{Outer: math.Inf(1), Unbounded: true}}
	case !x.b.n.Asks(r):
		p := x.b.c.b.Extract(r)
		return bound.Range(p, 0, x.b.c.gather(p), bound.Options{Boxes: shownBoxes})
	}
	e := x.b.n.Bounds(r, x.among)
	end := func(v float64) bound.End {
		if math.Abs(v) < 1e-300 { // rounded outwards from 0
			v = 0
		}
		return bound.End{Outer: v, Inner: v, Unbounded: math.IsInf(v, 0)}
	}
	return bound.Extent{Lo: end(e.Lo), Hi: end(e.Hi), Empty: math.IsNaN(e.Lo) || e.Lo > e.Hi}
}

// rangeOf is the range of a number for printing, the network asked where it
// must be.
func (c judge) rangeOf(r bound.Reg) bound.Extent {
	if qs := c.askedIn(r); len(qs) > 0 && c.boardNetwork().refuses(qs) == "" {
		put, _ := c.answered(r)
		b, x := c.boardNetwork(), put(r)
		among := b.scope(&Claim{}, &Criterion{}, false)
		if only := b.n.Sole(x, among); only != nil {
			r = only.Put(x)
		} else {
			return (&answer{b: b, among: among}).extent(x)
		}
	}
	p := c.b.Extract(r)
	return bound.Range(p, 0, c.gather(p), bound.Options{Boxes: shownBoxes})
}
