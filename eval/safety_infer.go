package eval

import (
	"fmt"
	"math"

	"guardband/eval/bound"
	"guardband/eval/circuit"
	"guardband/eval/formula"
	"guardband/eval/record"
	"guardband/units"
)

// addCaution gathers a reason for a caution.
type addCaution func(name, why string, at *record.Position, claim string)

// stored is the capacitors between two nets, which charge as one.
type stored struct {
	refs []string
	sum  bound.Reg
	at   *record.Position
}

// inferEnergy finds placed capacitors, alone or side by side, that store more
// than 1 J at 100 V or more, or more than 100 J below.
func (c warden) inferEnergy(add addCaution) {
	banks := map[circuit.NetPair]*stored{}
	var order []circuit.NetPair
	for _, m := range c.Comps.List {
		a, b, ok := m.Ends()
		if m.NotFitted() || m.Sort() != "capacitor" || !ok || a == b {
			continue
		}
		y := c.componentSymbol(m)
		if y == nil {
			continue
		}
		if c.lower(y); y.val.Class != formula.Number || y.val.Type.Dim != circuit.DimFarad {
			continue
		}
		k := circuit.PairOf(a, b)
		if banks[k] == nil {
			banks[k] = &stored{sum: y.val.Reg, at: position(m.Entry.Text.Pos(0))}
			order = append(order, k)
		} else {
			banks[k].sum = c.b.Binary(bound.OpAdd, banks[k].sum, y.val.Reg)
		}
		banks[k].refs = append(banks[k].refs, m.Ref)
	}
	for _, k := range order {
		s := banks[k]
		a, b := c.netVoltage(k.A), c.netVoltage(k.B)
		if a == nil || b == nil {
			continue
		}
		v := c.b.Binary(bound.OpSub, a.val.Reg, b.val.Reg)
		e := c.b.Binary(bound.OpMul, c.b.Const(half), c.b.Binary(bound.OpMul, s.sum, c.b.PowInt(v, 2)))
		_, joule := c.sureEnds(e)
		lo, hi := c.sureEnds(v)
		if u := max(math.Abs(lo), math.Abs(hi)); joule > 100 || joule > 1 && u >= 100 {
			who := s.refs[0] + " stores "
			if n := len(s.refs); n > 1 {
				who = fmt.Sprintf("%s and %d more side by side store ", s.refs[0], n-1)
			}
			energy := units.FormatFloat(joule, units.Type{Dim: units.Dim{4, 2, -4}}, units.Style{Digits: 3})
			add("stored energy", who+energy, s.at, "")
		}
	}
}

// sureEnds are the ends of a quantity over its stated columns, 0 where nothing
// is stated.
func (c warden) sureEnds(r bound.Reg) (lo, hi float64) {
	p := c.b.Extract(r)
	e := bound.SureRange(p, 0, c.gather(p), bound.Options{Boxes: 200})
	if e.Empty {
		return 0, 0
	}
	end := func(x bound.End) float64 {
		if f := finite(x); f != nil {
			return *f
		}
		return 0
	}
	return end(e.Lo), end(e.Hi)
}

// inferRails finds two nets that stand further apart than the limit of a
// voltage that needs no safeguard, though each alone is below it: +40 V and
// -40 V.
func (c warden) inferRails(add addCaution) {
	var top, bottom *circuit.Net
	high, low := 0.0, 0.0
	for _, n := range c.Nets.List {
		y := c.netSymbols[n]
		if y == nil || y.state != done || !y.isVoltage() || y.val.Type.Wave != units.NoWave {
			continue
		}
		lo, hi := c.sureEnds(y.val.Reg)
		if hi > high {
			top, high = n, hi
		}
		if lo < low {
			bottom, low = n, lo
		}
	}
	limit := guardLimit(units.NoWave, false)
	if top == nil || bottom == nil || high > limit || -low > limit || high-low <= limit {
		return
	}
	name := "voltage that needs a safeguard"
	if high-low > float64(voltageLimits[0].death)/10 {
		name = "hazardous voltage"
	}
	add(name, bottom.Name+" to "+top.Name+" reaches "+units.FormatFloat(high-low, circuit.Volt, units.Style{Digits: 4}), nil,
		"")
}

// mainsVolts are nominal supply voltages of IEC 60038, in V rms, from memory.
var mainsVolts = []float64{120, 208, 230, 240, 277, 347, 400, 480, 600, 690}

// nearMains names the supply voltage that an untagged value is near, "" for
// none.
func (c warden) nearMains(y *symbol) string {
	lo, hi := c.sureEnds(y.val.Reg)
	for _, v := range mainsVolts {
		if lo >= 0.8*v && hi <= 1.2*v && lo <= 1.05*v && hi >= 0.95*v {
			return fmt.Sprintf("%g V", v)
		}
	}
	return ""
}

// inferPower finds supplies whose peak load can bring more than 15 W to a
// fault.
func (c warden) inferPower(add addCaution) {
	for _, b := range c.budgets {
		n, ok := c.Nets.Get(b.block.ID)
		peak := b.results["peak"]
		if !ok || peak == nil {
			continue
		}
		v := c.netVoltage(n)
		if c.lower(peak); v == nil || peak.val.Class != formula.Number {
			continue
		}
		lo, hi := c.sureEnds(c.b.Binary(bound.OpMul, v.val.Reg, peak.val.Reg))
		watts := max(math.Abs(lo), math.Abs(hi))
		if watts <= 15 {
			continue
		}
		class := "PS2"
		if watts > 100 {
			class = "PS3"
		}
		power := units.FormatFloat(watts, units.Type{Dim: units.Dim{4, 2, -6}}, units.Style{Digits: 3})
		add("fire power", "budget "+b.block.ID+" peaks at "+power+" ("+class+")", position(b.block.Pos), "")
	}
}

// touchLimit is the temperature above which a surface that is touched for a
// second can burn: ISO 13732-1, bare metal, from memory, in K.
const touchLimit = 273.15 + 65

// inferHot finds temperatures among the values of the notes, ambient aside,
// that pass touchLimit.
func (c warden) inferHot(add addCaution) {
	for _, y := range c.values.List {
		if y.state != done || y.limit || y.val.Class != formula.Number || y.val.Type.Kind != units.Point ||
			y.val.Type.Dim != circuit.DimKelvin || y == c.design.ambient || circuit.SameSymbol(y.name, "TA") {
			continue
		}
		if _, hi := c.sureEnds(y.val.Reg); hi > touchLimit {
			add("hot surface", y.name+" reaches "+units.FormatFloat(hi, y.val.Type, units.Style{Digits: 3}),
				position(y.entry.Text.Pos(0)), "")
		}
	}
}
