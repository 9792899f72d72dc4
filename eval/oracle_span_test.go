package eval_test

import "math/big"

// This file is the arithmetic of the oracle: closed ranges of exact numbers.
// Nothing of the project is used. Each unknown stands once in a formula that
// the oracle writes, so that the ends worked out here are exact, not only
// bounds (R. E. Moore, Interval Analysis, 1966, theorem on single use).

// span is a closed range; a nil end is unbounded. The empty span has none set.
type span struct {
	lo, hi *big.Rat
	empty  bool
}

func exactly(r *big.Rat) span { return span{lo: r, hi: r} }

// ext is a number, or plus or minus infinity where inf is not 0.
type ext struct {
	r   *big.Rat
	inf int
}

func lower(s span) ext {
	if s.lo == nil {
		return ext{inf: -1}
	}
	return ext{r: s.lo}
}

func upper(s span) ext {
	if s.hi == nil {
		return ext{inf: 1}
	}
	return ext{r: s.hi}
}

func (x ext) sign() int {
	if x.inf != 0 {
		return x.inf
	}
	return x.r.Sign()
}

func (x ext) cmp(y ext) int {
	if x.inf != 0 || y.inf != 0 {
		return x.inf - y.inf
	}
	return x.r.Cmp(y.r)
}

func (x ext) times(y ext) ext {
	switch s := x.sign() * y.sign(); {
	case s == 0:
		return ext{r: new(big.Rat)}
	case x.inf != 0 || y.inf != 0:
		return ext{inf: s}
	}
	return ext{r: new(big.Rat).Mul(x.r, y.r)}
}

func plus(a, b span) span {
	out := span{empty: a.empty || b.empty}
	if a.lo != nil && b.lo != nil {
		out.lo = new(big.Rat).Add(a.lo, b.lo)
	}
	if a.hi != nil && b.hi != nil {
		out.hi = new(big.Rat).Add(a.hi, b.hi)
	}
	return out
}

func minus(a span) span {
	out := span{empty: a.empty}
	if a.lo != nil {
		out.hi = new(big.Rat).Neg(a.lo)
	}
	if a.hi != nil {
		out.lo = new(big.Rat).Neg(a.hi)
	}
	return out
}

func times(a, b span) span {
	out := span{empty: a.empty || b.empty}
	var lo, hi ext
	for i, x := range []ext{lower(a), upper(a)} {
		for j, y := range []ext{lower(b), upper(b)} {
			p := x.times(y)
			if i+j == 0 || p.cmp(lo) < 0 {
				lo = p
			}
			if i+j == 0 || p.cmp(hi) > 0 {
				hi = p
			}
		}
	}
	if lo.inf == 0 {
		out.lo = lo.r
	}
	if hi.inf == 0 {
		out.hi = hi.r
	}
	return out
}

// inverse is one over a span whose lower end is above 0, or comes near it.
func inverse(a span) span {
	out := span{lo: new(big.Rat), empty: a.empty}
	if a.lo.Sign() > 0 {
		out.hi = new(big.Rat).Inv(a.lo)
	}
	if a.hi != nil {
		out.lo = new(big.Rat).Inv(a.hi)
	}
	return out
}

// larger and smaller are the maximum and the minimum of two.
func larger(a, b span) span {
	out := span{empty: a.empty || b.empty, lo: a.lo}
	if b.lo != nil && (a.lo == nil || b.lo.Cmp(a.lo) > 0) {
		out.lo = b.lo
	}
	if a.hi != nil && b.hi != nil {
		if out.hi = a.hi; b.hi.Cmp(a.hi) > 0 {
			out.hi = b.hi
		}
	}
	return out
}

func smaller(a, b span) span { return minus(larger(minus(a), minus(b))) }

// verdictOf judges s >= 0 (s > 0 where strict): w is what may be, n what is
// printed. 1 is passed, -1 failed, 0 open.
func verdictOf(w, n span, strict bool) int {
	if w.lo != nil && (w.lo.Sign() > 0 || !strict && w.lo.Sign() == 0) {
		return 1
	}
	if !n.empty && (n.lo.Sign() < 0 || strict && n.lo.Sign() == 0) {
		return -1
	}
	return 0
}
