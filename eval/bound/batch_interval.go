package bound

import "math"

// ivalBatch runs a program over many boxes at a time, register by register.
// The ends lie in rows of their own; a register in which some lane may lack a
// value is marked and handled lane by lane.
type ivalBatch struct {
	p      *Program
	root   int32
	lo, hi []float64
	u      []bool  // per register and lane
	any    []bool  // per register: some lane has u set
	inputs []int32 // register of each program input, -1 if the root needs none
}

func newIvalBatch(p *Program, root int) *ivalBatch {
	n := p.ends[root]
	b := &ivalBatch{p: p, root: p.roots[root], lo: make([]float64, n*lanes),
		hi: make([]float64, n*lanes), u: make([]bool, n*lanes), any: make([]bool, n),
		inputs: make([]int32, len(p.inputs))}
	for i := range b.inputs {
		b.inputs[i] = -1
	}
	for i := range n {
		var v ival
		switch in := &p.code[i]; in.op {
		case OpConst:
			v = p.consts[in.n].ival
		case OpPi:
			v = piIval
		case OpTrue:
			v = trueIval
		case opFalse:
		case OpVar:
			b.inputs[in.n] = int32(i)
			continue
		default:
			continue
		}
		lo, hi := b.rows(int32(i), lanes)
		fill(lo, v.lo)
		fill(hi, v.hi)
	}
	return b
}

func (b *ivalBatch) rows(i int32, n int) (lo, hi []float64) {
	at := int(i) * lanes
	return b.lo[at : at+n : at+n], b.hi[at : at+n : at+n]
}

func (b *ivalBatch) get(i int32, lane int) ival {
	at := int(i)*lanes + lane
	return ival{b.lo[at], b.hi[at], b.u[at]}
}

func (b *ivalBatch) set(i int32, lane int, v ival) {
	at := int(i)*lanes + lane
	b.lo[at], b.hi[at], b.u[at] = v.lo, v.hi, v.u
	b.any[i] = b.any[i] || v.u
}

// input gives the rows of an input's ends, to be written before run; nil if
// the root does not need it.
func (b *ivalBatch) input(i int) (lo, hi []float64) {
	if b.inputs[i] < 0 {
		return nil, nil
	}
	return b.rows(b.inputs[i], lanes)
}

// run evaluates n lanes of boxes. The results stay in the root's lanes.
func (b *ivalBatch) run(n int) {
	for i := range b.any {
		in := &b.p.code[i]
		at := int32(i)
		switch in.op {
		case OpConst, OpPi, OpTrue, opFalse, OpVar:
			continue
		}
		b.any[i] = false
		if b.fast(in, at, n) {
			continue
		}
		for k := range n {
			b.set(at, k, b.lane(in, k))
		}
	}
}

// fast handles the commonest operations where every lane has a value.
func (b *ivalBatch) fast(in *instr, at int32, n int) bool {
	if b.any[in.a] || twoOperands(in.op) && b.any[in.b] {
		return false
	}
	if !b.narrow(in, at, n) {
		return false
	}
	clear(b.u[int(at)*lanes : int(at)*lanes+n])
	return true
}

// narrow applies an operation to all lanes; false for one that is done lane by lane.
func (b *ivalBatch) narrow(in *instr, at int32, n int) bool {
	lo, hi := b.rows(at, n)
	xl, xh := b.rows(in.a, n)
	switch in.op {
	case OpAdd, OpSub, OpMul:
	case OpNeg:
		for k := range lo {
			lo[k], hi[k] = -xh[k], -xl[k]
		}
		return true
	default:
		return false
	}
	yl, yh := b.rows(in.b, n)
	switch in.op {
	case OpAdd:
		addRows(lo, hi, xl, xh, yl, yh, 1)
	case OpSub:
		addRows(lo, hi, xl, xh, yh, yl, -1)
	case OpMul:
		mulRows(lo, hi, xl, xh, yl, yh)
	}
	return true
}

// addRows adds sign·(yl, yh), the ends of y in the order they are needed.
func addRows(lo, hi, xl, xh, yl, yh []float64, sign float64) {
	n := len(lo)
	hi, xl, xh, yl, yh = hi[:n], xl[:n], xh[:n], yl[:n], yh[:n]
	for k := range lo {
		a, c := xl[k], float64(sign*yl[k])
		b, d := xh[k], float64(sign*yh[k])
		s, h := a+c, b+d
		t, u := s-a, h-b
		e, f := (a-(s-t))+(c-t), (b-(h-u))+(d-u)
		if w := e + f; w-w == 0 {
			lo[k], hi[k] = lower(s, e), upper(h, f)
			continue
		}
		lo[k], hi[k] = addDown(a, c), addUp(b, d)
	}
}

func mulRows(lo, hi, xl, xh, yl, yh []float64) {
	n := len(lo)
	hi, xl, xh, yl, yh = hi[:n], xl[:n], xh[:n], yl[:n], yh[:n]
	for k := range lo {
		a, b, c, d := xl[k], xh[k], yl[k], yh[k]
		if a > 0 && c > 0 {
			p, q := float64(a*c), float64(b*d)
			e, f := math.FMA(a, c, -p), math.FMA(b, d, -q)
			if w := e + f; w-w == 0 && p > tiny {
				lo[k], hi[k] = lower(p, e), upper(q, f)
				continue
			}
		}
		v := mulRest(ival{lo: a, hi: b}, ival{lo: c, hi: d})
		lo[k], hi[k] = v.lo, v.hi
	}
}

// lane evaluates one instruction for one lane.
func (b *ivalBatch) lane(in *instr, k int) ival {
	x := b.get(in.a, k)
	switch in.op {
	case OpAdd:
		return add(x, b.get(in.b, k))
	case OpSub:
		return sub(x, b.get(in.b, k))
	case OpMul:
		return mul(x, b.get(in.b, k))
	case OpDiv:
		return b.assured(in, k, div(x, b.get(in.b, k)))
	case OpNeg:
		return neg(x)
	case OpPowInt:
		return b.assured(in, k, powInt(x, in.n))
	case opSign:
		return signIs(x, in.n)
	case OpAnd:
		return and(x, b.get(in.b, k))
	case OpOr:
		return or(x, b.get(in.b, k))
	case OpMin:
		return minOf(x, b.get(in.b, k))
	case OpMax:
		return maxOf(x, b.get(in.b, k))
	case OpPow:
		return b.assured(in, k, power(x, b.get(in.b, k)))
	case OpIf:
		return choose(x, b.get(in.b, k), b.get(in.c, k))
	}
	return b.assured(in, k, b.p.single(in, x))
}

// assured drops the mark of an operation that was shown to have a value.
func (b *ivalBatch) assured(in *instr, k int, v ival) ival {
	if in.sure {
		v.u = b.get(in.a, k).u || twoOperands(in.op) && b.get(in.b, k).u
	}
	return v
}
