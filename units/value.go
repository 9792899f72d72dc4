package units

import (
	"math/big"
	"strings"
)

// Value is a right-hand side made of literals alone, worked out. A nil column
// is not stated. Single: all three are equal. Range: Typ is nil. Deviated: Typ
// is the centre.
type Value struct {
	Shape         Shape
	Min, Typ, Max *Quantity
}

// ParseValue reads a right-hand side in which every leaf is a literal. The
// ends of ranges and columns must rise, and all leaves must be of one type.
func ParseValue(s string) (Value, *Error) {
	p, err := Split(s)
	if err != nil {
		return Value{}, err
	}
	v := valueReader{s: s, p: p}
	switch p.Shape {
	case Range:
		return v.rangeOf()
	case Deviated:
		return v.deviated()
	case Columns:
		return v.columns()
	}
	q := v.read(p.Single)
	return Value{Single, q, q, q}, v.err
}

// valueReader reads leaves; the first complaint stays.
type valueReader struct {
	s   string
	p   Parts
	err *Error
}

func (v *valueReader) read(l Leaf) *Quantity {
	if !l.Present() || v.err != nil {
		return nil
	}
	q, err := ParseLiteral(l.Text(v.s))
	if err != nil {
		v.err = err.shift(l.Off)
		return nil
	}
	return &q
}

// shift moves the place of a complaint about a part of a text.
func (e *Error) shift(by int) *Error {
	moved := *e
	moved.Off += by
	moved.End += by
	return &moved
}

func (v *valueReader) rangeOf() (Value, *Error) {
	lo, hi := v.read(v.p.Lo), v.read(v.p.Hi)
	if v.err != nil {
		return Value{}, v.err
	}
	if v.p.Unit.Present() {
		u, err := ParseUnit(v.p.Unit.Text(v.s))
		if err != nil {
			return Value{}, err.shift(v.p.Unit.Off)
		}
		hi = inUnit(hi, u)
	}
	if lo.Unit.Symbol == "" && hi.Unit.Symbol != "" {
		lo = inUnit(lo, hi.Unit)
	}
	out := Value{Shape: Range, Min: lo, Max: hi}
	return out, v.rising(lo, hi)
}

// inUnit gives a bare number the unit of its neighbour.
func inUnit(q *Quantity, u Unit) *Quantity {
	si := new(big.Rat).Mul(q.SI, u.Factor)
	if u.Offset != nil {
		si.Add(si, u.Offset)
	}
	return &Quantity{SI: si, Type: u.Type, Unit: u, Text: strings.TrimSpace(q.Text + " " + u.Symbol + " " + u.Type.Wave.String())}
}

func (v *valueReader) rising(lo, hi *Quantity) *Error {
	if lo == nil || hi == nil {
		return nil
	}
	if _, err := Combine("<=", lo.Type, hi.Type, lo.Text, hi.Text); err != nil {
		start, stop := trimmed(v.s)
		err.Off, err.End = start, stop
		return err
	}
	if lo.SI.Cmp(hi.SI) > 0 {
		start, stop := trimmed(v.s)
		return &Error{start, stop, CodeFormReversed, lo.Text + " is more than " + hi.Text + ": the ends are reversed",
			"write the lower one first"}
	}
	return nil
}

func (v *valueReader) deviated() (Value, *Error) {
	var centre Quantity
	if v.p.Centre.Present() {
		if c := v.read(v.p.Centre); c != nil {
			centre = *c
		}
	}
	plus, minus := v.list(v.p.Plus), v.list(v.p.Minus)
	if v.err != nil {
		return Value{}, v.err
	}
	lo, hi, err := Deviate(centre, plus, minus)
	if err != nil {
		start, stop := trimmed(v.s)
		err.Off, err.End = start, stop
		return Value{}, err
	}
	if centre.SI == nil {
		centre = lo
		centre.SI, centre.Text = new(big.Rat), "0"
	}
	return Value{Deviated, &lo, &centre, &hi}, nil
}

func (v *valueReader) list(ls []Leaf) []Quantity {
	var out []Quantity
	for _, l := range ls {
		if q := v.read(l); q != nil {
			out = append(out, *q)
		}
	}
	return out
}

func (v *valueReader) columns() (Value, *Error) {
	out := Value{Shape: Columns, Min: v.read(v.p.Min), Typ: v.read(v.p.Typ), Max: v.read(v.p.Max)}
	if v.p.MaxDev.Present() && v.err == nil {
		dev := v.read(v.p.MaxDev)
		if v.err == nil {
			lo, hi, err := Deviate(Quantity{}, []Quantity{*dev}, []Quantity{*dev})
			if err != nil {
				return Value{}, err.shift(v.p.MaxDev.Off)
			}
			out.Min, out.Max = &lo, &hi
		}
	}
	if v.err != nil {
		return Value{}, v.err
	}
	for _, pair := range [][2]*Quantity{{out.Min, out.Typ}, {out.Typ, out.Max}, {out.Min, out.Max}} {
		if err := v.rising(pair[0], pair[1]); err != nil {
			return Value{}, err
		}
	}
	return out, nil
}
