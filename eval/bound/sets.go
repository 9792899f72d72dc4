package bound

import (
	"math/big"
	"slices"
)

func wideBox(in []Input) []ival {
	x := make([]ival, len(in))
	for i := range in {
		x[i] = entireIval
		if in[i].Lo != nil {
			x[i].lo, _ = ratEnds(in[i].Lo)
		}
		if in[i].Hi != nil {
			_, x[i].hi = ratEnds(in[i].Hi)
		}
	}
	return x
}

// anySure is some value of the sure set, nil if that is empty.
func (x Input) anySure() *big.Rat {
	lo, hi := x.sure()
	switch {
	case x.Centre != nil && x.sureHas(x.Centre):
		return x.Centre
	case lo != nil:
		return lo
	}
	return hi
}

// hasSure tells that the sure set is not empty.
func (x Input) hasSure() bool { return x.SureLo != nil || x.SureHi != nil }

// sure gives the ends of the sure set; a single stated end is a point.
func (x Input) sure() (lo, hi *big.Rat) {
	lo, hi = x.SureLo, x.SureHi
	if lo == nil {
		lo = hi
	}
	if hi == nil {
		hi = lo
	}
	return lo, hi
}

func (x Input) sureHas(r *big.Rat) bool {
	lo, hi := x.sure()
	if lo == nil || r == nil {
		return false
	}
	return lo == r || hi == r || lo.Cmp(r) <= 0 && r.Cmp(hi) <= 0
}

// narrowed tells that the sure set is smaller than the wide one.
func (x Input) narrowed() bool {
	lo, hi := x.sure()
	return !x.hasSure() || !sameEnd(x.Lo, lo) || !sameEnd(x.Hi, hi)
}

func sameEnd(a, b *big.Rat) bool {
	if a == nil || b == nil {
		return a == b
	}
	return a == b || a.Cmp(b) == 0
}

// sureOnly replaces an input's wide set by its sure one, if it has one.
func (x Input) sureOnly() Input {
	if x.hasSure() {
		x.Lo, x.Hi = x.sure()
	}
	return x
}

func sureInputs(in []Input) []Input {
	out := make([]Input, len(in))
	for i, x := range in {
		out[i] = x.sureOnly()
	}
	return out
}

func anyNarrowed(in []Input) bool { return slices.ContainsFunc(in, Input.narrowed) }

func someWithoutSure(in []Input) bool {
	return slices.ContainsFunc(in, func(x Input) bool { return !x.hasSure() })
}
