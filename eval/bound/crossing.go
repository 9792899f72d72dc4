package bound

import (
	"math"
	"math/big"
)

// probeCrossing serves a statement that a difference is not 0. Where the
// difference changes its sign along one input it is 0 in between: at the zero of
// the straight line through both ends, which is then a breaking point, or
// somewhere near, and the search can end.
func (s *search) probeCrossing(b box, k int, out *found) state {
	a := &s.atoms[k]
	if a.mask&signZero != 0 || b.depth%4 != 0 && b.depth > 2 {
		return stateOpen
	}
	middle := s.middleOf(b)
	for i, g := range s.grads[k*len(b.x) : (k+1)*len(b.x)] {
		lo, hi := s.low(b, i), s.high(b, i)
		if b.pins[i] != pinFree || lo == nil || hi == nil || math.IsInf(g.lo, 0) || math.IsInf(g.hi, 0) {
			continue
		}
		at := s.point(middle)
		value := func(x *big.Rat) *big.Rat {
			at[i] = x
			return s.evaluate(int(a.d)+1, at)[a.d].rat
		}
		from, to := value(lo), value(hi)
		if from == nil || to == nil || from.Sign()*to.Sign() >= 0 {
			continue
		}
		share := new(big.Rat).Sub(from, to)
		share.Quo(from, share)
		at[i] = plusTimes(lo, share, new(big.Rat).Sub(hi, lo))
		if s.settlePoint(at, out) == stateBreaks {
			return stateBreaks
		}
		out.crossed = true
		return stateTie
	}
	return stateOpen
}

// plusTimes is a + c·x.
func plusTimes(a, c, x *big.Rat) *big.Rat {
	r := new(big.Rat).Mul(c, x)
	return r.Add(r, a)
}
