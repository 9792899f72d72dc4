package bound

import "math"

// confidence is the one-sided level of the binomial bounds.
const confidence = 0.95

// binomialLower is the exact one-sided lower bound of a proportion of which k
// of n were seen (Clopper and Pearson, Biometrika 26 (1934) 404).
func binomialLower(k, n int, level float64) float64 {
	if k == 0 {
		return 0
	}
	return betaQuantile(1-level, float64(k), float64(n-k+1))
}

// binomialUpper is the exact one-sided upper bound.
func binomialUpper(k, n int, level float64) float64 {
	if k == n {
		return 1
	}
	return betaQuantile(level, float64(k+1), float64(n-k))
}

// betaQuantile inverts the regularised incomplete beta function by bisection.
func betaQuantile(q, a, b float64) float64 {
	lo, hi := 0.0, 1.0
	for range 200 {
		m := lo + (hi-lo)/2
		if m == lo || m == hi {
			break
		}
		if betaRegular(m, a, b) < q {
			lo = m
		} else {
			hi = m
		}
	}
	return lo
}

// betaRegular is I_x(a, b) by its continued fraction (Abramowitz and Stegun,
// Handbook of Mathematical Functions, 26.5.8).
func betaRegular(x, a, b float64) float64 {
	switch {
	case x <= 0:
		return 0
	case x >= 1:
		return 1
	case x > (a+1)/(a+b+2):
		return 1 - betaRegular(1-x, b, a)
	}
	la, _ := math.Lgamma(a)
	lb, _ := math.Lgamma(b)
	lab, _ := math.Lgamma(a + b)
	front := math.Exp(lab - la - lb + a*math.Log(x) + b*math.Log1p(-x))
	return front * betaFraction(x, a, b) / a
}

// betaFraction evaluates the continued fraction from the front (Lentz).
func betaFraction(x, a, b float64) float64 {
	const least = 1e-300
	c, d := 1.0, 1-(a+b)*x/(a+1)
	if math.Abs(d) < least {
		d = least
	}
	d = 1 / d
	h := d
	for m := 1.0; m < 100000; m++ {
		even := m * (b - m) * x / ((a + 2*m - 1) * (a + 2*m))
		odd := -(a + m) * (a + b + m) * x / ((a + 2*m) * (a + 2*m + 1))
		step := 1.0
		for _, t := range [2]float64{even, odd} {
			d = 1 + t*d
			if math.Abs(d) < least {
				d = least
			}
			c = 1 + t/c
			if math.Abs(c) < least {
				c = least
			}
			d = 1 / d
			step = c * d
			h *= step
		}
		if math.Abs(step-1) < 1e-16 {
			break
		}
	}
	return h
}
