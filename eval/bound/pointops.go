package bound

import "math/big"

func exactIf(cond, then, els exact) exact {
	c := cond.can
	switch {
	case c.surelyTrue():
		return then
	case c.surelyFalse():
		return els
	case c.empty():
		return exact{none: true, can: emptyIval}
	}
	// Which branch is taken is not decided at this point: the value is one of
	// theirs, if both have one.
	out := exact{can: choose(c, then.can, els.can), doubtful: c.u || then.doubtful || els.doubtful || then.none || els.none}
	switch {
	case then.none && els.none:
		return exact{none: true, can: emptyIval}
	case then.rat != nil && els.rat != nil && then.rat.Cmp(els.rat) == 0:
		out.rat = then.rat
	case then.isNumber() && els.isNumber():
		x, y := then.enclosure(), els.enclosure()
		out.wide = wide{smaller(x.lo, y.lo), larger(x.hi, y.hi)}
	case then.isNumber():
		out.wide = then.enclosure()
	case els.isNumber():
		out.wide = els.enclosure()
	}
	return out
}

func exactUnary(op Op, a exact) exact {
	if a.none {
		return a
	}
	if a.rat != nil {
		v, status := ratUnary(op, a.rat)
		switch status {
		case ratOK:
			return exact{rat: v, doubtful: a.doubtful}
		case ratUndefined:
			return exact{none: true}
		}
	}
	out, known := wideUnary(op, a.enclosure())
	out.doubtful = out.doubtful || a.doubtful || !known
	return out
}

// wideUnary works on enclosures; known is false if there may be no value.
func wideUnary(op Op, w wide) (out exact, known bool) {
	switch op {
	case OpNeg:
		return exact{wide: w.neg()}, true
	case OpAbs:
		return exact{wide: w.abs()}, true
	case opNothing:
		return exact{rat: new(big.Rat)}, true
	case opUnit:
		return exact{rat: big.NewRat(1, 1)}, w.sign() != 0
	case OpSqrt:
		if w.hi.Sign() < 0 {
			return exact{none: true}, true
		}
		return exact{wide: w.sqrt()}, w.lo.Sign() >= 0
	case OpLn, OpLog10:
		if w.hi.Sign() <= 0 {
			return exact{none: true}, true
		}
	case OpAsin, OpAcos:
		if w.lo.Cmp(workInt(1)) > 0 || w.hi.Cmp(workInt(-1)) < 0 {
			return exact{none: true}, true
		}
	}
	v, ok := w.apply(op)
	if !ok {
		v = wide{floatDown().SetInf(true), floatUp().SetInf(false)}
	}
	return exact{wide: v}, ok
}

func exactPowInt(a exact, n int) exact {
	if a.none {
		return a
	}
	if a.rat != nil {
		v, status := ratPowInt(a.rat, n)
		switch status {
		case ratOK:
			return exact{rat: v, doubtful: a.doubtful}
		case ratUndefined:
			return exact{none: true}
		}
	}
	w := a.enclosure()
	if n < 0 && w.sign() == 0 {
		return exact{wide: wide{floatDown().SetInf(true), floatUp().SetInf(false)}, doubtful: true}
	}
	return exact{wide: w.powInt(n), doubtful: a.doubtful}
}

func exactBinary(op Op, a, b exact) exact {
	if a.none || b.none {
		return exact{none: true}
	}
	doubtful := a.doubtful || b.doubtful
	if a.rat != nil && b.rat != nil {
		v, status := ratBinary(op, a.rat, b.rat)
		switch status {
		case ratOK:
			return exact{rat: v, doubtful: doubtful}
		case ratUndefined:
			return exact{none: true}
		}
	}
	out := wideBinary(op, a, b)
	out.doubtful = out.doubtful || doubtful
	return out
}

// apart orders two numbers whose enclosures do not meet, so that a rational
// one stays exact.
func apart(a, b exact, x, y wide) (low, high exact, ok bool) {
	a, b = exact{rat: a.rat, wide: a.wide}, exact{rat: b.rat, wide: b.wide}
	switch {
	case x.hi.Cmp(y.lo) < 0:
		return a, b, true
	case y.hi.Cmp(x.lo) < 0:
		return b, a, true
	}
	return a, b, false
}

func wideBinary(op Op, a, b exact) exact {
	x, y := a.enclosure(), b.enclosure()
	switch op {
	case OpAdd:
		return exact{wide: x.add(y)}
	case OpSub:
		return exact{wide: x.sub(y)}
	case OpMul:
		if isInt(a.rat, 0) || isInt(b.rat, 0) {
			return exact{rat: new(big.Rat)}
		}
		return exact{wide: x.mul(y)}
	case OpMin:
		if low, _, ok := apart(a, b, x, y); ok {
			return low
		}
		return exact{wide: x.min(y)}
	case OpMax:
		if _, high, ok := apart(a, b, x, y); ok {
			return high
		}
		return exact{wide: x.max(y)}
	case OpDiv:
		if y.sign() != 0 && isInt(a.rat, 0) {
			return exact{rat: new(big.Rat)}
		}
		if y.sign() != 0 {
			return exact{wide: x.div(y)}
		}
	case OpPow:
		if x.hi.Sign() < 0 {
			return exact{none: true}
		}
		if isInt(a.rat, 1) || isInt(b.rat, 0) && x.lo.Sign() > 0 {
			return exact{rat: big.NewRat(1, 1)}
		}
		if l, ok := x.apply(OpLn); ok {
			return exact{wide: l.mul(y).exp()}
		}
		if isInt(a.rat, 0) && y.lo.Sign() > 0 {
			return exact{rat: new(big.Rat)}
		}
	}
	return exact{wide: wide{floatDown().SetInf(true), floatUp().SetInf(false)}, doubtful: true}
}
