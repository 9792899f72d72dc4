package bound

import "math/big"

type ratStatus uint8

const (
	ratOK         ratStatus = iota
	ratIrrational           // has a value that is no rational, or one too long to keep
	ratUndefined            // has no value
)

// maxBits bounds the length of exact rationals; beyond it enclosures take
// over.
const maxBits = 1 << 14

func keep(r *big.Rat) (*big.Rat, ratStatus) {
	if r.Num().BitLen() > maxBits || (!r.IsInt() && r.Denom().BitLen() > maxBits) {
		return nil, ratIrrational
	}
	return r, ratOK
}

// ratUnary applies an operation to an exact rational.
func ratUnary(op Op, a *big.Rat) (*big.Rat, ratStatus) {
	switch op {
	case OpNeg:
		return new(big.Rat).Neg(a), ratOK
	case OpAbs:
		return new(big.Rat).Abs(a), ratOK
	case OpSqrt:
		return ratSqrt(a)
	case opNothing:
		return new(big.Rat), ratOK
	case opUnit:
		if a.Sign() == 0 {
			return nil, ratUndefined
		}
		return big.NewRat(1, 1), ratOK
	}
	return ratSpecial(op, a)
}

// ratSpecial knows the rational values of functions that are irrational
// elsewhere.
func ratSpecial(op Op, a *big.Rat) (*big.Rat, ratStatus) {
	switch op {
	case OpExp, OpCos:
		if a.Sign() == 0 {
			return big.NewRat(1, 1), ratOK
		}
	case OpSin, OpTan, OpAtan, OpAsin:
		if a.Sign() == 0 {
			return new(big.Rat), ratOK
		}
	case OpLn, OpLog10:
		if a.Sign() <= 0 {
			return nil, ratUndefined
		}
		if op == OpLog10 {
			return ratLog10(a)
		}
		if isInt(a, 1) {
			return new(big.Rat), ratOK
		}
	case OpAcos:
		if isInt(a, 1) {
			return new(big.Rat), ratOK
		}
	}
	if (op == OpAsin || op == OpAcos) && new(big.Rat).Abs(a).Cmp(big.NewRat(1, 1)) > 0 {
		return nil, ratUndefined
	}
	return nil, ratIrrational
}

// ratLog10 gives the logarithm of exact powers of ten.
func ratLog10(a *big.Rat) (*big.Rat, ratStatus) {
	n, sign := a.Num(), int64(1)
	if n.IsInt64() && n.Int64() == 1 && !a.IsInt() {
		n, sign = a.Denom(), -1
	} else if !a.IsInt() {
		return nil, ratIrrational
	}
	digits := int64(len(n.String()) - 1)
	if new(big.Int).Exp(big.NewInt(10), big.NewInt(digits), nil).Cmp(n) != 0 {
		return nil, ratIrrational
	}
	return new(big.Rat).SetInt64(sign * digits), ratOK
}

func ratSqrt(a *big.Rat) (*big.Rat, ratStatus) {
	if a.Sign() < 0 {
		return nil, ratUndefined
	}
	num := new(big.Int).Sqrt(a.Num())
	den := new(big.Int).Sqrt(a.Denom())
	r := new(big.Rat).SetFrac(num, den)
	if new(big.Rat).Mul(r, r).Cmp(a) != 0 {
		return nil, ratIrrational
	}
	return r, ratOK
}

// ratBinary applies an operation to two exact rationals.
func ratBinary(op Op, a, b *big.Rat) (*big.Rat, ratStatus) {
	switch op {
	case OpAdd:
		return keep(new(big.Rat).Add(a, b))
	case OpSub:
		return keep(new(big.Rat).Sub(a, b))
	case OpMul:
		return keep(new(big.Rat).Mul(a, b))
	case OpDiv:
		if b.Sign() == 0 {
			return nil, ratUndefined
		}
		return keep(new(big.Rat).Quo(a, b))
	case OpMin:
		if b.Cmp(a) < 0 {
			return b, ratOK
		}
		return a, ratOK
	case OpMax:
		if b.Cmp(a) > 0 {
			return b, ratOK
		}
		return a, ratOK
	case OpPow:
		return ratPow(a, b)
	}
	return nil, ratIrrational
}

// ratPow is the real power: base above 0, or base 0 with exponent above 0.
func ratPow(a, b *big.Rat) (*big.Rat, ratStatus) {
	switch {
	case a.Sign() < 0, a.Sign() == 0 && b.Sign() <= 0:
		return nil, ratUndefined
	case a.Sign() == 0:
		return new(big.Rat), ratOK
	case isInt(a, 1), b.Sign() == 0:
		return big.NewRat(1, 1), ratOK
	case b.IsInt() && b.Num().IsInt64():
		n := b.Num().Int64()
		if n > maxBits || n < -maxBits {
			return nil, ratIrrational
		}
		return ratPowInt(a, int(n))
	case b.Denom().IsInt64() && b.Denom().Int64() == 2 && b.Num().IsInt64():
		root, status := ratSqrt(a)
		if status != ratOK {
			return nil, status
		}
		return ratPow(root, new(big.Rat).SetInt(b.Num()))
	}
	return nil, ratIrrational
}

func ratPowInt(a *big.Rat, n int) (*big.Rat, ratStatus) {
	if n == 0 {
		return big.NewRat(1, 1), ratOK
	}
	if a.Sign() == 0 {
		if n < 0 {
			return nil, ratUndefined
		}
		return new(big.Rat), ratOK
	}
	size := a.Num().BitLen()
	if !a.IsInt() {
		size = max(size, a.Denom().BitLen())
	}
	m := n
	if m < 0 {
		m = -m
	}
	if m > maxBits || (size-1)*m > maxBits {
		return nil, ratIrrational
	}
	e := big.NewInt(int64(m))
	num, den := new(big.Int).Exp(a.Num(), e, nil), new(big.Int).Exp(a.Denom(), e, nil)
	if n < 0 {
		num, den = den, num
	}
	return new(big.Rat).SetFrac(num, den), ratOK
}
