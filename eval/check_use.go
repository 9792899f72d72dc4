package eval

import (
	"math/big"
	"slices"
	"strings"

	"guardband/eval/bound"
	"guardband/eval/circuit"
	"guardband/eval/formula"
	"guardband/notebook"
	"guardband/units"
)

// statedUse asks that what a row states of the use of its part covers what the
// rest of the notes tell of it, so that a statement hides nothing.
var statedUse = &builtin{
	name: "use",
	rule: "What a row states of its part's use covers what the notes tell otherwise: the temperature round the board, the voltages of its nets, " +
		"the current that a budget, the linear regulators behind a supply, the resistors of its nets or the path of a light-emitting diode make. Of currents, and of voltages across a part, the most is compared.",
	source: "common practice",
	run: func(c *compiler, b *builtin) {
		for _, m := range c.Comps.List {
			done := map[string]bool{}
			for i := range m.Row.InUse {
				if k := &m.Row.InUse[i]; k.Flag == "" && !m.NotFitted() && !seenBefore(done, k.Name) {
					c.coversUse(b, m, k)
				}
			}
		}
	},
}

// told is what the notes tell of a use besides its statement, in the language.
type told struct {
	text string
	most bool // only its amount at most is compared
}

func (c *compiler) coversUse(b *builtin, m *circuit.Component, k *notebook.Cond) {
	all := c.toldOf(m, k.Name)
	if len(all) == 0 {
		return
	}
	y := c.useSymbol(m, k.Name)
	if y == nil {
		return
	}
	c.lower(y)
	if y.val.Class != formula.Number {
		return
	}
	u := &coverage{c: c, y: y, what: "what is stated of " + k.Name + " of " + m.Ref}
	for _, t := range all {
		if strings.TrimSpace(k.Value.S) == t.text {
			continue // one and the same
		}
		if u.cl == nil {
			u.cl = c.builtClaim(b, m.Ref+"."+k.Name, "What is stated of "+k.Name+" of "+m.Label()+" covers what the notes tell of it.", m.Entry)
		}
		c.lowerText(notebook.Text{S: t.text}, &scope{c: c}) // what it rests on has its conditions settled too
		c.late = append(c.late, func() { u.ask(t) })
	}
}

// coverage is one statement of the notes while what is told besides is held
// against it.
type coverage struct {
	c    *compiler
	y    *symbol
	what string
	cl   *claim
}

// ask compares what is told with the ends of what is stated, which are known
// once the conditions of facts are settled.
func (u *coverage) ask(t told) {
	c, y := u.c, u.y
	p := c.b.Extract(y.val.Reg)
	e := bound.Range(p, 0, c.gather(p), bound.Options{Boxes: 200})
	u.cl.note(y)
	low, high := endRat(e.Lo), endRat(e.Hi)
	if t.most {
		switch {
		case low == nil && high != nil && high.Sign() <= 0:
			high = nil // "I_OH >= -4 mA" turned round says nothing upwards
		case low != nil && high != nil && new(big.Rat).Neg(low).Cmp(high) > 0:
			high = new(big.Rat).Neg(low)
		}
		low = nil
	}
	asked := false
	for _, end := range []struct {
		op string
		x  *big.Rat
	}{{" <= ", high}, {" >= ", low}} {
		if end.x == nil {
			continue
		}
		limit := units.Format(end.x, y.val.Type, units.Style{Unit: y.val.Unit, Digits: 15})
		if q, err := units.ParseLiteral(limit); err == nil && q.Type == y.val.Type {
			asked = true
			c.try(u.cl, t.text+end.op+limit)
		}
	}
	if !asked {
		u.cl.lacks("no value", u.what+" has no end to compare "+t.text+" with", "state it as a range")
	}
}

// toldOf is what the notes tell of a use that a row may state.
func (c *compiler) toldOf(m *circuit.Component, name string) []told {
	switch {
	case circuit.SameSymbol(name, "T_A"):
		if c.ambient() != nil {
			return []told{{"ambient", false}}
		}
		return nil
	case name == "I" && m.Feeds != nil:
		if b := c.budgetOf(m.Feeds); b != nil && c.feedCurrent(m) != nil {
			return []told{{budgetText(b) + ".peak", true}}
		}
		return nil
	case m.Part == nil || len(m.Part.Pins) == 2:
		return c.toldAcross(m, name)
	case circuit.PinSymbols[name]:
		return c.toldOfPins(m, name)
	}
	if peak := c.toldLoad(m, name); peak != "" {
		return []told{{peak, true}}
	}
	if g, s := m.End("G", "GATE"), m.End("S", "SOURCE"); circuit.SameSymbol(name, "V_GS") && g != nil && s != nil && c.voltageStated(g) && c.voltageStated(s) {
		return []told{{c.Difference(g, s), false}}
	}
	if nets := m.NetsNamed(name); len(nets) == 1 && c.voltageStated(nets[0]) {
		return []told{{c.NetText(nets[0]), false}}
	}
	return nil
}

