package bound

import "math"

// twofold is an unevaluated sum of two float64 values of about 106 bits
// (Dekker; Handbook of Floating-Point Arithmetic, chapter 14).
type twofold struct{ hi, lo float64 }

func quickSum(a, b float64) twofold {
	s := a + b
	return twofold{s, b - (s - a)}
}

func twoSum(a, b float64) twofold {
	s := a + b
	t := s - a
	return twofold{s, (a - (s - t)) + (b - t)}
}

func twoProduct(a, b float64) twofold {
	p := float64(a * b)
	return twofold{p, math.FMA(a, b, -p)}
}

func (a twofold) add(b twofold) twofold {
	s := twoSum(a.hi, b.hi)
	return quickSum(s.hi, s.lo+(a.lo+b.lo))
}

func (a twofold) mul(b twofold) twofold {
	p := twoProduct(a.hi, b.hi)
	return quickSum(p.hi, p.lo+(float64(a.hi*b.lo)+float64(a.lo*b.hi)))
}

func (a twofold) neg() twofold { return twofold{-a.hi, -a.lo} }

func (a twofold) div(b twofold) twofold {
	q := a.hi / b.hi
	r := a.add(b.mul(twofold{q, 0}).neg())
	return quickSum(q, (r.hi+r.lo)/b.hi)
}

// Coefficients of the series of sine and cosine in the square of the angle.
// The low parts are those of 1/6, 1/120, 1/5040, 1/24 and 1/720.
var (
	sineHead = [3]twofold{{-1.0 / 5040, -0x1.a01a01a01a01ap-73}, {1.0 / 120, 0x1.1111111111111p-63}, {-1.0 / 6, -0x1.5555555555555p-57}}
	sineTail = [7]float64{
		1.0 / 51090942171709440000, -1.0 / 121645100408832000, 1.0 / 355687428096000, -1.0 / 1307674368000,
		1.0 / 6227020800, -1.0 / 39916800, 1.0 / 362880,
	}
	cosineHead = [3]twofold{{-1.0 / 720, 0x1.f49f49f49f49fp-65}, {1.0 / 24, 0x1.5555555555555p-59}, {-0.5, 0}}
	cosineTail = [7]float64{
		2.0 / 4865804016353280000, -1.0 / 6402373705728000, 1.0 / 20922789888000, -1.0 / 87178291200,
		1.0 / 479001600, -1.0 / 3628800, 1.0 / 40320,
	}
)

// sinCosTwofold gives sine and cosine of an angle of at most pi/4 to within
// 2^-68 relative.
func sinCosTwofold(r twofold) (s, c twofold) {
	z := r.mul(r)
	s, c = seriesOf(z, sineTail[:], sineHead), seriesOf(z, cosineTail[:], cosineHead)
	s = r.add(r.mul(z.mul(s)))
	c = twofold{1, 0}.add(z.mul(c))
	return s, c
}

func seriesOf(z twofold, tail []float64, head [3]twofold) twofold {
	t := tail[0]
	for _, c := range tail[1:] {
		t = math.FMA(t, z.hi, c)
	}
	sum := twofold{t, 0}
	for _, c := range head {
		sum = c.add(z.mul(sum))
	}
	return sum
}

// turned gives sine and cosine of any angle within circleReach.
func turned(x float64) (s, c twofold) {
	k, h, l := quadrant(x)
	s, c = sinCosTwofold(quickSum(h, l))
	switch k & 3 {
	case 1:
		return c, s.neg()
	case 2:
		return s.neg(), c.neg()
	case 3:
		return c.neg(), s
	}
	return s, c
}
