package bound

import (
	"math/big"
	"slices"
)

// part is a program of one root cut out of another, with the place of each of
// its inputs in the other.
type part struct {
	*Program
	from []int
}

func (p part) root() int32 { return p.roots[0] }

// cut copies what instruction at needs into a program of its own, the
// predicate negated if asked. Negation goes down to the sign statements, which
// keeps Kleene's values.
func (p *Program) cut(at int32, negate bool) part {
	const plain, negated = 1, 2
	need := make([]uint8, at+1)
	need[at] = plain
	if negate {
		need[at] = negated
	}
	for i := at; i >= 0; i-- {
		if need[i] == 0 {
			continue
		}
		in := &p.code[i]
		mode := uint8(plain)
		switch in.op {
		case OpConst, OpVar, OpPi, OpTrue, opFalse:
			continue
		case OpAnd, OpOr:
			mode = need[i]
		case OpIf:
			need[in.a] |= plain
			need[in.b] |= need[i]
			need[in.c] |= need[i]
			continue
		}
		need[in.a] |= mode
		if twoOperands(in.op) {
			need[in.b] |= mode
		}
	}
	return p.copyNeeded(need, at)
}

func twoOperands(op Op) bool {
	switch op {
	case OpAdd, OpSub, OpMul, OpDiv, OpPow, OpMin, OpMax, OpAnd, OpOr:
		return true
	}
	return false
}

// copyNeeded emits the needed instructions, once for each form: bit 0 plain,
// bit 1 negated.
func (p *Program) copyNeeded(need []uint8, root int32) part {
	size := 0
	for _, n := range need {
		size += int(n&1 + n>>1)
	}
	out := part{Program: &Program{code: make([]instr, 0, size), regs: make([]Reg, 0, size), consts: p.consts, tables: p.tables}}
	slots := make([][2]int32, len(need))
	used := p.usedInputs(need)
	out.from = used
	for _, v := range used {
		out.inputs = append(out.inputs, p.inputs[v])
	}
	for i := range need {
		for form := range 2 {
			if need[i]>>form&1 == 0 {
				continue
			}
			in := p.code[i]
			if in.op == OpVar {
				at, _ := slices.BinarySearch(used, int(in.n))
				in.n = int32(at)
			}
			slots[i][form] = int32(len(out.code))
			out.code = append(out.code, reform(in, slots, form))
			out.regs = append(out.regs, p.regs[i])
		}
	}
	out.roots = []int32{int32(len(out.code) - 1)}
	out.ends = []int{len(out.code)}
	return out
}

func (p *Program) usedInputs(need []uint8) []int {
	var used []int
	for i, n := range need {
		if n != 0 && p.code[i].op == OpVar {
			used = append(used, int(p.code[i].n))
		}
	}
	slices.Sort(used)
	return slices.Compact(used)
}

// reform moves the operands of an instruction to their new places.
func reform(in instr, slots [][2]int32, form int) instr {
	low := func(r int32, form int) int32 {
		if int(r) < len(slots) {
			return slots[r][form]
		}
		return 0
	}
	switch in.op {
	case OpAnd, OpOr:
		in.a, in.b = low(in.a, form), low(in.b, form)
		if form == 1 {
			in.op = OpAnd + OpOr - in.op
		}
	case OpIf:
		in.a, in.b, in.c = low(in.a, 0), low(in.b, form), low(in.c, form)
	case OpTrue, opFalse:
		if form == 1 {
			in.op = OpTrue + opFalse - in.op
		}
	default:
		in.a, in.b = low(in.a, 0), low(in.b, 0)
		if in.op == opSign && form == 1 {
			in.n = signAny &^ in.n
		}
	}
	return in
}

// withSign appends the statement that the sign of the root is in mask.
func (p part) withSign(mask int32) part {
	at := p.root()
	return p.append(instr{op: opSign, n: mask, a: at})
}

// minusConst appends root - c.
func (p part) minusConst(c *big.Rat) part {
	at := p.root()
	q := p.append(instr{op: OpConst, n: int32(len(p.consts))})
	q.consts = append(slices.Clone(p.consts), constant{rat: c, ival: ivalOfRat(c)})
	return q.append(instr{op: OpSub, a: at, b: q.root()})
}

func (p part) append(in instr) part {
	q := *p.Program
	q.code = append(slices.Clone(p.code), in)
	q.regs = append(slices.Clone(p.regs), p.regs[p.root()])
	q.roots = []int32{int32(len(q.code) - 1)}
	q.ends = []int{len(q.code)}
	return part{&q, p.from}
}

// conjuncts lists the statements that must all hold, an equality being two.
func (p *Program) conjuncts(at int32) []part {
	in := &p.code[at]
	if in.op == OpAnd {
		return append(p.conjuncts(in.a), p.conjuncts(in.b)...)
	}
	if in.op == opSign && in.n == signZero {
		d := p.cut(in.a, false)
		return []part{d.withSign(signZero | signPos), d.withSign(signZero | signNeg)}
	}
	return []part{p.cut(at, false)}
}

// domains lists the statements that together mean that instruction at has a
// value wherever its operands have one; nil if that is not expressible.
func (p *Program) domains(at int32) []part {
	in := p.code[at]
	switch in.op {
	case OpSqrt:
		return []part{p.cut(in.a, false).withSign(signZero | signPos)}
	case OpLn, OpLog10:
		return []part{p.cut(in.a, false).withSign(signPos)}
	case OpPow:
		base := p.cut(in.a, false)
		if e := p.code[in.b]; e.op == OpConst && p.rat(e).Sign() > 0 {
			return []part{base.withSign(signZero | signPos)}
		}
		return []part{base.withSign(signPos)}
	case OpDiv:
		return []part{p.cut(in.b, false).withSign(signNeg | signPos)}
	case opUnit, OpPowInt:
		return []part{p.cut(in.a, false).withSign(signNeg | signPos)}
	case OpTan:
		a := p.cut(in.a, false)
		return []part{a.append(instr{op: OpCos, a: a.root()}).withSign(signNeg | signPos)}
	case OpAsin, OpAcos:
		a := p.cut(in.a, false)
		return []part{
			a.minusConst(big.NewRat(-1, 1)).withSign(signZero | signPos),
			a.minusConst(big.NewRat(1, 1)).withSign(signZero | signNeg),
		}
	case OpTable:
		a, knots := p.cut(in.a, false), p.tables[in.n].knots
		return []part{
			a.minusConst(knots[0].X).withSign(signZero | signPos),
			a.minusConst(knots[len(knots)-1].X).withSign(signZero | signNeg),
		}
	}
	return nil
}
