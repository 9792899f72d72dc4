package eval

import (
	"math/big"
	"slices"
	"strings"

	"guardband/eval/bound"
	"guardband/eval/circuit"
	"guardband/eval/formula"
	"guardband/eval/network"
)

// This file reads the rows of facts as curves of the network.

// curveRow is a row of a fact: its ends and where it is stated, 0 where absent.
type curveRow struct {
	min, max, atLow, atHigh bound.Reg
	stated                  bool // it names the quantity it is stated at
}

// rows are those of a fact whose conditions cover the use of a part, those on
// the quantity at which they are stated aside; those with a ~ are not looked at. q chooses among pins.
func (b *boardNet) rows(m *circuit.Component, q *circuit.Pin, names []string, at ...string) []curveRow {
	c := b.c
	if m.Part == nil {
		return nil
	}
	y := b.factOf(m, q, names)
	if y == nil {
		return nil
	}
	var out []curveRow
	for _, r := range y.rows {
		x := curveRow{min: c.endReg(r, 0), max: c.endReg(r, 2)}
		if _, exact := c.b.ConstOf(y.val.Reg); exact && len(y.rows) == 1 {
			x.min, x.max = y.val.Reg, y.val.Reg
		}
		covered := !r.bad
		for _, d := range c.conditionsOf(y, r) {
			switch {
			case slices.Contains(at, "~"+d.name):
			case slices.Contains(at, d.name):
				x.stated = true
				x.atLow, x.atHigh = valueReg(d.lo), valueReg(d.hi)
			case c.coversOne(y, d) != nil:
				covered = false
			}
		}
		if covered && !r.bad && (x.min != 0 || x.max != 0) {
			b.rest(&symbol{name: y.name, entry: r.entry, comp: m,
				rows:  []*row{{entry: r.entry, unconfirmed: r.unconfirmed, cols: r.cols, ends: r.ends}},
				cites: c.citesOf(r.entry), assumed: assumedOf(r.entry),
				val:  formula.Value{Class: y.val.Class, Type: y.val.Type, Unit: y.val.Unit, Reg: y.val.Reg},
				cols: r.cols, state: done})
			out = append(out, x)
		}
	}
	return out
}

// factOf is the first fact of a part that goes by one of some names.
func (b *boardNet) factOf(m *circuit.Component, q *circuit.Pin, names []string) *symbol {
	c, pin := b.c, ""
	if q != nil {
		pin = q.Row.Name
	}
	for _, want := range names {
		if name, th, ok := strings.Cut(want, "("); ok {
			want, pin = name, strings.TrimSuffix(th, ")")
		}
		for _, f := range m.Part.FactsFor("spec", pin, want) {
			if y, err := c.fact(m, "spec", f.Name, pin); y != nil && err == nil {
				if c.lower(y); y.val.Class == formula.Number {
					return y
				}
			}
		}
	}
	return nil
}

// endReg is an end of a row in the graph: of a single number both ends are it.
func (c *compiler) endReg(r *row, k int) bound.Reg {
	if r.cols[k] != nil {
		return r.cols[k].Reg
	}
	in := r.in.Lo
	if k == 2 {
		in = r.in.Hi
	}
	if in != nil {
		return c.b.Const(in)
	}
	return 0
}

func valueReg(v *formula.Value) bound.Reg {
	if v == nil {
		return 0
	}
	return v.Reg
}

// curve reads the rows of a voltage that rises with a current: the one value
// that holds at every current, or points in the order of their currents.
func (b *boardNet) curve(m *circuit.Component, q *circuit.Pin, names []string, at ...string) (held bound.Reg, points []network.Point) {
	rows := b.rows(m, q, names, at...)
	for _, r := range rows {
		if !r.stated && r.min != 0 && r.max != 0 {
			return b.factOf(m, q, names).val.Reg, nil
		}
	}
	put := func(x network.Point) {
		at, v := b.magnitude(x.At)
		if v == nil || v.Sign() == 0 {
			return
		}
		x.At = at
		k := 0
		for k < len(points) && b.size(points[k].At).Cmp(v) < 0 {
			k++
		}
		if k == len(points) || b.size(points[k].At).Cmp(v) > 0 {
			points = slices.Insert(points, k, x)
			return
		}
		have := &points[k]
		ends := [][2]*bound.Reg{{&have.Min, &x.Min}, {&have.Max, &x.Max}, {&have.SureMin, &x.SureMin}, {&have.SureMax, &x.SureMax}}
		for _, p := range ends {
			if *p[0] == 0 {
				*p[0] = *p[1]
			}
		}
	}
	for _, r := range rows {
		low, high := r.atLow, r.atHigh
		if l, h := b.size(low), b.size(high); l != nil && h != nil && l.Cmp(h) > 0 {
			low, high = high, low // counted as negative
		}
		x := network.Point{Min: r.min, Max: r.max, At: high, SureMin: r.min, SureMax: r.max}
		switch {
		case !r.stated:
			b.assume(names[0] + " of " + m.Ref + " applies at every current that it has")
			x.At = b.c.b.Const(anyCurrent)
		case low == 0:
		case high == 0:
			x = network.Point{Min: r.min, At: low}
		case low == high:
			x = network.Point{Min: r.min, Max: r.max, At: low}
		default:
			put(network.Point{Min: r.min, At: low})
			x.Min = 0
		}
		put(x)
	}
	return 0, points
}

func (b *boardNet) signed(r bound.Reg) *big.Rat {
	if r == 0 {
		return nil
	}
	v, _ := b.c.b.ConstOf(r)
	return v
}

func (b *boardNet) size(r bound.Reg) *big.Rat {
	if r == 0 {
		return nil
	}
	_, v := b.magnitude(r)
	return v
}

// either is a current up to so much in either direction; both are stated.
func (b *boardNet) either(name string, most bound.Reg) bound.Reg {
	down := new(big.Rat).Neg(one)
	share := b.c.newInput(&input{name: name + " as a share of its maximum", in: bound.Input{Lo: down, Hi: one, SureLo: down, SureHi: one}})
	return b.c.b.Binary(bound.OpMul, share, most)
}
