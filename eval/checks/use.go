package checks

import (
	"math/big"
	"slices"
	"strings"

	"guardband/eval"
	"guardband/eval/circuit"
	"guardband/eval/record"
	"guardband/notebook"
	"guardband/units"
)

// statedUse asks that what a row states of the use of its part covers what the
// rest of the notes tell of it, so that a statement hides nothing.
var statedUse = &eval.Check{
	Name: "use",
	Rule: "What a row states of its part's use covers what the notes say elsewhere: the ambient temperature, the voltages of its nets, " +
		"the current that a budget, the linear regulators behind a supply, the resistors of its nets or the path of a light-emitting diode make, " +
		"and the voltage, current and power that the circuit makes, as far as it is known. Of these the most is " +
		"compared; what a gate, a coil or an optocoupler " +
		"is driven with must be within its reach.",
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
	told bool // by the circuit: what it does not decide makes no claim
	once bool // some state must be able to reach what is stated
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
	u := &coverage{c: c, y: y, check: b, m: m, name: k.Name, what: "what is stated of " + k.Name + " of " + m.Ref}
	for _, t := range all {
		if strings.TrimSpace(k.Value.S) == t.text {
			continue // one and the same
		}
		if !t.told {
			u.start()
		}
		c.Later(t.text, func() { u.ask(t) })
	}
}

func (u *coverage) start() {
	if u.cl == nil {
		u.cl = u.c.Claim(u.check, u.m.Ref+"."+u.name, "What is stated of "+u.name+" of "+u.m.Label()+
			" covers what the notes say elsewhere.", u.m.Entry)
	}
	u.cl.NoteQuantity(u.y)
}

// coverage is one statement of the notes while what is told besides is held
// against it.
type coverage struct {
	c     *board
	y     *eval.Quantity
	check *eval.Check
	m     *circuit.Component
	name  string
	what  string
	cl    *eval.Claim // nil until there is something to compare
}

// ask compares what is told with the ends of what is stated, which are known
// once the conditions of facts are settled.
func (u *coverage) ask(t told) {
	c, y := u.c, u.y
	low, high := c.Ends(y)
	if t.once {
		u.reached(t, low, high)
		return
	}
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
		q, err := units.ParseLiteral(limit)
		q.Type.Sense = y.Type.Sense // a product has none, its unit has
		if err == nil && q.Type == y.Type {
			asked = true
			u.compare(t, t.text+end.op+limit)
		}
	}
	if !asked && !t.told {
		u.cl.Lacks("no value", u.what+" has no end to compare "+t.text+" with", "state it as a range")
	}
}

// compare adds a criterion; of what the circuit tells only one that it decides.
func (u *coverage) compare(t told, text string) {
	if t.told && u.c.Judged(text, func(*eval.Criterion) {}) == record.Open {
		return
	}
	u.start()
	u.c.Try(u.cl, text)
}

// reached fails where the circuit stays short of what is stated in all states.
func (u *coverage) reached(t told, low, high *big.Rat) {
	if low == nil || high == nil || low.Sign()*high.Sign() <= 0 {
		return
	}
	least := new(big.Rat).Abs(low)
	if low.Sign() < 0 {
		least.Abs(high)
	}
	limit := units.Format(least, u.y.Type, units.Style{Unit: u.y.Unit, Digits: 15})
	if !u.c.Proven(t.text + " < " + limit) {
		return
	}
	u.start()
	if u.c.Try(u.cl, t.text+" >= "+limit) {
		u.cl.Crit[len(u.cl.Crit)-1].Once = "no state of the circuit brings " + u.name + " of " + u.m.Ref + " so far"
	}
}

