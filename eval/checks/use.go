package checks

import (
	"math/big"
	"slices"
	"strings"

	"guardband/eval"
	"guardband/eval/circuit"
	"guardband/notebook"
	"guardband/units"
)

// statedUse asks that what a row states of the use of its part covers what the
// rest of the notes tell of it, so that a statement hides nothing.
var statedUse = &eval.Check{
	Name: "use",
	Rule: "What a row states of its part's use covers what the notes say elsewhere: the ambient temperature, the voltages of its nets, " +
		"the current that a budget, the linear regulators behind a supply, the resistors of its nets or the path of a light-emitting diode make. Of currents, and of voltages across a part, the most is compared.",
	Source: "common practice",
	Run: on(func(c *board, b *eval.Check) {
		for _, m := range c.Comps.List {
			done := map[string]bool{}
			for i := range m.Row.InUse {
				if k := &m.Row.InUse[i]; k.Flag == "" && !m.NotFitted() && !eval.SeenBefore(done, k.Name) {
					coversUse(c, b, m, k)
				}
			}
		}
	}),
}

// told is what the notes tell of a use besides its statement, in the language.
type told struct {
	text string
	most bool // only its amount at most is compared
}

func coversUse(c *board, b *eval.Check, m *circuit.Component, k *notebook.Cond) {
	all := toldOf(c, m, k.Name)
	if len(all) == 0 {
		return
	}
	y, _ := c.Use(m, k.Name)
	if y == nil || !y.IsNumber(y.Type.Dim) {
		return
	}
	u := &coverage{c: c, y: y, what: "what is stated of " + k.Name + " of " + m.Ref}
	for _, t := range all {
		if strings.TrimSpace(k.Value.S) == t.text {
			continue // one and the same
		}
		if u.cl == nil {
			u.cl = c.Claim(b, m.Ref+"."+k.Name, "What is stated of "+k.Name+" of "+m.Label()+" covers what the notes say elsewhere.", m.Entry)
		}
		c.Later(t.text, func() { u.ask(t) })
	}
}

// coverage is one statement of the notes while what is told besides is held
// against it.
type coverage struct {
	c    *board
	y    *eval.Quantity
	what string
	cl   *eval.Claim
}

// ask compares what is told with the ends of what is stated, which are known
// once the conditions of facts are settled.
func (u *coverage) ask(t told) {
	c, y := u.c, u.y
	u.cl.NoteQuantity(y)
	low, high := c.Ends(y)
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
		limit := units.Format(end.x, y.Type, units.Style{Unit: y.Unit, Digits: 15})
		if q, err := units.ParseLiteral(limit); err == nil && q.Type == y.Type {
			asked = true
			c.Try(u.cl, t.text+end.op+limit)
		}
	}
	if !asked {
		u.cl.Lacks("no value", u.what+" has no end to compare "+t.text+" with", "state it as a range")
	}
}

// toldOf is what the notes tell of a use that a row may state.
func toldOf(c *board, m *circuit.Component, name string) []told {
	switch {
	case circuit.SameSymbol(name, "T_A"):
		if c.Ambient() {
			return []told{{"ambient", false}}
		}
		return nil
	case name == "I" && m.Feeds != nil:
		if peak := c.Peak(m.Feeds); peak != "" && c.FedByBudget(m) {
			return []told{{peak, true}}
		}
		return nil
	case m.Part == nil || len(m.Pins()) == 2:
		return toldAcross(c, m, name)
	case circuit.PinSymbols[name]:
		return toldOfPins(c, m, name)
	}
	if peak := c.ToldLoad(m, name); peak != "" {
		return []told{{peak, true}}
	}
	if g, s := m.End("G", "GATE"), m.End("S", "SOURCE"); circuit.SameSymbol(name, "V_GS") && g != nil && s != nil &&
		c.VoltageStated(g) && c.VoltageStated(s) {
		return []told{{c.Difference(g, s), false}}
	}
	if nets := m.NetsNamed(name); len(nets) == 1 && c.VoltageStated(nets[0]) {
		return []told{{c.NetText(nets[0]), false}}
	}
	return nil
}

// toldAcross is what the nets of a part of two ends tell of its voltage and
// current.
func toldAcross(c *board, m *circuit.Component, name string) []told {
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
		if text, _ := buckPeak(c, m); text != "" {
			return []told{{text, true}}
		}
	case !c.VoltageStated(a) || !c.VoltageStated(b):
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
func toldOfPins(c *board, m *circuit.Component, name string) []told {
	var out []told
	seen := map[string]bool{}
	for _, q := range m.Pins() {
		if low := strings.HasSuffix(name, "L"); q.Drives() && !(q.OnlyPullsLow() && !low) {
			if text, _ := c.PinCurrent(m, q.Row.Name, low); text != "" && text != "0 A" && !eval.SeenBefore(seen, text) {
				out = append(out, told{text, true})
			}
		}
	}
	return out
}