// toldAcross is what the nets of a part of two ends tell of its voltage and
// current.
func (c *compiler) toldAcross(m *circuit.Component, name string) []told {
	a, b, ok := m.Ends()
	if !ok {
		return nil
	}
	switch kind := m.Sort(); {
	case kind == "LED" && circuit.SameSymbol(name, "I_F") && m.Part != nil:
		for _, n := range []*circuit.Net{a, b} {
			if r := series(n, m); r != nil && r.UseNamed("I") == "" {
				return []told{{"abs(" + r.Ref + ".use.I)", true}}
			}
		}
	case kind == "inductor" && (circuit.SameSymbol(name, "I_PK") || circuit.SameSymbol(name, "I_PEAK")) && m.Part != nil:
		if text, _ := c.buckPeak(m); text != "" {
			return []told{{text, true}}
		}
	case !c.voltageStated(a) || !c.voltageStated(b):
	case kind == "diode" && circuit.SameSymbol(name, "V_R"):
		if plus, minus, ok := m.Poles(); ok {
			return []told{{c.Difference(minus, plus), true}}
		}
	case (kind == "resistor" || kind == "capacitor") && (name == "V" || slices.Contains(ratedVolts, name) || circuit.SameSymbol(name, "V_LIM")):
		return []told{{"abs(" + c.Across(a, b) + ")", true}}
	}
	return nil
}

// toldOfPins are the currents that the nets of a part's outputs make.
func (c *compiler) toldOfPins(m *circuit.Component, name string) []told {
	var out []told
	seen := map[string]bool{}
	for _, q := range m.Part.Pins {
		if low := strings.HasSuffix(name, "L"); q.Drives() && !(q.OnlyPullsLow() && !low) {
			if text, _ := c.pinCurrentText(m, q.Row.Name, low); text != "" && text != "0 A" && !seenBefore(seen, text) {
				out = append(out, told{text, true})
			}
		}
	}
	return out
}

// toldLoad names the peak of the budget of what a part makes; without one what
// the linear regulators that it feeds are stated to deliver, as all of that
// passes through them.
func (c *compiler) toldLoad(m *circuit.Component, name string) string {
	seen := map[*circuit.Net]bool{}
	var outs []*circuit.Pin
	for _, q := range m.Part.Pins {
		if n := m.PinNets[q]; q.Row.Type == "supply output" && n != nil && !seen[n] {
			seen[n] = true
			outs = append(outs, q)
		}
	}
	for _, q := range outs {
		for _, s := range loadNames(q, len(outs) > 1) {
			if b := c.budgetOf(m.PinNets[q]); b != nil && circuit.SameSymbol(s, name) {
				if c.negative(m.PinNets[q]) {
					return "abs(" + budgetText(b) + ".peak)"
				}
				return budgetText(b) + ".peak"
			} else if b == nil && circuit.SameSymbol(s, name) && !c.negative(m.PinNets[q]) {
				return strings.Join(c.regulatorLoads(m.PinNets[q]), " + ")
			}
		}
	}
	return ""
}

func (c *compiler) regulatorLoads(n *circuit.Net) (out []string) {
	for _, j := range n.Joined {
		m := j.Comp
		if m.Part == nil || j.Pin == nil || j.Pin.Row.Type != "supply" || m.Part.FactNamed("spec", "V_DO", "V_DROP", "V_DROPOUT") == "" {
			continue
		}
		if in, _ := c.inputOf(m); in != n {
			continue
		}
		var makes []*circuit.Pin
		for _, q := range m.Part.Pins {
			if q.Row.Type == "supply output" && m.PinNets[q] != nil {
				makes = append(makes, q)
			}
		}
		if len(makes) == 1 {
			if load := c.loadOf(m, m.PinNets[makes[0]], false, makes[0]); load != "" && !slices.Contains(out, load) {
				out = append(out, load)
			}
		}
	}
	return out
}
