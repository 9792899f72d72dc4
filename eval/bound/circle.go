package bound

import "math"

const (
	// pi/2 in three parts; the first two have few enough bits that an integer
	// below 2^17 times each is exact. The rest is below 2^-118.
	quarter1 = 0x1.921fb544p+0
	quarter2 = 0x1.0b4611a6p-34
	quarter3 = 0x1.3198a2e037073p-69

	circleReach = 0x1p16 // largest argument that is reduced; beyond it only -1..1 is known
	reduceError = 0x1p-100
)

// quadrant gives x = k·pi/2 + h + l with |h| <= pi/4 and l small beside h, to
// within reduceError.
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
// neighbours and reduceError.
func sinCos(x float64, quarters int) float64 {
	k, h, l := quadrant(x)
	s, c := math.Sin(h), math.Cos(h)
	switch (k + quarters) & 3 {
	case 0:
		return s + l*c
	case 1:
		return c - l*s
	case 2:
		return -(s + l*c)
	}
	return l*s - c
}

func circleDown(x float64, quarters int) float64 {
	return max(below(sinCos(x, quarters), slack)-reduceError, -1)
}

func circleUp(x float64, quarters int) float64 {
	return min(above(sinCos(x, quarters), slack)+reduceError, 1)
}

// passes tells whether a holds a point (n + 4m)·pi/2, possibly one too many
// within 1e-10 outside it, where the function is flat to the last bit.
func passes(a ival, n int) bool {
	lo := a.lo*(2/math.Pi) - 1e-10 - float64(n)
	hi := a.hi*(2/math.Pi) + 1e-10 - float64(n)
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
	out := ival{
		min(circleDown(a.lo, quarters), circleDown(a.hi, quarters)),
		max(circleUp(a.lo, quarters), circleUp(a.hi, quarters)), a.u,
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

// tanNear is close to tan x away from its poles.
func tanNear(x float64) float64 {
	k, h, l := quadrant(x)
	t := math.Tan(h)
	t += l * (1 + t*t)
	if k&1 == 0 {
		return t
	}
	return -1 / t
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
	return ival{tanDown(a.lo), -tanDown(-a.hi), a.u}
}

func tanDown(x float64) float64 {
	t := tanNear(x)
	return below(t, slack) - reduceError*(1+t*t)
}
