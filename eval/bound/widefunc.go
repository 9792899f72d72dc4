package bound

import "math/big"

// apply encloses an elementary function over an enclosure of its argument.
// ok is false where the enclosure touches a point without a value or reaches
// beyond what can be reduced.
func (a wide) apply(op Op) (out wide, ok bool) {
	switch op {
	case OpExp:
		return a.exp(), true
	case OpLn, OpLog10:
		if a.lo.Sign() <= 0 {
			return wide{}, false
		}
		out = a.rising(lnWork)
		if op == OpLog10 {
			out = out.div(wideOfInt(10).rising(lnWork))
		}
		return out, true
	case OpSin, OpCos, OpTan:
		return a.circle(op)
	case OpAtan:
		return a.rising(atanWork), true
	case OpAsin:
		if !a.within(1) {
			return wide{}, false
		}
		return a.rising(asinWork), true
	case OpAcos:
		if !a.within(1) {
			return wide{}, false
		}
		return wide{around(acosWork(a.hi)).lo, around(acosWork(a.lo)).hi}, true
	}
	return wide{}, false
}

func (a wide) within(n int64) bool {
	return a.lo.Cmp(workInt(-n)) >= 0 && a.hi.Cmp(workInt(n)) <= 0
}

func (a wide) exp() wide {
	out := a.rising(expWork)
	if out.lo.IsInf() {
		out.lo = floatDown().SetMantExp(big.NewFloat(1), 1<<30)
	}
	if out.hi.Sign() == 0 {
		out.hi = floatUp().SetMantExp(big.NewFloat(1), -1<<30)
	}
	return out
}

func asinWork(x *big.Float) *big.Float {
	rest := newWork().Mul(newWork().Sub(workInt(1), x), newWork().Add(workInt(1), x))
	if rest.Sign() == 0 {
		return atanWork(newWork().SetInf(x.Sign() < 0))
	}
	return atanWork(newWork().Quo(x, rest.Sqrt(rest)))
}

func acosWork(x *big.Float) *big.Float {
	below := newWork().Add(workInt(1), x)
	if below.Sign() == 0 {
		return piWork()
	}
	q := newWork().Quo(newWork().Sub(workInt(1), x), below)
	y := atanWork(q.Sqrt(q))
	return y.SetMantExp(y, 1)
}

// maxCircle is the largest binary exponent of an angle that is reduced.
const maxCircle = 4096

// circle takes sine, cosine or tangent at the middle and widens by the radius,
// both functions having slopes of at most 1.
func (a wide) circle(op Op) (wide, bool) {
	if a.lo.IsInf() || a.hi.IsInf() || a.lo.MantExp(nil) > maxCircle || a.hi.MantExp(nil) > maxCircle {
		return wide{}, false
	}
	mid := newWork().Add(a.lo, a.hi)
	mid.SetMantExp(mid, -1)
	radius := larger(floatUp().Sub(a.hi, mid), floatUp().Sub(mid, a.lo))
	s, c, near := sinCosWork(mid)
	if !near {
		radius = floatUp().Add(radius, new(big.Float).SetMantExp(big.NewFloat(1), 8-workBits))
	}
	sine, cosine := around(s).spread(radius), around(c).spread(radius)
	switch op {
	case OpSin:
		return sine, true
	case OpCos:
		return cosine, true
	}
	if cosine.sign() == 0 {
		return wide{}, false
	}
	return sine.div(cosine), true
}

// spread widens by a radius and keeps to -1..1.
func (a wide) spread(radius *big.Float) wide {
	one := floatUp().SetInt64(1)
	lo, hi := floatDown().Sub(a.lo, radius), floatUp().Add(a.hi, radius)
	return wide{larger(lo, floatDown().SetInt64(-1)), smaller(hi, one)}
}
