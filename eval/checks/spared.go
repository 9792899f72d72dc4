package checks

import (
	"slices"

	"guardband/eval/circuit"
	"guardband/eval/record"
)

// This file notes limits that nothing on the board comes near, as the circuit
// alone shows: they need no claim (eval.LimitCoverage).

// sparePins notes the limits of pins that nothing but their own supply reaches,
// while that keeps inside them.
func sparePins(c *board, m *circuit.Component) {
	names := slices.Concat(injectionNames, injectionSums)
	quiet, inside := map[*circuit.Fact]bool{}, map[string]bool{}
	for _, q := range m.Pins() {
		p, n := circuit.Joint{Comp: m, Pin: q}, m.PinNets[q]
		if n == nil || slices.Contains(noSignal, q.Row.Type) {
			continue
		}
		own := ownSupplyOnly(c, p, n)
		if limit := pinLimit(c, p); own && limit != "" && !circuit.IsReturn(n) {
			text := c.NetText(c.SupplyOf(m, q)) + " inside " + limit
			if _, asked := inside[text]; !asked {
				inside[text] = c.Judged(text, free) == record.Passed
			}
			own = inside[text]
		}
		for _, name := range append([]string{limitName(c, p)}, names...) {
			if def, _ := m.Part.Choose("absmax", name, q.Row.Name); def != nil {
				before, seen := quiet[def]
				quiet[def] = own && (before || !seen)
			}
		}
	}
	for _, f := range m.Part.FactOrder {
		switch ok, seen := quiet[f]; {
		case ok:
			c.Spares(m, f, "nothing but its own supply reaches its pins")
		case !seen && f.Section == "absmax" && goesBy(f, append(names, anyPin...)):
			c.Spares(m, f, "no pin that it speaks of is on a net")
		}
	}
}

// noSignal are the types of pins that no limit of pins in general speaks of.
var noSignal = []string{"supply", "supply output", "ground", "thermal pad", "not connected", "do not connect"}

// ownSupplyOnly says that nothing brings a voltage to a pin but what is fed from
// its own supply.
func ownSupplyOnly(c *board, p circuit.Joint, n *circuit.Net) bool {
	if circuit.IsReturn(n) || c.IsRail(n) {
		return circuit.IsReturn(n) || n == c.SupplyOf(p.Comp, p.Pin)
	}
	r := c.ReachOf(n)
	from, unknown := bringersOf(c, p, n, r)
	return c.SupplyOf(p.Comp, p.Pin) != nil && isExposed(p.Pin) && len(from)+len(unknown)+len(r.Plugs) == 0 &&
		!meetsForeign(r)
}

// goesBy says that a fact has one of some symbols.
func goesBy(f *circuit.Fact, names []string) bool {
	return slices.ContainsFunc(names, func(s string) bool { return circuit.SameSymbol(s, f.Name) })
}

// meetsForeign says that something may bring any voltage to what hangs together.
func meetsForeign(r *circuit.Reach) bool {
	return slices.ContainsFunc(r.Nets, func(n *circuit.Net) bool { return slices.ContainsFunc(n.Joined, foreign) })
}

// foreign says that a part may bring any voltage to its nets.
func foreign(j circuit.Joint) bool {
	switch kind := j.Comp.Sort(); {
	case j.Comp.NotFitted():
		return false
	case j.Comp.Unnoted(), kind == "inductor", kind == "transformer", circuit.IsCell(j.Comp), j.Comp.Part != nil && j.Comp.MakesVoltage():
		return true
	case j.Comp.Part == nil:
		_, _, ends := j.Comp.Ends()
		return !ends && kind != "test point" && kind != "switch" && kind != "jumper"
	}
	return j.Pin != nil && j.Comp.Part.HasSupply() && !isExposed(j.Pin) && j.Pin.Row.Type != "supply" && j.Pin.Row.Type != "ground"
}

// spareLevels notes the levels of inputs of which a part reads none.
func spareLevels(c *board, m *circuit.Component) {
	for _, f := range m.Part.FactOrder {
		if f.Section != "operating" || !goesBy(f, []string{"V_IH", "V_IL"}) {
			continue
		}
		if !slices.ContainsFunc(m.Pins(), func(q *circuit.Pin) bool {
			def, _ := m.Part.Choose(f.Section, f.Name, q.Row.Name)
			return def == f && readsHere(c, circuit.Joint{Comp: m, Pin: q})
		}) {
			c.Spares(m, f, "no input of it reads a level here")
		}
	}
}

// readsHere says that a pin reads a level that something makes: one that goes
// both ways reads where something else may drive its net, one that is tied or
// held by its own pull alone has the level of its supply or ground.
func readsHere(c *board, p circuit.Joint) bool {
	n := p.Comp.PinNets[p.Pin]
	if n == nil || !p.Pin.Reads() {
		return false
	}
	r := c.ReachOf(n)
	others := len(r.Drivers(p))+len(r.Plugs)+len(r.Buttons)+len(r.Between) > 0 || meetsForeign(r)
	if !p.Pin.OnlyReads() || p.Pin.PulledInside() && len(r.Rails) == 0 {
		return others
	}
	return !c.IsRail(n)
}

// spareCurrents notes the currents of outputs of which none leads anywhere that
// a current comes from.
func spareCurrents(c *board, m *circuit.Component, f *circuit.Fact) {
	for _, q := range m.Pins() {
		if n := m.PinNets[q]; n != nil && q.Drives() && !c.IsRail(n) {
			if r := c.ReachOf(n); len(r.Plugs)+len(r.Buttons)+len(r.Gates) > 0 || meetsForeign(r) {
				return
			}
		}
	}
	c.Spares(m, f, "no output of it is loaded so by the circuit")
}

// spareCharge notes the limits of charging a cell that nothing charges.
func spareCharge(c *board, m *circuit.Component) {
	if m.Part == nil {
		return
	}
	for _, f := range m.Part.FactOrder {
		if f.Section != "spec" && goesBy(f, slices.Concat([]string{"T_CHG", "T_CHARGE"}, chargeVolts, circuit.ChargeCurrents)) {
			c.Spares(m, f, "nothing charges it")
		}
	}
}
