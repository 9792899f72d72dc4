package eval

import (
	"strings"

	"guardband/eval/bound"
	"guardband/eval/circuit"
	"guardband/eval/formula"
	"guardband/eval/network"
	"guardband/eval/record"
	"guardband/units"
)

// This file is how formulas ask the network: by the names of nets and uses.

// networkSymbol is a quantity that the network tells. lacking is the reason
// where it does not.
func (c *compiler) networkSymbol(name string, typ units.Type, m *circuit.Component, lacking *record.OpenPoint, nets []*circuit.Net,
	ask func(*boardNet) bound.Reg) *symbol {
	y := &symbol{name: name, derived: true, comp: m}
	y.lacking = lacking
	y.define = func(y *symbol) {
		y.input = &input{sym: y, name: name, typ: typ}
		y.val = formula.Value{Class: formula.Number, Type: typ, Reg: c.newInput(y.input)}
		if c.asks == nil {
			c.asks = map[int]*question{}
		}
		c.asks[y.input.num] = &question{y, nets, ask}
	}
	return y
}

// netInFormula is the voltage of a net: as stated, else as the network tells it.
func (c *compiler) netInFormula(n *circuit.Net) *symbol {
	y := c.netSymbol(n)
	if y != nil && n.Feed != nil && y.state == fresh {
		c.lower(y) // which tells whether it lacks something
	}
	if y != nil && (n.Feed == nil || y.lacking == nil) {
		return y
	}
	found := c.foundOn[n]
	if found == nil {
		found = c.networkSymbol(n.Name, circuit.Volt, nil, nil, []*circuit.Net{n},
			func(b *boardNet) bound.Reg { return b.n.Voltage(b.nodes[n]) })
		if y != nil {
			found.lacking = y.lacking
		}
		c.foundOn[n] = found
	}
	return found
}

// UseText names a quantity of a placed part in use: what its row states under
// one of some names, else what the network tells.
func (c *compiler) UseText(m *circuit.Component, name string, stated ...string) string {
	if use := m.UseNamed(append(stated, name)...); use != "" {
		name = use
	}
	return m.Ref + ".use." + name
}

// networkUse is a quantity of a placed part that the network tells: voltage,
// current or power of what joins its two ends. nil for other names.
func (c *compiler) networkUse(m *circuit.Component, name string) *symbol {
	key := useKey{m, "network " + name}
	if y, ok := c.uses[key]; ok {
		return y
	}
	y := c.findNetworkUse(m, name)
	c.uses[key] = y
	return y
}

// pinUse is the current of an output of a placed part as the network tells it,
// U1.use.I_OL(P3): what it sinks while low, or gives while high.
func (c *compiler) pinUse(m *circuit.Component, name, pin string) *symbol {
	if m.Part == nil || !circuit.PinSymbols[name] && name != "I_INJ" {
		return nil
	}
	pins := m.PinsNamed(pin)
	if len(pins) != 1 || m.PinNets[pins[0]] == nil {
		return nil
	}
	key := useKey{m, "network " + name + "(" + pin + ")"}
	if y, ok := c.uses[key]; ok {
		return y
	}
	at, n := circuit.Joint{Comp: m, Pin: pins[0]}, m.PinNets[pins[0]]
	y := c.networkSymbol(m.Ref+".use."+name+"("+pin+")", units.Type{Dim: circuit.DimAmpere}, m, nil, []*circuit.Net{n}, func(b *boardNet) bound.Reg {
		if name == "I_INJ" {
			return b.injected(at, n)
		}
		for _, x := range b.drives {
			e := x.high
			if strings.HasSuffix(name, "L") {
				e = x.low
			}
			switch {
			case x.At != at || e == nil:
			case e == x.low && x.sink != nil:
				return b.c.b.Binary(bound.OpAdd, b.n.Current(e), b.n.Current(x.sink))
			default:
				return b.n.Current(e)
			}
		}
		return 0
	})
	c.uses[key] = y
	return y
}

// injected is the current that a pin takes through its clamps, of an output what
// is pushed back into it while it is high. Out of the pin it counts as negative.
func (b *boardNet) injected(at circuit.Joint, n *circuit.Net) bound.Reg {
	sum := b.c.b.Const(zero)
	for _, e := range b.takes[at] {
		op := bound.OpAdd
		if e.B == b.nodes[n] {
			op = bound.OpSub
		}
		sum = b.c.b.Binary(op, sum, b.n.Current(e))
	}
	return sum
}

func (c *compiler) findNetworkUse(m *circuit.Component, name string) *symbol {
	from, to := m.NetworkEnds()
	if from == nil || to == nil || m.NotFitted() {
		return nil
	}
	amperes, junction := units.Type{Dim: circuit.DimAmpere}, m.IsJunction()
	across := func(b *boardNet) bound.Reg { return b.n.Between(b.nodes[from], b.nodes[to]) }
	typ, ask := amperes, func(b *boardNet) bound.Reg { return b.through(m) }
	switch {
	case name == "V", junction && (name == "V_F" || name == "V_R"):
		typ, ask = circuit.Volt, across
	case name == "I", junction && (name == "I_F" || name == "I_R"):
	case name == "I_B" && m.IsTransistor():
		ask = func(b *boardNet) bound.Reg { return b.current(b.leads[m]) }
	case name == "P":
		typ, ask = circuit.Watt, func(b *boardNet) bound.Reg {
			if e := b.elements[m]; e != nil {
				return b.n.Power(e)
			}
			return 0
		}
	default:
		return nil
	}
	if forward := ask; name == "V_R" || name == "I_R" {
		ask = func(b *boardNet) bound.Reg {
			if r := forward(b); r != 0 {
				return c.b.Unary(bound.OpNeg, r)
			}
			return 0
		}
	}
	return c.networkSymbol(m.Ref+".use."+name, typ, m, nil, []*circuit.Net{from, to}, ask)
}

// current is that of an element, 0 of none.
func (b *boardNet) current(e *network.Element) bound.Reg {
	if e == nil {
		return 0
	}
	return b.n.Current(e)
}

// through is the current between the ends of a part; what goes in at the drain
// of a transistor goes through channel or body diode.
func (b *boardNet) through(m *circuit.Component) bound.Reg {
	e, body := b.elements[m], b.bodies[m]
	switch {
	case e == nil || body == nil:
		return b.current(e)
	case body.A == e.A:
		return b.c.b.Binary(bound.OpAdd, b.n.Current(e), b.n.Current(body))
	}
	return b.c.b.Binary(bound.OpSub, b.n.Current(e), b.n.Current(body))
}
