package bound

import "math"

// Elementary functions over intervals. The library functions are not rounded
// correctly; slack is the number of float64 neighbours added on each side. The
// largest errors found against published values are in elem_test.go, which
// fails if one comes near its slack.
const slack = 2

// below steps k neighbours down, above k up.
func below(x float64, k int) float64 {
	if math.Abs(x) < 100*math.SmallestNonzeroFloat64 {
		return x - float64(k)*math.SmallestNonzeroFloat64
	}
	return stepBits(x, x < 0, k)
}

func above(x float64, k int) float64 { return -below(-x, k) }

func stepBits(x float64, away bool, k int) float64 {
	bits := math.Float64bits(x)
	if away {
		return math.Float64frombits(bits + uint64(k))
	}
	return math.Float64frombits(bits - uint64(k))
}

const (
	expTop    = 709       // e^709 is a float64, so is its neighbourhood
	expBottom = -708      // below, results become subnormal
	expFloor  = 0x1p-1021 // above e^-708
)

// near encloses what a library function gives as v.
func near(v float64) ival { return ival{lo: below(v, slack), hi: above(v, slack)} }

// point is the interval of one number.
func point(x float64) ival { return ival{lo: x, hi: x} }

// monotone encloses a function that rises, of which at encloses the values.
func monotone(a ival, at func(float64) ival) ival {
	if a.empty() {
		return a
	}
	return ival{at(a.lo).lo, at(a.hi).hi, a.u}
}

func expAt(x float64) ival {
	switch {
	case x < expBottom:
		return ival{hi: expFloor}
	case x > expTop:
		return ival{lo: near(math.Exp(expTop)).lo, hi: inf}
	case x == 0:
		return oneIval
	}
	return near(math.Exp(x))
}

func exp(a ival) ival { return monotone(a, expAt) }

// logarithm encloses a logarithm, of which value is near, over the part of a above 0.
func logarithm(a ival, value func(float64) float64) ival {
	if a.empty() || a.hi <= 0 {
		return emptyIval
	}
	out := monotone(a, func(x float64) ival {
		switch {
		case x <= 0:
			return point(-inf)
		case x == 1:
			return ival{}
		case x == inf:
			return point(inf)
		}
		return near(value(x))
	})
	out.u = a.u || a.lo <= 0
	return out
}

// logNear is close to ln x for x > 0, also where x is subnormal.
func logNear(x float64) float64 {
	if x < 0x1p-1000 {
		return math.Log(x*0x1p100) - 100*math.Ln2
	}
	return math.Log(x)
}

const (
	invLn10     = 0x1.bcb7b1526e50ep-2
	invLn10Rest = 0x1.95355baaafad3p-57
)

func log10Near(x float64) float64 {
	l := logNear(x)
	p := float64(l * invLn10)
	return p + (math.FMA(l, invLn10, -p) + float64(l*invLn10Rest))
}

func ln(a ival) ival { return logarithm(a, logNear) }

func log10(a ival) ival { return logarithm(a, log10Near) }

func atan(a ival) ival {
	return monotone(a, func(x float64) ival {
		if x == 0 {
			return ival{}
		}
		return near(math.Atan(x))
	})
}

const (
	halfPiDown = 0x1.921fb54442d18p+0
	halfPiUp   = 0x1.921fb54442d19p+0
	piDown     = 0x1.921fb54442d18p+1
	piUp       = 0x1.921fb54442d19p+1
)

// inUnit is the part of a from -1 to 1.
func inUnit(a ival) ival {
	if a.empty() || a.hi < -1 || a.lo > 1 {
		return emptyIval
	}
	return ival{max(a.lo, -1), min(a.hi, 1), a.u || a.lo < -1 || a.hi > 1}
}

// asinAt encloses asin x = atan(x / √((1 - x)(1 + x))).
func asinAt(x float64) ival {
	switch x {
	case -1:
		return ival{lo: -halfPiUp, hi: -halfPiDown}
	case 1:
		return ival{lo: halfPiDown, hi: halfPiUp}
	}
	rest := mul(sub(oneIval, point(x)), add(oneIval, point(x)))
	return atan(div(point(x), sqrt(rest)))
}

func asin(a ival) ival { return monotone(inUnit(a), asinAt) }

// acosAt encloses acos x = 2 atan √((1 - x) / (1 + x)).
func acosAt(x float64) ival {
	if x == -1 {
		return piIval
	}
	half := atan(sqrt(div(sub(oneIval, point(x)), add(oneIval, point(x)))))
	return add(half, half)
}

// acos falls: it is what rises turned round.
func acos(a ival) ival {
	return neg(monotone(inUnit(a), func(x float64) ival { return neg(acosAt(x)) }))
}

// power encloses a^b for a base above 0, and 0 for base 0 with an exponent
// above 0.
func power(a, b ival) ival {
	if a.empty() || b.empty() || a.hi < 0 {
		return emptyIval
	}
	u := a.u || b.u || a.lo < 0 || (a.lo <= 0 && b.lo <= 0)
	if a.hi == 0 {
		if b.hi <= 0 {
			return emptyIval
		}
		return ival{0, 0, u}
	}
	out := exp(mul(b, ln(ival{lo: max(a.lo, 0), hi: a.hi})))
	if a.lo <= 0 && b.hi > 0 {
		out.lo = 0
	}
	out.u = u
	return out
}
