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

func expDown(x float64) float64 {
	switch {
	case x < expBottom:
		return 0
	case x > expTop:
		return below(math.Exp(expTop), slack)
	case x == 0:
		return 1
	}
	return below(math.Exp(x), slack)
}

func expUp(x float64) float64 {
	switch {
	case x < expBottom:
		return expFloor
	case x > expTop:
		return inf
	case x == 0:
		return 1
	}
	return above(math.Exp(x), slack)
}

func exp(a ival) ival {
	if a.empty() {
		return a
	}
	return ival{expDown(a.lo), expUp(a.hi), a.u}
}

// logNear is close to ln x for x > 0, also where x is subnormal.
func logNear(x float64) float64 {
	if x < 0x1p-1000 {
		return math.Log(x*0x1p100) - 100*math.Ln2
	}
	return math.Log(x)
}

func lnDown(x float64) float64 {
	switch {
	case x <= 0:
		return -inf
	case x == 1:
		return 0
	}
	return below(logNear(x), slack)
}

func lnUp(x float64) float64 {
	switch {
	case x == 1, x == inf:
		return x - 1
	}
	return above(logNear(x), slack)
}

// monotone applies rising bounds on a domain that ends at bottom and top.
func monotone(a ival, bottom, top float64, down, up func(float64) float64) ival {
	if a.empty() || a.hi < bottom || a.lo > top {
		return emptyIval
	}
	u := a.u || a.lo < bottom || a.hi > top
	return ival{down(max(a.lo, bottom)), up(min(a.hi, top)), u}
}

// ln encloses the logarithm over the part of a above 0.
func ln(a ival) ival {
	if a.empty() || a.hi <= 0 {
		return emptyIval
	}
	return ival{lnDown(a.lo), lnUp(a.hi), a.u || a.lo <= 0}
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

func log10(a ival) ival {
	if a.empty() || a.hi <= 0 {
		return emptyIval
	}
	out := ival{-inf, inf, a.u || a.lo <= 0}
	if a.lo > 0 {
		out.lo = below(log10Near(a.lo), slack)
	}
	if a.hi < inf {
		out.hi = above(log10Near(a.hi), slack)
	}
	if a.lo == 1 {
		out.lo = 0
	}
	if a.hi == 1 {
		out.hi = 0
	}
	return out
}

func atanDown(x float64) float64 {
	if x == 0 {
		return 0
	}
	return below(math.Atan(x), slack)
}

func atanUp(x float64) float64 { return -atanDown(-x) }

func atan(a ival) ival {
	if a.empty() {
		return a
	}
	return ival{atanDown(a.lo), atanUp(a.hi), a.u}
}

const (
	halfPiDown = 0x1.921fb54442d18p+0
	halfPiUp   = 0x1.921fb54442d19p+0
	piDown     = 0x1.921fb54442d18p+1
	piUp       = 0x1.921fb54442d19p+1
)

// point is the interval of one number.
func point(x float64) ival { return ival{lo: x, hi: x} }

// asinDown bounds asin x = atan(x / √((1 - x)(1 + x))).
func asinDown(x float64) float64 {
	switch x {
	case -1:
		return -halfPiUp
	case 1:
		return halfPiDown
	}
	rest := mul(sub(oneIval, point(x)), add(oneIval, point(x)))
	return atan(div(point(x), sqrt(rest))).lo
}

func asinUp(x float64) float64 { return -asinDown(-x) }

func asin(a ival) ival { return monotone(a, -1, 1, asinDown, asinUp) }

// acosAt encloses acos x = 2 atan √((1 - x) / (1 + x)).
func acosAt(x float64) ival {
	if x == -1 {
		return piIval
	}
	half := atan(sqrt(div(sub(oneIval, point(x)), add(oneIval, point(x)))))
	return add(half, half)
}

func acos(a ival) ival {
	if a.empty() || a.hi < -1 || a.lo > 1 {
		return emptyIval
	}
	u := a.u || a.lo < -1 || a.hi > 1
	return ival{acosAt(min(a.hi, 1)).lo, acosAt(max(a.lo, -1)).hi, u}
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
