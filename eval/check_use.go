package eval

import (
	"math/big"
	"slices"
	"strings"

	"guardband/eval/bound"
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
		for _, m := range c.comps.list {
			done := map[string]bool{}
			for i := range m.row.InUse {
				if k := &m.row.InUse[i]; k.Flag == "" && !m.notFitted() && !seenBefore(done, k.Name) {
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

func (c *compiler) coversUse(b *builtin, m *component, k *notebook.Cond) {
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
	u := &coverage{c: c, y: y, what: "what is stated of " + k.Name + " of " + m.ref}
	for _, t := range all {
		if strings.TrimSpace(k.Value.S) == t.text {
			continue // one and the same
		}
		if u.cl == nil {
			u.cl = c.builtClaim(b, m.ref+"."+k.Name, "What is stated of "+k.Name+" of "+m.label()+" covers what the notes tell of it.", m.entry)
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
func (c *compiler) toldOf(m *component, name string) []told {
	switch {
	case sameSymbol(name, "T_A"):
		if c.ambient() != nil {
			return []told{{"ambient", false}}
		}
		return nil
	case name == "I" && m.feeds != nil:
		if b := c.budgetOf(m.feeds); b != nil && c.feedCurrent(m) != nil {
			return []told{{budgetText(b) + ".peak", true}}
		}
		return nil
	case m.part == nil || len(m.part.pins) == 2:
		return c.toldAcross(m, name)
	case pinSymbols[name]:
		return c.toldOfPins(m, name)
	}
	if peak := c.toldLoad(m, name); peak != "" {
		return []told{{peak, true}}
	}
	if g, s := m.end("G", "GATE"), m.end("S", "SOURCE"); sameSymbol(name, "V_GS") && g != nil && s != nil && c.voltageStated(g) && c.voltageStated(s) {
		return []told{{c.difference(g, s), false}}
	}
	if nets := m.netsNamed(name); len(nets) == 1 && c.voltageStated(nets[0]) {
		return []told{{c.netText(nets[0]), false}}
	}
	return nil
}

// toldAcross is what the nets of a part of two ends tell of its voltage and
// current.
func (c *compiler) toldAcross(m *component, name string) []told {
	a, b, ok := m.ends()
	if !ok {
		return nil
	}
	switch kind := m.sort(); {
	case kind == "LED" && sameSymbol(name, "I_F") && m.part != nil:
		for _, n := range []*net{a, b} {
			if r := series(n, m); r != nil && r.useNamed("I") == "" {
				return []told{{"abs(" + r.ref + ".use.I)", true}}
			}
		}
	case kind == "inductor" && (sameSymbol(name, "I_PK") || sameSymbol(name, "I_PEAK")) && m.part != nil:
		if text, _ := c.buckPeak(m); text != "" {
			return []told{{text, true}}
		}
	case !c.voltageStated(a) || !c.voltageStated(b):
	case kind == "diode" && sameSymbol(name, "V_R"):
		if plus, minus, ok := m.poles(); ok {
			return []told{{c.difference(minus, plus), true}}
		}
	case (kind == "resistor" || kind == "capacitor") && (name == "V" || slices.Contains(ratedVolts, name) || sameSymbol(name, "V_LIM")):
		return []told{{"abs(" + c.across(a, b) + ")", true}}
	}
	return nil
}

// toldOfPins are the currents that the nets of a part's outputs make.
func (c *compiler) toldOfPins(m *component, name string) []told {
	var out []told
	seen := map[string]bool{}
	for _, q := range m.part.pins {
		if low := strings.HasSuffix(name, "L"); q.drives() && !(q.onlyPullsLow() && !low) {
			if text, _ := c.pinCurrentText(m, q.row.Name, low); text != "" && text != "0 A" && !seenBefore(seen, text) {
				out = append(out, told{text, true})
			}
		}
	}
	return out
}

// toldLoad names the peak of the budget of what a part makes; without one what
// the linear regulators that it feeds are stated to deliver, as all of that
// passes through them.
func (c *compiler) toldLoad(m *component, name string) string {
	seen := map[*net]bool{}
	var outs []*pin
	for _, q := range m.part.pins {
		if n := m.pinNets[q]; q.row.Type == "supply output" && n != nil && !seen[n] {
			seen[n] = true
			outs = append(outs, q)
		}
	}
	for _, q := range outs {
		for _, s := range loadNames(q, len(outs) > 1) {
			if b := c.budgetOf(m.pinNets[q]); b != nil && sameSymbol(s, name) {
				if c.negative(m.pinNets[q]) {
					return "abs(" + budgetText(b) + ".peak)"
				}
				return budgetText(b) + ".peak"
			} else if b == nil && sameSymbol(s, name) && !c.negative(m.pinNets[q]) {
				return strings.Join(c.regulatorLoads(m.pinNets[q]), " + ")
			}
		}
	}
	return ""
}

func (c *compiler) regulatorLoads(n *net) (out []string) {
	for _, j := range n.joined {
		m := j.comp
		if m.part == nil || j.pin == nil || j.pin.row.Type != "supply" || m.part.factNamed("spec", "V_DO", "V_DROP", "V_DROPOUT") == "" {
			continue
		}
		if in, _ := c.inputOf(m); in != n {
			continue
		}
		var makes []*pin
		for _, q := range m.part.pins {
			if q.row.Type == "supply output" && m.pinNets[q] != nil {
				makes = append(makes, q)
			}
		}
		if len(makes) == 1 {
			if load := c.loadOf(m, m.pinNets[makes[0]], false, makes[0]); load != "" && !slices.Contains(out, load) {
				out = append(out, load)
			}
		}
	}
	return out
}
