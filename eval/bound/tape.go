package bound

var piIval = ival{lo: piDown, hi: piUp}

// run encloses the values of the first len(r) registers over the box x, given
// per program input, into r.
func (p *Program) run(x, r []ival) {
	code := p.code[:len(r)]
	for i := range code {
		in := &code[i]
		r[i] = p.step(in, x, r)
		if in.sure {
			r[i].u = p.operandsMayLack(in, r)
		}
	}
}

// step encloses the value of one instruction.
func (p *Program) step(in *instr, x, r []ival) ival {
	switch in.op {
	case OpConst:
		return p.consts[in.n].ival
	case OpVar:
		return x[in.n]
	case OpNeg:
		return neg(r[in.a])
	case OpAdd:
		return add(r[in.a], r[in.b])
	case OpSub:
		return sub(r[in.a], r[in.b])
	case OpMul:
		return mul(r[in.a], r[in.b])
	case OpDiv:
		return div(r[in.a], r[in.b])
	case OpPowInt:
		return powInt(r[in.a], in.n)
	case opSign:
		return signIs(r[in.a], in.n)
	case OpAnd:
		return and(r[in.a], r[in.b])
	case OpOr:
		return or(r[in.a], r[in.b])
	}
	return p.rare(in, r)
}

// operandsMayLack tells whether an operand may have no value.
func (p *Program) operandsMayLack(in *instr, r []ival) bool {
	switch in.op {
	case OpDiv, OpPow:
		return r[in.a].u || r[in.b].u
	}
	return r[in.a].u
}

func (p *Program) rare(in *instr, r []ival) ival {
	a := r[in.a]
	switch in.op {
	case OpPi:
		return piIval
	case OpMin:
		return minOf(a, r[in.b])
	case OpMax:
		return maxOf(a, r[in.b])
	case OpPow:
		return power(a, r[in.b])
	case OpIf:
		return choose(a, r[in.b], r[in.c])
	case OpTrue:
		return trueIval
	case opFalse:
		return falseIval
	}
	return p.single(in, a)
}

// single encloses a rarer operation of one operand.
func (p *Program) single(in *instr, a ival) ival {
	switch in.op {
	case OpAbs:
		return abs(a)
	case OpTable:
		return p.tables[in.n].over(a)
	case OpNot:
		return not(a)
	case opNothing:
		if a.empty() {
			return a
		}
		return ival{0, 0, a.u}
	case opUnit:
		if a.empty() || (a.lo == 0 && a.hi == 0) {
			return emptyIval
		}
		return ival{1, 1, a.u || a.has(0)}
	}
	return function(in.op, a)
}

// function encloses an elementary function.
func function(op Op, a ival) ival {
	switch op {
	case OpSqrt:
		return sqrt(a)
	case OpExp:
		return exp(a)
	case OpLn:
		return ln(a)
	case OpLog10:
		return log10(a)
	case OpSin:
		return sin(a)
	case OpCos:
		return cos(a)
	case OpTan:
		return tan(a)
	case OpAsin:
		return asin(a)
	case OpAcos:
		return acos(a)
	case OpAtan:
		return atan(a)
	}
	panic("bound: unknown operation")
}
