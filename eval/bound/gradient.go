package bound

var (
	unitIval = ival{lo: 0, hi: 1}
	oneIval  = ival{lo: 1, hi: 1}
	ln10Ival = ival{lo: 0x1.26bb1bbb55515p+1, hi: 0x1.26bb1bbb55516p+1}
)

// gradient encloses the derivatives of register root with respect to every
// input over the box whose values are in r, by reverse accumulation. Where a
// value has a corner the derivative is its generalised gradient (Clarke);
// across a jump it is unbounded. It says nothing where r[root].u is set. adj
// is scratch of at least root+1; g receives one interval per program input.
func (p *Program) gradient(root int32, r, adj, g []ival) {
	clear(adj[:root+1])
	clear(g)
	adj[root] = oneIval
	for i := root; i >= 0; i-- {
		w := adj[i]
		if w.lo == 0 && w.hi == 0 {
			continue
		}
		in := &p.code[i]
		switch in.op {
		case OpConst, OpPi, OpTrue, opFalse, opNothing, opUnit:
		case OpVar:
			g[in.n] = add(g[in.n], w)
		case OpNeg:
			adj[in.a] = sub(adj[in.a], w)
		case OpAdd:
			adj[in.a] = add(adj[in.a], w)
			adj[in.b] = add(adj[in.b], w)
		case OpSub:
			adj[in.a] = add(adj[in.a], w)
			adj[in.b] = sub(adj[in.b], w)
		case OpMul:
			adj[in.a] = add(adj[in.a], mul(w, r[in.b]))
			adj[in.b] = add(adj[in.b], mul(w, r[in.a]))
		case OpDiv:
			q := value(div(w, r[in.b]))
			adj[in.a] = add(adj[in.a], q)
			adj[in.b] = sub(adj[in.b], mul(q, r[i]))
		case OpSqrt:
			adj[in.a] = add(adj[in.a], value(div(w, add(r[i], r[i]))))
		default:
			p.pullBack(in, i, r, adj, w)
		}
	}
}

// value drops the mark of a possible missing value and takes the empty set for
// the whole line: it stands for a slope where nothing is known.
func value(a ival) ival {
	if a.empty() {
		return entireIval
	}
	a.u = false
	return a
}

// pullBack passes the weight of a rarer operation on to its operands.
func (p *Program) pullBack(in *instr, i int32, r, adj []ival, w ival) {
	a := r[in.a]
	switch in.op {
	case OpMin, OpMax:
		p.pullExtreme(in, r, adj, w)
	case OpPow:
		b := r[in.b]
		slope := value(mul(b, power(a, sub(b, oneIval))))
		adj[in.a] = add(adj[in.a], mul(w, slope))
		if p.code[in.b].op != OpConst {
			adj[in.b] = add(adj[in.b], mul(w, value(mul(r[i], ln(a)))))
		}
	case OpIf:
		p.pullChoice(in, r, adj, w)
	case opSign, OpNot:
		adj[in.a] = add(adj[in.a], w)
	case OpAnd, OpOr:
		adj[in.a], adj[in.b] = w, w
	default:
		adj[in.a] = add(adj[in.a], mul(w, value(p.slope(in, a, r[i]))))
	}
}

// pullExtreme passes the weight of a minimum or maximum to whichever operand
// may be taken.
func (p *Program) pullExtreme(in *instr, r, adj []ival, w ival) {
	a, b := r[in.a], r[in.b]
	if in.op == OpMax {
		a, b = neg(a), neg(b)
	}
	switch {
	case a.hi < b.lo:
		adj[in.a] = add(adj[in.a], w)
	case b.hi < a.lo:
		adj[in.b] = add(adj[in.b], w)
	default:
		half := mul(w, unitIval)
		adj[in.a] = add(adj[in.a], half)
		adj[in.b] = add(adj[in.b], half)
	}
}

// pullChoice passes the weight to the branch taken; if that is not known, what
// moves the condition may make the value jump.
func (p *Program) pullChoice(in *instr, r, adj []ival, w ival) {
	switch c := r[in.a]; {
	case c.surelyTrue():
		adj[in.b] = add(adj[in.b], w)
	case c.surelyFalse():
		adj[in.c] = add(adj[in.c], w)
	default:
		half := mul(w, unitIval)
		adj[in.a] = entireIval
		adj[in.b] = add(adj[in.b], half)
		adj[in.c] = add(adj[in.c], half)
	}
}

// slope encloses the derivative of a function of one operand a with value v.
func (p *Program) slope(in *instr, a, v ival) ival {
	switch in.op {
	case OpPowInt:
		n := float64(in.n)
		return mul(ival{lo: n, hi: n}, powInt(a, in.n-1))
	case OpAbs:
		switch {
		case a.lo >= 0:
			return oneIval
		case a.hi <= 0:
			return neg(oneIval)
		}
		return ival{lo: -1, hi: 1}
	case OpExp:
		return v
	case OpLn:
		return div(oneIval, ival{lo: max(a.lo, 0), hi: a.hi})
	case OpLog10:
		return div(oneIval, mul(ln10Ival, ival{lo: max(a.lo, 0), hi: a.hi}))
	case OpSin:
		return cos(a)
	case OpCos:
		return neg(sin(a))
	case OpTan:
		return add(oneIval, powInt(v, 2))
	case OpAtan:
		return div(oneIval, add(oneIval, powInt(a, 2)))
	case OpAsin:
		return div(oneIval, sqrt(sub(oneIval, powInt(a, 2))))
	case OpAcos:
		return neg(div(oneIval, sqrt(sub(oneIval, powInt(a, 2)))))
	case OpTable:
		return p.tables[in.n].slope(a)
	}
	return entireIval
}
