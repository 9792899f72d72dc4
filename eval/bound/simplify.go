package bound

import "math/big"

// Unary applies an operation of one operand: Neg, Abs, Sqrt, Exp, Ln, Log10,
// Sin, Cos, Tan, Asin, Acos, Atan or Not.
func (b *Builder) Unary(op Op, a Reg) Reg {
	if op == OpNot {
		return b.not(a)
	}
	if r, ok := b.ConstOf(a); ok {
		if v, status := ratUnary(op, r); status == ratOK {
			return b.Const(v)
		}
	}
	x := b.nodes[a]
	switch {
	case op == OpNeg && x.op == OpNeg:
		return x.a
	case op == OpNeg && x.op == OpSub:
		return b.Binary(OpSub, x.b, x.a)
	case op == OpAbs && x.op == OpAbs:
		return a
	case op == OpAbs && x.op == OpNeg:
		return b.Unary(OpAbs, x.a)
	}
	return b.intern(nodeKey{op: op, a: a}, x.total && b.always(op, x), false)
}

// always tells whether op has a value wherever its operand x has one.
func (b *Builder) always(op Op, x node) bool {
	switch op {
	case OpNeg, OpAbs, OpExp, OpSin, OpCos, OpAtan:
		return true
	case OpSqrt:
		return x.op == OpAbs || x.op == OpExp || (x.op == OpPowInt && x.n > 0 && x.n%2 == 0)
	case OpLn, OpLog10:
		return x.op == OpExp
	}
	return false
}

func (b *Builder) not(a Reg) Reg {
	x := b.nodes[a]
	switch x.op {
	case OpTrue:
		return b.falsity()
	case opFalse:
		return b.True()
	case OpNot:
		return x.a
	case opSign:
		return b.sign(x.a, signAny&^x.n)
	case OpAnd:
		return b.Binary(OpOr, b.not(x.a), b.not(x.b))
	case OpOr:
		return b.Binary(OpAnd, b.not(x.a), b.not(x.b))
	case OpIf:
		return b.If(x.a, b.not(x.b), b.not(x.c))
	}
	return b.intern(nodeKey{op: OpNot, a: a}, x.total, true)
}

// sign returns the predicate that the sign of d is one of those in mask.
func (b *Builder) sign(d Reg, mask int32) Reg {
	if r, ok := b.ConstOf(d); ok {
		return b.truthOf(mask&signOf(r) != 0)
	}
	x := b.nodes[d]
	if x.total && (mask == 0 || mask == signAny) {
		return b.truthOf(mask == signAny)
	}
	switch x.op {
	case OpNeg:
		return b.sign(x.a, flipSigns(mask))
	case OpSub: // the same for both orders, also after a substitution
		if x.b < x.a {
			return b.sign(b.Binary(OpSub, x.b, x.a), flipSigns(mask))
		}
	case OpPi:
		return b.truthOf(mask&signPos != 0)
	}
	return b.intern(nodeKey{op: opSign, n: mask, a: d}, x.total, true)
}

func signOf(r *big.Rat) int32 { return int32(1) << (r.Sign() + 1) }

func flipSigns(mask int32) int32 {
	return mask&signZero | mask>>2&signNeg | mask<<2&signPos
}

// compare makes a comparison a statement on the sign of one difference, the
// same for a < c and c < a.
func (b *Builder) compare(op Op, a, c Reg) Reg {
	mask := int32(signZero)
	switch op {
	case OpLess:
		mask = signNeg
	case OpLessEq:
		mask = signNeg | signZero
	}
	if r, ok := b.ConstOf(a); ok && r.Sign() == 0 {
		return b.sign(c, flipSigns(mask))
	}
	if c < a {
		return b.sign(b.Binary(OpSub, c, a), flipSigns(mask))
	}
	return b.sign(b.Binary(OpSub, a, c), mask)
}

// Binary applies an operation of two operands: Add, Sub, Mul, Div, Pow, Min,
// Max, Less, LessEq, Equal, And or Or.
func (b *Builder) Binary(op Op, a, c Reg) Reg {
	switch op {
	case OpLess, OpLessEq, OpEqual:
		return b.compare(op, a, c)
	case OpAnd, OpOr:
		return b.junction(op, a, c)
	}
	x, xok := b.ConstOf(a)
	y, yok := b.ConstOf(c)
	if xok && yok {
		if v, status := ratBinary(op, x, y); status == ratOK {
			return b.Const(v)
		}
	}
	if reg, ok := b.reduce(op, a, c, x, y); ok {
		return reg
	}
	if (op == OpAdd || op == OpMul || op == OpMin || op == OpMax) && c < a {
		a, c = c, a
	}
	total := b.nodes[a].total && b.nodes[c].total
	switch op {
	case OpDiv:
		total = total && yok && y.Sign() != 0
	case OpPow:
		total = total && xok && x.Sign() > 0
	}
	return b.intern(nodeKey{op: op, a: a, b: c}, total, false)
}

