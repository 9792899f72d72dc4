package bound

import "math/big"

// redraw writes the statement of a piece anew: what is affine over it as one
// sum over the coordinates, what is known to be true or false as that.
func (p *piece) redraw() part {
	r := redrawing{piece: p, at: make([]int32, len(p.c.code)), vars: make([]int32, len(p.in))}
	r.out = Program{consts: p.c.consts[:len(p.c.consts):len(p.c.consts)], tables: p.c.tables, inputs: p.c.inputs}
	for i := range r.at {
		r.at[i] = -1
	}
	for i := range r.vars {
		r.vars[i] = -1
	}
	root := r.place(p.c.root())
	r.out.roots, r.out.ends = []int32{root}, []int{len(r.out.code)}
	return part{&r.out, p.c.from}
}

type redrawing struct {
	*piece
	out  Program
	at   []int32 // where an instruction of the statement went, or -1
	vars []int32 // where an input is, or -1
	reg  Reg     // of the instruction being written
}

func (r *redrawing) emit(in instr) int32 {
	r.out.code = append(r.out.code, in)
	r.out.regs = append(r.out.regs, r.reg)
	return int32(len(r.out.code) - 1)
}

// place writes an instruction after its operands and tells where.
func (r *redrawing) place(i int32) int32 {
	if r.at[i] >= 0 {
		return r.at[i]
	}
	in := r.c.code[i]
	switch {
	case r.forms[i] != nil:
		r.reg = r.c.regs[i]
		r.at[i] = r.sum(r.forms[i])
		return r.at[i]
	case r.truth[i] > 0:
		in = instr{op: OpTrue}
	case r.truth[i] < 0:
		in = instr{op: opFalse}
	case in.op == OpIf && r.truth[in.a] != 0:
		branch := in.b
		if r.truth[in.a] < 0 {
			branch = in.c
		}
		r.at[i] = r.place(branch)
		return r.at[i]
	}
	if in.op != OpPi && in.op != OpTrue && in.op != opFalse {
		in.a = r.place(in.a)
	}
	if twoOperands(in.op) || in.op == OpIf {
		in.b = r.place(in.b)
	}
	if in.op == OpIf {
		in.c = r.place(in.c)
	}
	in.sure = false
	r.reg = r.c.regs[i]
	r.at[i] = r.emit(in)
	return r.at[i]
}

// sum writes an affine number.
func (r *redrawing) sum(a *affine) int32 {
	at := int32(-1)
	join := func(op Op, term int32) {
		if at < 0 {
			at = term
			return
		}
		at = r.emit(instr{op: op, a: at, b: term})
	}
	for _, i := range a.inputs() {
		term, c := r.input(i), a.coef[i]
		op := OpAdd
		switch {
		case isInt(c, 1):
		case isInt(c, -1) && at >= 0:
			op = OpSub
		default:
			term = r.emit(instr{op: OpMul, a: r.constant(c), b: term})
		}
		join(op, term)
	}
	if at < 0 || a.fixed.Sign() != 0 {
		join(OpAdd, r.constant(a.fixed))
	}
	return at
}

func (r *redrawing) input(i int) int32 {
	if r.vars[i] < 0 {
		r.vars[i] = r.emit(instr{op: OpVar, n: int32(i)})
	}
	return r.vars[i]
}

func (r *redrawing) constant(c *big.Rat) int32 {
	r.out.consts = append(r.out.consts, constant{rat: c, ival: ivalOfRat(c)})
	return r.emit(instr{op: OpConst, n: int32(len(r.out.consts) - 1)})
}
