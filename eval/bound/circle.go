package bound

import "math"

const (
	// pi/2 in three parts; the first two have few enough bits that an integer
	// below 2^17 times each is exact. The rest is below 2^-118.
	quarter1 = 0x1.921fb544p+0
	quarter2 = 0x1.0b4611a6p-34
	quarter3 = 0x1.3198a2e037073p-69

	circleReach = 0x1p16 // largest argument that is reduced; beyond it only -1..1 is known
	reduceError = 0x1p-117
)

// quadrant gives x = k·pi/2 + h + l with |h| <= pi/4 and l small beside h, to
// within |k|·reduceError and a relative 2^-105 of h.
func quadrant(x float64) (k int, h, l float64) {
	n := math.RoundToEven(x * (2 / math.Pi))
	r := x - float64(n*quarter1)
	w := float64(n * quarter2)
	h = r - w
	t := h - r
	e := (r - (h - t)) - (w + t)
	return int(n), h, e - float64(n*quarter3)
}

// sinCos is close to the sine of x + quarters·pi/2, off by less than slack
// neighbours and the error of the reduction.
func sinCos(x float64, quarters int) (v, reduction float64) {
	k, h, l := quadrant(x)
	s, c := math.Sin(h), math.Cos(h)
	reduction = math.Abs(float64(k)) * reduceError
	switch (k + quarters) & 3 {
	case 0:
		return s + float64(l*c), reduction
	case 1:
		return c - float64(l*s), reduction
	case 2:
		return -(s + float64(l*c)), reduction
	}
	return float64(l*s) - c, reduction
}

// circleEnds bounds the sine of x + quarters·pi/2.
func circleEnds(x float64, quarters int) (lo, hi float64) {
	v, e := sinCos(x, quarters)
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