// toldOf is what the notes tell of a use that a row may state.
func toldOf(c *board, m *circuit.Component, name string) []told {
	switch {
	case circuit.SameSymbol(name, "T_COIL"): // a coil is no colder than what is round it
		if c.Ambient() {
			return []told{{text: "ambient", most: true}}
		}
		return nil
	case circuit.SameSymbol(name, "T_A"):
		if c.Ambient() {
			return []told{{text: "ambient"}}
		}
		return nil
	case name == "I" && m.Feeds != nil:
		if peak := c.Peak(m.Feeds); peak != "" && c.FedByBudget(m) {
			return []told{{text: peak, most: true}}
		}
		return nil
	case m.Part == nil || len(m.Pins()) == 2:
		if all := toldAcross(c, m, name); all != nil {
			return all
		}
		return toldByCircuit(c, m, name)
	case circuit.PinSymbols[name]:
		return toldOfPins(c, m, name)
	}
	if peak := c.ToldLoad(m, name); peak != "" {
		return []told{{text: peak, most: true}}
	}
	if g, s := m.End("G", "GATE"), m.End("S", "SOURCE"); circuit.SameSymbol(name, "V_GS") && g != nil && s != nil &&
		c.VoltageStated(g) && c.VoltageStated(s) {
		return []told{{text: c.Difference(g, s)}}
	}
	if nets := m.NetsNamed(name); len(nets) == 1 && c.VoltageStated(nets[0]) {
		return []told{{text: c.NetText(nets[0])}}
	}
	return toldByCircuit(c, m, name)
}

// toldByCircuit is what the circuit makes of a use: the stress under its name,
// and for what drives a gate, a coil or an optocoupler that it is reached.
func toldByCircuit(c *board, m *circuit.Component, name string) (out []told) {
	made := m.Ref + ".circuit."
	switch from, to := m.NetworkEnds(); {
	case m.NotFitted():
		return nil
	case m.Part == nil && m.Sort() == "resistor" && from != nil && (name == "P" ||
		name == "I" && !(c.VoltageStated(from) && c.VoltageStated(to))):
		return []told{{text: "abs(" + made + name + ")", most: true, told: true}}
	case m.Part == nil || from == nil || to == nil:
	case name == "V" && m.Part.FactNamed("spec", "R_COIL") != "":
		out = append(out, told{text: "abs(" + made + "V)", told: true, once: true})
	case circuit.SameSymbol(name, "I_F"):
		out = append(out, told{text: "abs(" + made + "I_F)", most: true, told: true})
		if m.ByLight() {
			out = append(out, told{text: made + "I_F", told: true, once: true})
		}
	case circuit.SameSymbol(name, "V_R") && m.IsJunction():
		out = append(out, told{text: made + "V_R", most: true, told: true})
	case m.Sort() == "resistor" && (circuit.SameSymbol(name, "P") || circuit.SameSymbol(name, "P_LIM")):
		out = append(out, told{text: "abs(" + made + "P)", most: true, told: true})
	}
	if g, s := m.End("G", "GATE"), m.End("S", "SOURCE"); circuit.SameSymbol(name, "V_GS") && g != nil && s != nil {
		out = append(out, told{text: "abs(" + c.Difference(g, s) + ")", told: true, once: true})
	}
	if m.Part != nil && !circuit.PinSymbols[name] {
		for _, s := range stressOf(c, m, name) {
			out = append(out, told{text: "abs(" + strings.ReplaceAll(s.text, m.Ref+".use.", made) + ")", most: true, told: true})
		}
	}
	return out
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
				return []told{{text: "abs(" + r.Ref + ".use.I)", most: true}}
			}
		}
	case kind == "inductor" && (circuit.SameSymbol(name, "I_PK") || circuit.SameSymbol(name, "I_PEAK")) && m.Part != nil:
		if text, _ := buckPeak(c, m); text != "" {
			return []told{{text: text, most: true}}
		}
	case !c.VoltageStated(a) || !c.VoltageStated(b):
	case kind == "diode" && circuit.SameSymbol(name, "V_R"):
		if plus, minus, ok := m.Poles(); ok {
			return []told{{text: c.Difference(minus, plus), most: true}}
		}
	case (kind == "resistor" || kind == "capacitor") && (name == "V" || slices.Contains(ratedVolts, name) || circuit.SameSymbol(name, "V_LIM")):
		return []told{{text: "abs(" + c.Across(a, b) + ")", most: true}}
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
				out = append(out, told{text: text, most: true})
			}
		}
	}
	return out
}
