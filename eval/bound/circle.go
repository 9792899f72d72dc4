package bound

import "math"

const (
	circleReach = 0x1p16  // largest argument that is looked at; beyond it only -1..1 is known
	reduceError = 0x1p-80 // of the library's argument within a turn, per unit of the argument
)

// circleEnds bounds the sine of x + quarters·pi/2 for 0 or 1 quarters.
func circleEnds(x float64, quarters int) (lo, hi float64) {
	v, e := math.Sin(x), math.Abs(x)*reduceError
	if quarters == 1 {
		v = math.Cos(x)
	}
	return max(below(v, slack)-e, -1), min(above(v, slack)+e, 1)
}

// passes tells whether a holds a point (n + 4m)·pi/2, possibly one too many
// within 1e-10 outside it, where the function is flat to the last bit.
func passes(a ival, n int) bool {
	lo := float64(a.lo*(2/math.Pi)) - 1e-10 - float64(n)
	hi := float64(a.hi*(2/math.Pi)) + 1e-10 - float64(n)
	return math.Floor(hi/4) >= math.Ceil(lo/4)
}

// circle encloses sin(x + quarters·pi/2) over a.
func circle(a ival, quarters int) ival {
	if a.empty() {
		return a
	}
	if !(a.lo >= -circleReach && a.hi <= circleReach) || a.hi-a.lo > 7 {
		return ival{-1, 1, a.u}
	}
	lo, hi := circleEnds(a.lo, quarters)
	out := ival{lo, hi, a.u}
	if a.hi != a.lo {
		lo, hi = circleEnds(a.hi, quarters)
		out.lo, out.hi = min(out.lo, lo), max(out.hi, hi)
	}
	if passes(a, 1-quarters) {
		out.hi = 1
	}
	if passes(a, 3-quarters) {
		out.lo = -1
	}
	return out
}

func sin(a ival) ival {
	if a.lo == 0 && a.hi == 0 {
		return a
	}
	return circle(a, 0)
}

func cos(a ival) ival {
	if a.lo == 0 && a.hi == 0 {
		return ival{1, 1, a.u}
	}
	return circle(a, 1)
}

// tan encloses the tangent; over a pole it is unbounded and may have no value.
func tan(a ival) ival {
	switch {
	case a.empty():
		return a
	case a.lo == 0 && a.hi == 0:
		return a
	case !(a.lo >= -circleReach && a.hi <= circleReach), a.hi-a.lo > 4, passes(a, 1), passes(a, 3):
		return ival{-inf, inf, true}
	}
	return ival{tanAt(a.lo).lo, tanAt(a.hi).hi, a.u}
}

// tanAt encloses the tangent where the cosine is not near 0.
func tanAt(x float64) ival {
	s0, s1 := circleEnds(x, 0)
	c0, c1 := circleEnds(x, 1)
	return div(ival{lo: s0, hi: s1}, ival{lo: c0, hi: c1})
}
