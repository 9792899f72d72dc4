package bound

import "math/big"

// exactlyCritical tells whether, at an exact point of a box, the gradient of a
// statement's difference is exactly 0 along every free input, or points into
// the box from the end at which the point lies. For a difference that is
// convex over the box the point is then the worst one of the box. Only
// rational operations are followed.
func (s *search) exactlyCritical(b box, a *atom, at []*big.Rat, coords []int) bool {
	s.run(b.x, s.rc)
	values := s.evaluate(int(a.d)+1, at)
	for _, i := range coords {
		g, ok := s.ratDerivative(a.d, values, i)
		if !ok {
			return false
		}
		sign := g.Sign()
		if a.side < 0 {
			sign = -sign
		}
		atLow := s.low(b, i) != nil && at[i].Cmp(s.low(b, i)) == 0
		atHigh := s.high(b, i) != nil && at[i].Cmp(s.high(b, i)) == 0
		if !(sign == 0 || sign > 0 && atLow || sign < 0 && atHigh) {
			return false
		}
	}
	return true
}

// ratDerivative is the exact derivative of a register by one input; ok is
// false where an operation on the way has none that is rational. Branches and
// corners follow the values over the box in rc.
func (s *search) ratDerivative(root int32, values []exact, input int) (*big.Rat, bool) {
	d := make([]*big.Rat, root+1) // nil is 0
	for i := int32(0); i <= root; i++ {
		in := &s.code[i]
		if in.op == OpVar && int(in.n) == input {
			d[i] = big.NewRat(1, 1)
			continue
		}
		if !s.moves(in, d) {
			continue
		}
		v, ok := s.ratRule(in, values, d)
		if !ok {
			return nil, false
		}
		d[i] = v
	}
	if d[root] == nil {
		return new(big.Rat), true
	}
	return d[root], true
}

// moves tells whether an operand of in has a derivative.
func (s *search) moves(in *instr, d []*big.Rat) bool {
	switch in.op {
	case OpConst, OpVar, OpPi, OpTrue, opFalse, opSign, OpAnd, OpOr, OpNot:
		return false
	case OpIf:
		return d[in.b] != nil || d[in.c] != nil
	}
	return d[in.a] != nil || twoOperands(in.op) && d[in.b] != nil
}

func orZero(r *big.Rat) *big.Rat {
	if r == nil {
		return new(big.Rat)
	}
	return r
}

func (s *search) ratRule(in *instr, values []exact, d []*big.Rat) (*big.Rat, bool) {
	da := orZero(d[in.a])
	switch in.op {
	case OpNeg:
		return new(big.Rat).Neg(da), true
	case OpAdd:
		return new(big.Rat).Add(da, orZero(d[in.b])), true
	case OpSub:
		return new(big.Rat).Sub(da, orZero(d[in.b])), true
	case OpMin, OpMax, OpIf, OpAbs:
		return s.ratBranch(in, d)
	}
	a, b := values[in.a].rat, (*big.Rat)(nil)
	if a == nil {
		return nil, false
	}
	if twoOperands(in.op) {
		if b = values[in.b].rat; b == nil {
			return nil, false
		}
	}
	return ratSmoothRule(in, a, b, da, d)
}

func ratSmoothRule(in *instr, a, b, da *big.Rat, d []*big.Rat) (*big.Rat, bool) {
	switch in.op {
	case OpMul:
		left := new(big.Rat).Mul(da, b)
		return left.Add(left, new(big.Rat).Mul(a, orZero(d[in.b]))), true
	case OpDiv:
		if b.Sign() == 0 {
			return nil, false
		}
		q := new(big.Rat).Quo(a, b)
		top := new(big.Rat).Sub(da, q.Mul(q, orZero(d[in.b])))
		return top.Quo(top, b), true
	case OpPowInt:
		v, status := ratPowInt(a, int(in.n)-1)
		if status != ratOK {
			return nil, false
		}
		v = new(big.Rat).Mul(v, new(big.Rat).SetInt64(int64(in.n)))
		return v.Mul(v, da), true
	case OpSqrt:
		v, status := ratSqrt(a)
		if status != ratOK || v.Sign() == 0 {
			return nil, false
		}
		v = new(big.Rat).Quo(da, new(big.Rat).Add(v, v))
		return v, true
	}
	return nil, false
}

// ratBranch passes on the derivative of the operand taken over the whole box.
func (s *search) ratBranch(in *instr, d []*big.Rat) (*big.Rat, bool) {
	a, b := s.rc[in.a], s.rc[in.b]
	switch in.op {
	case OpAbs:
		if a.lo >= 0 {
			return orZero(d[in.a]), true
		}
		return new(big.Rat).Neg(orZero(d[in.a])), a.hi <= 0
	case OpIf:
		if a.surelyTrue() {
			return orZero(d[in.b]), true
		}
		return orZero(d[in.c]), a.surelyFalse()
	case OpMax:
		a, b = neg(a), neg(b)
	}
	if a.hi < b.lo {
		return orZero(d[in.a]), true
	}
	return orZero(d[in.b]), b.hi < a.lo
}
