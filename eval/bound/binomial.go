package bound

import "math"

// confidence is the one-sided level of the binomial bounds.
const confidence = 0.95

// binomialLower is the exact one-sided lower bound of a proportion of which k
// of n were seen (Clopper and Pearson, Biometrika 26 (1934) 404).
func binomialLower(k, n int, level float64) float64 { return proportion(k, n, 1-level) }

// binomialUpper is the exact one-sided upper bound.
func binomialUpper(k, n int, level float64) float64 { return proportion(k+1, n, level) }

// proportion is the one of which k or more of n are seen with a probability of q.
func proportion(k, n int, q float64) float64 {
	switch {
	case k <= 0:
		return 0
	case k > n:
		return 1
	}
	lo, hi := 0.0, 1.0
	for {
		m := lo + (hi-lo)/2
		switch {
		case m == lo || m == hi:
			return lo
		case atLeast(k, n, m) < q:
			lo = m
		default:
			hi = m
		}
	}
}

// atLeast is the probability that k or more of n are of a share p: the terms of
// the binomial distribution on the side of k away from its mode, largest first.
func atLeast(k, n int, p float64) float64 {
	above := float64(k) > p*float64(n)
	i, rise, odds := k-1, -1, (1-p)/p
	if above {
		i, rise, odds = k, 1, p/(1-p)
	}
	gamma := func(x int) float64 { v, _ := math.Lgamma(float64(x + 1)); return v }
	term := math.Exp(gamma(n) - gamma(i) - gamma(n-i) + float64(i)*math.Log(p) + float64(n-i)*math.Log1p(-p))
	sum := 0.0
	for ; i >= 0 && i <= n && term > 1e-18*sum; i += rise {
		sum += term
		if above {
			term *= float64(n-i) / float64(i+1) * odds
		} else {
			term *= float64(i) / float64(n-i+1) * odds
		}
	}
	if above {
		return sum
	}
	return 1 - sum
}
