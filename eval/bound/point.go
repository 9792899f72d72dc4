package bound

import "math/big"

// exact is the value of a register at one exact point: a rational where it is
// known to be one, and in any case an enclosure, which is empty where there is
// surely no value and marked where there may be none.
type exact struct {
	rat *big.Rat
	ival
}

// evaluate computes the first n registers at an exact point. point has one
// rational per input the registers depend on; others may be nil.
func (p *Program) evaluate(n int, point []*big.Rat) []exact {
	out, r, x := make([]exact, n), make([]ival, n), make([]ival, len(point))
	for i, v := range point {
		if x[i] = emptyIval; v != nil {
			x[i] = ivalOfRat(v)
		}
	}
	for i := range out {
		in := &p.code[i]
		rat, status := p.ratStep(in, out, point)
		switch {
		case status == ratUndefined:
			r[i], rat = emptyIval, nil
		case rat != nil && in.op > OpVar && in.op != OpIf:
			r[i] = ivalOfRat(rat)
			r[i].u = out[in.a].u || twoOperands(in.op) && out[in.b].u
		case in.op == opSign && out[in.a].rat != nil:
			fits := signOf(out[in.a].rat)&in.n != 0
			r[i] = truth(!fits, fits, out[in.a].u)
		default:
			r[i] = p.step(in, x, r)
		}
		if rat == nil && r[i].thin() && !r[i].u && !predicate(in) {
			rat = new(big.Rat).SetFloat64(r[i].lo)
		}
		out[i] = exact{rat, r[i]}
	}
	return out
}

// ratStep is the value of an instruction whose operands are rational, or one of
// whose operands it surely is.
func (p *Program) ratStep(in *instr, out []exact, point []*big.Rat) (*big.Rat, ratStatus) {
	a, b := &out[in.a], &out[in.b]
	switch in.op {
	case OpConst:
		return p.rat(*in), ratOK
	case OpVar:
		return point[in.n], ratOK
	case OpPi, OpTrue, opFalse, opSign, OpAnd, OpOr, OpNot:
		return nil, ratIrrational
	case OpIf:
		switch {
		case a.surelyTrue():
			return b.rat, ratIrrational
		case a.surelyFalse():
			return out[in.c].rat, ratIrrational
		}
		return nil, ratIrrational
	case OpMin, OpMax:
		low, high := a, b
		if b.hi < a.lo {
			low, high = b, a
		}
		if low.hi < high.lo && !low.u && !high.u {
			if in.op == OpMin {
				return low.rat, ratIrrational
			}
			return high.rat, ratIrrational
		}
	}
	if a.rat == nil || twoOperands(in.op) && b.rat == nil {
		return nil, ratIrrational
	}
	switch {
	case in.op == OpTable:
		if y := p.tables[in.n].at(a.rat); y != nil {
			return y, ratOK
		}
		return nil, ratUndefined
	case in.op == OpPowInt:
		return ratPowInt(a.rat, int(in.n))
	case twoOperands(in.op):
		return ratBinary(in.op, a.rat, b.rat)
	}
	return ratUnary(in.op, a.rat)
}

// witness finds the operation that lacks a value at a point where register
// root has none, following the branches taken.
func (p *Program) witness(root int32, out []exact, point []*big.Rat) *Undefined {
	in := &p.code[root]
	for _, operand := range p.operandsOf(in, out) {
		if out[operand].empty() {
			return p.witness(operand, out, point)
		}
	}
	return &Undefined{Reg: p.regs[root], Op: publicOp(in.op), At: point}
}

// operandsOf lists the operands whose values matter at the point.
func (p *Program) operandsOf(in *instr, out []exact) []int32 {
	switch {
	case in.op <= OpVar, in.op == OpTrue, in.op == opFalse:
		return nil
	case in.op == OpIf && out[in.a].surelyTrue():
		return []int32{in.b}
	case in.op == OpIf && out[in.a].surelyFalse():
		return []int32{in.c}
	case twoOperands(in.op):
		return []int32{in.a, in.b}
	}
	return []int32{in.a}
}

// publicOp names an operation of the builder's own by the one it came from.
func publicOp(op Op) Op {
	switch op {
	case opUnit:
		return OpDiv
	case opNothing:
		return OpSub
	}
	return op
}
