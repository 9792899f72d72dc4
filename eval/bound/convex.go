package bound

import "math/big"

// semidefinite tells whether every symmetric matrix within the intervals is
// positive semidefinite. at(i, l) with l <= i gives an entry.
func semidefinite(k int, at func(i, l int) ival) bool {
	return interPositive(k, at) || dominant(k, at) || thinSemidefinite(k, at)
}

// interPositive eliminates in intervals: pivots above 0 prove every matrix
// within positive definite.
func interPositive(k int, at func(i, l int) ival) bool {
	m := make([]ival, k*k)
	for i := range k {
		for l := range i + 1 {
			m[i*k+l], m[l*k+i] = at(i, l), at(i, l)
		}
	}
	for p := range k {
		if !(m[p*k+p].lo > 0) {
			return false
		}
		for i := p + 1; i < k; i++ {
			f := div(m[i*k+p], m[p*k+p])
			for l := p + 1; l < k; l++ {
				m[i*k+l] = sub(m[i*k+l], mul(f, m[p*k+l]))
			}
			m[i*k+i] = maxDiagonal(m[i*k+i], at(i, i))
		}
	}
	return true
}

// maxDiagonal uses that elimination only lowers a diagonal entry.
func maxDiagonal(a, was ival) ival {
	return ival{lo: a.lo, hi: min(a.hi, was.hi)}
}

// dominant tells that each diagonal entry outweighs its row (Gershgorin).
func dominant(k int, at func(i, l int) ival) bool {
	for i := range k {
		rest := at(i, i)
		for l := range k {
			if l != i {
				rest = sub(rest, abs(at(max(i, l), min(i, l))))
			}
		}
		if rest.lo < 0 {
			return false
		}
	}
	return true
}

// thinSemidefinite decides exactly where the entries are single numbers.
func thinSemidefinite(k int, at func(i, l int) ival) bool {
	m := make([]*big.Rat, k*k)
	for i := range k {
		for l := range i + 1 {
			v := at(i, l)
			if !v.thin() {
				return false
			}
			m[i*k+l] = new(big.Rat).SetFloat64(v.lo)
			m[l*k+i] = m[i*k+l]
		}
	}
	for p := range k {
		switch m[p*k+p].Sign() {
		case -1:
			return false
		case 0: // then its row has to be 0
			for l := p + 1; l < k; l++ {
				if m[p*k+l].Sign() != 0 {
					return false
				}
			}
			continue
		}
		eliminate(m, k, p)
	}
	return true
}

func eliminate(m []*big.Rat, k, p int) {
	for i := p + 1; i < k; i++ {
		f := new(big.Rat).Quo(m[i*k+p], m[p*k+p])
		for l := p + 1; l < k; l++ {
			m[i*k+l] = new(big.Rat).Sub(m[i*k+l], new(big.Rat).Mul(f, m[p*k+l]))
		}
	}
}
