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

// sign gives the signs the value may have.
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
			out[i] = exact{wide: around(newWork().Set(piTo(workBits)))}
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

func exactIf(cond, then, els exact) exact {
	c := cond.can
	switch {
	case c.surelyTrue():
		return then
	case c.surelyFalse():
		return els
	case c.empty():
		return exact{none: true, can: emptyIval}
	}
	// The condition is not decided at this point: both branches remain.
	out := exact{doubtful: true, can: choose(c, then.can, els.can)}
	out.can.u = true
	out.wide = wide{floatDown().SetInf(true), floatUp().SetInf(false)}
	return out
}

func exactUnary(op Op, a exact) exact {
	if a.none {
		return a
	}
	if a.rat != nil {
		v, status := ratUnary(op, a.rat)
		switch status {
		case ratOK:
			return exact{rat: v, doubtful: a.doubtful}
		case ratUndefined:
			return exact{none: true}
		}
	}
	out, known := wideUnary(op, a.enclosure())
	out.doubtful = out.doubtful || a.doubtful || !known
	return out
}

// wideUnary works on enclosures; known is false if there may be no value.
func wideUnary(op Op, w wide) (out exact, known bool) {
	switch op {
	case OpNeg:
		return exact{wide: w.neg()}, true
	case OpAbs:
		return exact{wide: w.abs()}, true
	case opNothing:
		return exact{rat: new(big.Rat)}, true
	case opUnit:
		return exact{rat: big.NewRat(1, 1)}, w.sign() != 0
	case OpSqrt:
		if w.hi.Sign() < 0 {
			return exact{none: true}, true
		}
		return exact{wide: w.sqrt()}, w.lo.Sign() >= 0
	case OpLn, OpLog10:
		if w.hi.Sign() <= 0 {
			return exact{none: true}, true
		}
	case OpAsin, OpAcos:
		if w.lo.Cmp(workInt(1)) > 0 || w.hi.Cmp(workInt(-1)) < 0 {
			return exact{none: true}, true
		}
	}
	v, ok := w.apply(op)
	if !ok {
		v = wide{floatDown().SetInf(true), floatUp().SetInf(false)}
	}
	return exact{wide: v}, ok
}

func exactPowInt(a exact, n int) exact {
	if a.none {
		return a
	}
	if a.rat != nil {
		v, status := ratPowInt(a.rat, n)
		switch status {
		case ratOK:
			return exact{rat: v, doubtful: a.doubtful}
		case ratUndefined:
			return exact{none: true}
		}
	}
	w := a.enclosure()
	if n < 0 && w.sign() == 0 {
		return exact{wide: wide{floatDown().SetInf(true), floatUp().SetInf(false)}, doubtful: true}
	}
	return exact{wide: w.powInt(n), doubtful: a.doubtful}
}

func exactBinary(op Op, a, b exact) exact {
	if a.none || b.none {
		return exact{none: true}
	}
	doubtful := a.doubtful || b.doubtful
	if a.rat != nil && b.rat != nil {
		v, status := ratBinary(op, a.rat, b.rat)
		switch status {
		case ratOK:
			return exact{rat: v, doubtful: doubtful}
		case ratUndefined:
			return exact{none: true}
		}
	}
	out := wideBinary(op, a, b)
	out.doubtful = out.doubtful || doubtful
	return out
}

func wideBinary(op Op, a, b exact) exact {
	x, y := a.enclosure(), b.enclosure()
	switch op {
	case OpAdd:
		return exact{wide: x.add(y)}
	case OpSub:
		return exact{wide: x.sub(y)}
	case OpMul:
		if isInt(a.rat, 0) || isInt(b.rat, 0) {
			return exact{rat: new(big.Rat)}
		}
		return exact{wide: x.mul(y)}
	case OpMin:
		return exact{wide: x.min(y)}
	case OpMax:
		return exact{wide: x.max(y)}
	case OpDiv:
		if y.sign() != 0 {
			return exact{wide: x.div(y)}
		}
	case OpPow:
		if x.hi.Sign() < 0 {
			return exact{none: true}
		}
		if l, ok := x.apply(OpLn); ok {
			return exact{wide: l.mul(y).exp()}
		}
		if isInt(a.rat, 0) && y.lo.Sign() > 0 {
			return exact{rat: new(big.Rat)}
		}
	}
	return exact{wide: wide{floatDown().SetInf(true), floatUp().SetInf(false)}, doubtful: true}
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
	lo, hi := a.wide.ends()
	for i := range t.slopes {
		if t.x[i+1].hi < lo || t.x[i].lo > hi {
			continue
		}
		part := wideOfRat(t.knots[i].Y).add(wideOfRat(t.ratio[i]).mul(a.wide.sub(wideOfRat(t.knots[i].X))))
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
