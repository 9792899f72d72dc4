package formula

import (
	"math/big"

	"guardband/eval/bound"
	"guardband/units"
)

// arithmetic is + - * / ^ of two numbers.
func (c *checker) arithmetic(n *Node) Value {
	a, aok := c.number(n.Args[0])
	b, bok := c.number(n.Args[1])
	if !aok || !bok {
		return Value{}
	}
	if n.Word == "^" {
		return c.power(n, a, b)
	}
	at, bt := c.typed(n.Args[0]), c.typed(n.Args[1])
	if n.Word == "+" || n.Word == "-" {
		a, b = c.waved(a, b)
	}
	t, err := units.Combine(n.Word, a.Type, b.Type, at, bt)
	if err != nil {
		c.typeError(n, c.percentHint(n, err, a, b))
		return Value{}
	}
	if n.Word == "*" || n.Word == "/" {
		t.Sense = c.sensed(n, t, a, b)
	}
	v := Value{Class: Number, Type: t, Fixed: a.Fixed && b.Fixed}
	switch n.Word {
	case "+":
		v.Reg, v.Unit = c.b.Binary(bound.OpAdd, a.Reg, b.Reg), sumUnit(t, a, b)
	case "-":
		v.Reg, v.Unit = c.b.Binary(bound.OpSub, a.Reg, b.Reg), sumUnit(t, a, b)
	case "*":
		v.Reg, v.Unit = c.b.Binary(bound.OpMul, a.Reg, b.Reg), scaledUnit(t, a, b)
	default:
		v.Reg = c.b.Binary(bound.OpDiv, a.Reg, b.Reg)
		if b.Type == (units.Type{}) {
			v.Unit = scaledUnit(t, a, b)
		}
		c.noteAt(v.Reg, n)
	}
	return v
}

// waved lets an exact zero without a tag go with what is stated as r.m.s. or
// peak: nothing is nothing however it is counted.
func (c *checker) waved(a, b Value) (Value, Value) {
	for _, p := range [][2]*Value{{&a, &b}, {&b, &a}} {
		if v, ok := c.b.ConstOf(p[0].Reg); ok && v.Sign() == 0 && p[0].Type.Wave == units.NoWave && p[0].Type.Dim == p[1].Type.Dim {
			p[0].Type.Wave = p[1].Type.Wave
		}
	}
	return a, b
}

// percentHint offers the product where someone adds a percentage.
func (c *checker) percentHint(n *Node, err *units.Error, a, b Value) *units.Error {
	lit := n.Args[1].bare()
	if (n.Word != "+" && n.Word != "-") || lit.Kind != NodeLiteral || lit.Lit.Unit.Symbol != "%" || a.Type.Dim.IsZero() {
		return err
	}
	e := *err
	e.Hint = "a share of the left side is `" + c.typed(n.Args[0]) + " * (1 " + n.Word + " " + c.typed(n.Args[1]) +
		")`; a tolerance has no space after its signs and ends a whole right-hand side"
	return &e
}

// sumUnit is the unit to show a sum or difference in.
func sumUnit(t units.Type, a, b Value) *units.Unit {
	for _, v := range []Value{a, b} {
		if v.Unit != nil && v.Unit.Type.Kind == t.Kind && v.Unit.Type.Dim == t.Dim && v.Unit.Type.Ref == t.Ref {
			return v.Unit
		}
	}
	return nil
}

// scaledUnit is the unit of a number multiplied by a plain factor.
func scaledUnit(t units.Type, a, b Value) *units.Unit {
	for _, v := range []Value{a, b} {
		if v.Unit != nil && v.Unit.Symbol != "" && v.Unit.Offset == nil && v.Type.Dim == t.Dim && !t.Dim.IsZero() {
			return v.Unit
		}
	}
	return nil
}

// negate is a sign before a number.
func (c *checker) negate(n *Node) Value {
	a, ok := c.number(n.Args[0])
	if !ok {
		return Value{}
	}
	typ, err := units.Negate(a.Type, c.typed(n.Args[0]))
	if err != nil {
		c.typeError(n, err)
		return Value{}
	}
	given := a.Given && n.Args[0].Kind == NodeLiteral
	a = a.worked()
	a.Type, a.Given = typ, given
	a.Reg = c.b.Unary(bound.OpNeg, a.Reg)
	return a
}

// maxExponent bounds whole exponents; the constants they make stay short.
const maxExponent = 1024

// power is a to the b: exponents that are whole or half a whole number raise
// the dimension too, others need a plain number.
func (c *checker) power(n *Node, a, b Value) Value {
	if b.Type.Kind == units.Kelvin || b.Type != (units.Type{}) {
		c.fail(n.Args[1], "power-exponent", "an exponent is a plain number; `"+c.typed(n.Args[1])+"` is "+b.Type.Words(), "")
		return Value{}
	}
	exp, constant := c.b.ConstOf(b.Reg)
	num, half := 0, false
	if constant {
		num, half, constant = halves(exp)
	}
	if !constant {
		return c.realPower(n, a, b)
	}
	den := 1
	if half {
		den = 2
	}
	t, err := units.Power(a.Type, num, den, c.typed(n.Args[0]))
	if err != nil {
		c.typeError(n, err)
		return Value{}
	}
	v := Value{Class: Number, Type: t, Fixed: a.Fixed}
	if half {
		v.Reg = c.b.PowInt(c.b.Unary(bound.OpSqrt, a.Reg), num)
	} else {
		v.Reg = c.b.PowInt(a.Reg, num)
	}
	if half || num <= 0 {
		c.noteAt(v.Reg, n)
	}
	return v
}

// halves reads an exponent as num, or num/2 where half is true.
func halves(r *big.Rat) (num int, half, ok bool) {
	d := r.Denom()
	if !d.IsInt64() || d.Int64() > 2 || !r.Num().IsInt64() {
		return 0, false, false
	}
	n := r.Num().Int64()
	if n > maxExponent || n < -maxExponent {
		return 0, false, false
	}
	return int(n), d.Int64() == 2, true
}

// realPower is a power whose exponent is no whole or half number.
func (c *checker) realPower(n *Node, a, b Value) Value {
	if a.Type != (units.Type{}) {
		c.fail(n, "power-base", "only a plain number has a power like `"+c.typed(n.Args[1])+"`; `"+c.typed(n.Args[0])+"` is "+a.Type.Words(),
			"divide by a unit first, as in `("+c.typed(n.Args[0])+" / 1 V)^x`")
		return Value{}
	}
	r := c.b.Binary(bound.OpPow, a.Reg, b.Reg)
	c.noteAt(r, n)
	return Value{Class: Number, Reg: r, Fixed: a.Fixed && b.Fixed}
}
