package bound

import "math/big"

// exact is the value of a register at one exact point: a rational where it is
// one, else an enclosure of 256 bits or more; none if there is surely no
// value, doubtful if there may be none. Predicates use can.
type exact struct {
	rat      *big.Rat
	wide     wide
	none     bool
	doubtful bool
	can      ival // of a predicate
}

func (e exact) enclosure() wide {
	if e.rat != nil {
		return wideOfRat(e.rat)
	}
	return e.wide
}

// isNumber tells a number that may have a value from a predicate.
func (e exact) isNumber() bool { return e.rat != nil || e.wide.lo != nil }

// signs gives the signs the value may have.
func (e exact) signs() int32 {
	if e.rat != nil {
		return signOf(e.rat)
	}
	switch {
	case e.wide.lo.Sign() > 0:
		return signPos
	case e.wide.hi.Sign() < 0:
		return signNeg
	case e.wide.lo.Sign() == 0 && e.wide.hi.Sign() > 0:
		return signZero | signPos
	case e.wide.hi.Sign() == 0 && e.wide.lo.Sign() < 0:
		return signZero | signNeg
	case e.wide.lo.Sign() == 0:
		return signZero
	}
	return signAny
}

func ratValue(r *big.Rat) exact { return exact{rat: r} }

// evaluate computes the first n registers at an exact point. point has one
// rational per input the registers depend on; others may be nil.
func (p *Program) evaluate(n int, point []*big.Rat) []exact {
	out := make([]exact, n)
	for i := range out {
		in := &p.code[i]
		switch in.op {
		case OpConst:
			out[i] = ratValue(p.rat(*in))
		case OpVar:
			out[i] = ratValue(point[in.n])
			out[i].none = point[in.n] == nil
		case OpPi:
			out[i] = exact{wide: around(piWork())}
		case OpTrue, opFalse, opSign, OpAnd, OpOr, OpNot:
			out[i] = exact{can: exactTruth(in, out)}
		case OpIf:
			out[i] = exactIf(out[in.a], out[in.b], out[in.c])
		case OpTable:
			out[i] = p.tables[in.n].exact(out[in.a])
		case OpPowInt:
			out[i] = exactPowInt(out[in.a], int(in.n))
		case OpAdd, OpSub, OpMul, OpDiv, OpMin, OpMax, OpPow:
			out[i] = exactBinary(in.op, out[in.a], out[in.b])
		default:
			out[i] = exactUnary(in.op, out[in.a])
		}
	}
	return out
}

func exactTruth(in *instr, out []exact) ival {
	switch in.op {
	case OpTrue:
		return trueIval
	case opFalse:
		return falseIval
	case OpAnd:
		return and(out[in.a].can, out[in.b].can)
	case OpOr:
		return or(out[in.a].can, out[in.b].can)
	case OpNot:
		return not(out[in.a].can)
	}
	d := out[in.a]
	if d.none {
		return emptyIval
	}
	can := d.signs()
	return truth(can&^in.n != 0, can&in.n != 0, d.doubtful)
}

// exact is the table's value at a.
func (t *table) exact(a exact) exact {
	if a.none {
		return a
	}
	if a.rat != nil {
		if y := t.at(a.rat); y != nil {
			return exact{rat: y, doubtful: a.doubtful}
		}
		return exact{none: true}
	}
	last := len(t.knots) - 1
	first, end := wideOfRat(t.knots[0].X), wideOfRat(t.knots[last].X)
	if a.wide.hi.Cmp(first.lo) < 0 || a.wide.lo.Cmp(end.hi) > 0 {
		return exact{none: true}
	}
	out := exact{doubtful: a.doubtful || a.wide.lo.Cmp(first.hi) < 0 || a.wide.hi.Cmp(end.lo) > 0}
	for i := range t.slopes {
		from, to := wideOfRat(t.knots[i].X), wideOfRat(t.knots[i+1].X)
		if to.hi.Cmp(a.wide.lo) < 0 || from.lo.Cmp(a.wide.hi) > 0 {
			continue
		}
		// Only what lies on this piece: beyond it the line may leave the range
		// of the next operation.
		on := wide{larger(a.wide.lo, from.lo), smaller(a.wide.hi, to.hi)}
		part := wideOfRat(t.knots[i].Y).add(wideOfRat(t.ratio[i]).mul(on.sub(from)))
		if out.wide.lo == nil {
			out.wide = part
			continue
		}
		out.wide = wide{smaller(out.wide.lo, part.lo), larger(out.wide.hi, part.hi)}
	}
	return out
}

// witness finds the operation that lacks a value at a point where register
// root has none, following the branches taken.
func (p *Program) witness(root int32, out []exact, point []*big.Rat) *Undefined {
	in := &p.code[root]
	for _, operand := range p.operandsOf(in, out) {
		if e := out[operand]; e.none || e.can.empty() {
			return p.witness(operand, out, point)
		}
	}
	return &Undefined{Reg: p.regs[root], Op: publicOp(in.op), At: point}
}

// operandsOf lists the operands whose values matter at the point.
func (p *Program) operandsOf(in *instr, out []exact) []int32 {
	switch in.op {
	case OpConst, OpVar, OpPi, OpTrue, opFalse:
		return nil
	case OpIf:
		switch c := out[in.a].can; {
		case c.surelyTrue():
			return []int32{in.b}
		case c.surelyFalse():
			return []int32{in.c}
		}
		return []int32{in.a}
	case OpAdd, OpSub, OpMul, OpDiv, OpPow, OpMin, OpMax, OpAnd, OpOr:
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
