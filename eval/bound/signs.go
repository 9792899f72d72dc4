package bound

import "math/big"

// signsBetween are the signs of the numbers from lo to hi, nil being no end.
func signsBetween(lo, hi *big.Rat) (can int32) {
	if lo == nil || lo.Sign() < 0 {
		can |= signNeg
	}
	if hi == nil || hi.Sign() > 0 {
		can |= signPos
	}
	if (lo == nil || lo.Sign() <= 0) && (hi == nil || hi.Sign() >= 0) {
		can |= signZero
	}
	return can
}

func sumOfSigns(a, b int32) int32 {
	out := a & b
	if a&signZero != 0 {
		out |= b
	}
	if b&signZero != 0 {
		out |= a
	}
	if a&signNeg != 0 && b&signPos != 0 || a&signPos != 0 && b&signNeg != 0 {
		out = signAny
	}
	return out
}

func productOfSigns(a, b int32) (out int32) {
	if (a|b)&signZero != 0 {
		out = signZero
	}
	if b&signPos != 0 {
		out |= a &^ signZero
	}
	if b&signNeg != 0 {
		out |= flipSigns(a) &^ signZero
	}
	return out
}

func largestOfSigns(a, b int32) int32 {
	out := (a | b) & signPos
	if both := a & b; both&signNeg != 0 {
		out |= signNeg
	}
	if (a|b)&signZero != 0 && a&^signPos != 0 && b&^signPos != 0 {
		out |= signZero
	}
	return out
}

// bySigns proves a statement about a sign from the signs of what it is made of.
// Ranges do not tell that 1/x is above 0 where x has no upper end: they hold 0.
func (s *search) bySigns() bool {
	root := s.code[s.root()]
	if root.op != opSign {
		return false
	}
	can := make([]int32, len(s.code))
	for i := range s.code {
		in := &s.code[i]
		var lacks bool
		can[i], lacks = s.signsOf(in, can)
		if lacks && !in.sure && s.r[i].u { // r is of the whole set
			return false
		}
	}
	return can[root.a]&^root.n == 0
}

// signsOf are the signs that an instruction may have by those of its operands,
// and whether it may have no value.
func (s *search) signsOf(in *instr, can []int32) (signs int32, lacks bool) {
	a, b := can[in.a], can[in.b]
	switch in.op {
	case OpConst:
		return signOf(s.rat(*in)), false
	case OpPi, OpExp:
		return signPos, false
	case OpVar:
		return signsBetween(s.in[in.n].Lo, s.in[in.n].Hi), false
	case OpNeg:
		return flipSigns(a), false
	case OpAbs:
		return a&^signNeg | flipSigns(a)&signPos, false
	case OpAdd:
		return sumOfSigns(a, b), false
	case OpSub:
		return sumOfSigns(a, flipSigns(b)), false
	case OpMul:
		return productOfSigns(a, b), false
	case OpDiv:
		return productOfSigns(a, b&^signZero), b&signZero != 0
	case OpSqrt:
		return a &^ signNeg, a&signNeg != 0
	case OpAtan:
		return a, false
	case OpPowInt:
		if in.n%2 == 0 {
			a = a&^signNeg | flipSigns(a)&signPos
		}
		return a, in.n <= 0 && a&signZero != 0
	case OpMin:
		return flipSigns(largestOfSigns(flipSigns(a), flipSigns(b))), false
	case OpMax:
		return largestOfSigns(a, b), false
	case OpTable:
		for _, k := range s.tables[in.n].knots {
			signs |= signOf(k.Y)
		}
		if signs == signNeg|signPos {
			signs = signAny
		}
		return signs, true
	case OpSin, OpCos, opSign, OpAnd, OpOr, OpTrue, opFalse:
		return signAny, false
	}
	return signAny, true
}