// reduce removes what is exactly superfluous in a operation c; x and y are the
// operands' values where they are constants, else nil.
func (b *Builder) reduce(op Op, a, c Reg, x, y *big.Rat) (Reg, bool) {
	switch op {
	case OpAdd:
		return b.reduceAdd(a, c, x, y)
	case OpSub:
		return b.reduceSub(a, c, x, y)
	case OpMul:
		return b.reduceMul(a, c, x, y)
	case OpDiv:
		if isInt(y, 1) {
			return a, true
		}
		if a == c {
			return b.intern(nodeKey{op: opUnit, a: a}, false, false), true
		}
		if m := b.nodes[a]; m.op == OpMul && (m.a == c || m.b == c) { // u·v/v is u wherever v has a value that is not 0
			other := m.a
			if m.a == c {
				other = m.b
			}
			return b.Binary(OpMul, other, b.Binary(OpDiv, c, c)), true
		}
	case OpMin, OpMax:
		if a == c {
			return a, true
		}
	case OpPow:
		if y != nil && y.Cmp(big.NewRat(1, 2)) == 0 {
			return b.Unary(OpSqrt, a), true
		}
	}
	return 0, false
}

func isInt(r *big.Rat, n int64) bool {
	return r != nil && r.IsInt() && r.Num().IsInt64() && r.Num().Int64() == n
}

func (b *Builder) reduceAdd(a, c Reg, x, y *big.Rat) (Reg, bool) {
	switch {
	case isInt(x, 0):
		return c, true
	case isInt(y, 0):
		return a, true
	case a == c:
		return b.Binary(OpMul, b.integer(2), a), true
	case b.nodes[c].op == OpNeg:
		return b.Binary(OpSub, a, b.nodes[c].a), true
	case b.nodes[a].op == OpNeg:
		return b.Binary(OpSub, c, b.nodes[a].a), true
	}
	return 0, false
}

func (b *Builder) reduceSub(a, c Reg, x, y *big.Rat) (Reg, bool) {
	switch {
	case isInt(y, 0):
		return a, true
	case isInt(x, 0):
		return b.Unary(OpNeg, c), true
	case a == c && b.nodes[a].total:
		return b.integer(0), true
	case a == c:
		return b.intern(nodeKey{op: opNothing, a: a}, false, false), true
	case b.nodes[c].op == OpNeg:
		return b.Binary(OpAdd, a, b.nodes[c].a), true
	}
	return 0, false
}

func (b *Builder) reduceMul(a, c Reg, x, y *big.Rat) (Reg, bool) {
	switch {
	case isInt(x, 1):
		return c, true
	case isInt(y, 1):
		return a, true
	case isInt(x, 0) && b.nodes[c].total:
		return a, true
	case isInt(y, 0) && b.nodes[a].total:
		return c, true
	case isInt(x, -1):
		return b.Unary(OpNeg, c), true
	case isInt(y, -1):
		return b.Unary(OpNeg, a), true
	}
	if p, n := b.power(a); n > 0 {
		if q, m := b.power(c); q == p && m > 0 && n+m <= mostExponent {
			return b.PowInt(p, n+m), true
		}
	}
	return 0, false
}

// power reads a register as base and positive exponent.
func (b *Builder) power(a Reg) (base Reg, n int) {
	if x := b.nodes[a]; x.op == OpPowInt && x.n > 0 {
		return x.a, int(x.n)
	}
	return a, 1
}

// mostExponent is the greatest integer exponent of one node, which keeps it in
// 32 bits; higher powers are products.
const mostExponent = 1 << 30

// PowInt raises a to an integer power; 0 to a negative power has no value,
// anything to the power 0 is 1.
func (b *Builder) PowInt(a Reg, n int) Reg {
	if n > mostExponent || n < -mostExponent {
		half := b.PowInt(a, n/2)
		return b.Binary(OpMul, b.Binary(OpMul, half, half), b.PowInt(a, n%2))
	}
	if r, ok := b.ConstOf(a); ok {
		if v, status := ratPowInt(r, n); status == ratOK {
			return b.Const(v)
		}
	}
	x := b.nodes[a]
	switch {
	case n == 0 && x.total:
		return b.integer(1)
	case n == 1:
		return a
	case x.op == OpPowInt && x.n > 0 && n > 0 && int64(x.n)*int64(n) <= mostExponent:
		return b.PowInt(x.a, int(x.n)*n)
	case n%2 == 0 && (x.op == OpNeg || x.op == OpAbs) && n > 0:
		return b.PowInt(x.a, n)
	case x.op == OpSqrt && n == 2 && x.total:
		return x.a
	}
	return b.intern(nodeKey{op: OpPowInt, n: int32(n), a: a}, x.total && n >= 0, false)
}

func (b *Builder) junction(op Op, a, c Reg) Reg {
	neutral, absorbing := OpTrue, opFalse
	if op == OpOr {
		neutral, absorbing = opFalse, OpTrue
	}
	x, y := b.nodes[a], b.nodes[c]
	switch {
	case a == c || y.op == neutral || x.op == absorbing:
		return a
	case x.op == neutral || y.op == absorbing:
		return c
	case x.op == opSign && y.op == opSign && x.a == y.a:
		if op == OpAnd {
			return b.sign(x.a, x.n&y.n)
		}
		return b.sign(x.a, x.n|y.n)
	}
	if c < a {
		a, c = c, a
	}
	return b.intern(nodeKey{op: op, a: a, b: c}, x.total && y.total, true)
}
