package bound

// jets computes values, first and second derivatives over a box with respect
// to some inputs, by forward accumulation in intervals. Each register holds
// 1 + k + k(k+1)/2 intervals.
type jets struct {
	*Program
	k, size int
	slot    []int // per program input: its place among the k, or -1
	cells   []ival
	r       []ival // plain values over the same box
	failed  bool   // a corner, jump or missing value lies in the box
}

func newJets(p *Program, inputs int, coords []int) *jets {
	k := len(coords)
	j := &jets{Program: p, k: k, size: 1 + k + k*(k+1)/2, slot: make([]int, inputs)}
	for i := range j.slot {
		j.slot[i] = -1
	}
	for at, i := range coords {
		j.slot[i] = at
	}
	j.cells = make([]ival, j.size*len(p.code))
	j.r = make([]ival, len(p.code))
	return j
}

func (j *jets) row(i int32) []ival { return j.cells[int(i)*j.size : (int(i)+1)*j.size] }

// pair is the place of the second derivative by coordinates a >= b.
func (j *jets) pair(a, b int) int { return 1 + j.k + a*(a+1)/2 + b }

// over evaluates register root over the box x.
func (j *jets) over(x []ival, root int32) []ival {
	j.run(x, j.r)
	j.failed = false
	clear(j.cells[:(int(root)+1)*j.size])
	for i := int32(0); i <= root; i++ {
		j.step(i)
	}
	return j.row(root)
}

func (j *jets) step(i int32) {
	in := &j.code[i]
	out := j.row(i)
	out[0] = j.r[i]
	switch in.op {
	case OpVar:
		if at := j.slot[in.n]; at >= 0 {
			out[1+at] = oneIval
		}
	case OpAdd:
		j.linear(out, j.row(in.a), j.row(in.b), add)
	case OpSub:
		j.linear(out, j.row(in.a), j.row(in.b), sub)
	case OpMul:
		j.product(out, j.row(in.a), j.row(in.b))
	case OpDiv:
		inverse := make([]ival, j.size)
		j.chain(inverse, j.row(in.b), OpDiv, in)
		j.product(out, j.row(in.a), inverse)
		out[0] = j.r[i]
	case OpMin, OpMax:
		j.extreme(out, in)
	case OpIf:
		j.choice(out, in)
	case OpConst, OpPi, OpTrue, opFalse, opSign, OpAnd, OpOr, OpNot, opNothing, opUnit:
	case OpPow:
		j.realPower(out, in)
	default:
		j.chain(out, j.row(in.a), in.op, in)
		out[0] = j.r[i]
	}
}

func (j *jets) linear(out, a, b []ival, op func(a, b ival) ival) {
	for i := 1; i < j.size; i++ {
		out[i] = op(a[i], b[i])
	}
}

func (j *jets) product(out, a, b []ival) {
	for i := 0; i < j.k; i++ {
		out[1+i] = add(mul(a[1+i], b[0]), mul(a[0], b[1+i]))
		for l := 0; l <= i; l++ {
			at := j.pair(i, l)
			cross := add(mul(a[1+i], b[1+l]), mul(a[1+l], b[1+i]))
			out[at] = add(add(mul(a[at], b[0]), mul(a[0], b[at])), cross)
		}
	}
}

// constantRow tells that a row has no derivatives.
func (j *jets) constantRow(a []ival) bool {
	for _, v := range a[1:] {
		if v.lo != 0 || v.hi != 0 {
			return false
		}
	}
	return true
}

// chain applies a function of one operand by its first two derivatives.
func (j *jets) chain(out, a []ival, op Op, in *instr) {
	var d derived
	if op == OpTable {
		d = j.tables[in.n].jet(a[0])
	} else {
		d = derivatives(op, in, a[0])
	}
	out[0] = d.value
	if j.constantRow(a) && (op != OpDiv || !d.bad) {
		return
	}
	if d.bad || d.first.empty() || d.second.empty() || d.value.empty() || a[0].u {
		j.failed = true
		return
	}
	for i := 0; i < j.k; i++ {
		out[1+i] = mul(d.first, a[1+i])
		for l := 0; l <= i; l++ {
			at := j.pair(i, l)
			square := mul(a[1+i], a[1+l])
			if l == i {
				square = powInt(a[1+i], 2)
			}
			out[at] = add(mul(d.second, square), mul(d.first, a[at]))
		}
	}
}

// realPower is exp(b·ln a).
func (j *jets) realPower(out []ival, in *instr) {
	if j.r[in.a].lo <= 0 {
		j.failed = true
		return
	}
	log, exponent := make([]ival, j.size), make([]ival, j.size)
	j.chain(log, j.row(in.a), OpLn, in)
	exponent[0] = mul(j.row(in.b)[0], log[0])
	j.product(exponent, j.row(in.b), log)
	value := out[0]
	j.chain(out, exponent, OpExp, in)
	out[0] = value
}

func (j *jets) extreme(out []ival, in *instr) {
	a, b := j.r[in.a], j.r[in.b]
	if in.op == OpMax {
		a, b = neg(a), neg(b)
	}
	switch {
	case a.hi < b.lo:
		copy(out[1:], j.row(in.a)[1:])
	case b.hi < a.lo:
		copy(out[1:], j.row(in.b)[1:])
	default:
		j.failed = true
	}
}

func (j *jets) choice(out []ival, in *instr) {
	switch c := j.r[in.a]; {
	case c.surelyTrue():
		copy(out[1:], j.row(in.b)[1:])
	case c.surelyFalse():
		copy(out[1:], j.row(in.c)[1:])
	default:
		j.failed = true
	}
}

// derived holds a function's value and derivatives over an interval; bad where
// they do not exist or are not known.
type derived struct {
	value, first, second ival
	bad                  bool
}

func derivatives(op Op, in *instr, a ival) derived {
	switch op {
	case OpNeg:
		return derived{neg(a), neg(oneIval), ival{}, false}
	case OpAbs:
		switch {
		case a.lo >= 0:
			return derived{a, oneIval, ival{}, false}
		case a.hi <= 0:
			return derived{neg(a), neg(oneIval), ival{}, false}
		}
		return derived{bad: true}
	case OpDiv: // the reciprocal
		if a.has(0) {
			return derived{bad: true}
		}
		v := div(oneIval, a)
		return derived{v, neg(powInt(v, 2)), mul(ival{lo: 2, hi: 2}, powInt(v, 3)), false}
	case OpPowInt:
		n := float64(in.n)
		if in.n < 0 && a.has(0) {
			return derived{bad: true}
		}
		c := ival{lo: n, hi: n}
		cc := ival{lo: n * (n - 1), hi: n * (n - 1)}
		return derived{powInt(a, in.n), mul(c, powInt(a, in.n-1)), mul(cc, powInt(a, in.n-2)), in.n > 1<<20 || in.n < -1<<20}
	case OpSqrt:
		if a.lo <= 0 {
			return derived{bad: true}
		}
		v := sqrt(a)
		return derived{v, div(oneIval, add(v, v)), neg(div(oneIval, mul(ival{lo: 4, hi: 4}, mul(a, v)))), false}
	}
	return derivativesOf(op, a)
}

func derivativesOf(op Op, a ival) derived {
	v := function(op, a)
	switch op {
	case OpExp:
		return derived{v, v, v, false}
	case OpLn, OpLog10:
		if a.lo <= 0 {
			return derived{bad: true}
		}
		scale := oneIval
		if op == OpLog10 {
			scale = div(oneIval, ln10Ival)
		}
		return derived{v, div(scale, a), neg(div(scale, powInt(a, 2))), false}
	case OpSin:
		return derived{v, cos(a), neg(v), false}
	case OpCos:
		return derived{v, neg(sin(a)), neg(v), false}
	case OpTan:
		slope := add(oneIval, powInt(v, 2))
		return derived{v, slope, mul(ival{lo: 2, hi: 2}, mul(v, slope)), v.u}
	case OpAtan:
		slope := div(oneIval, add(oneIval, powInt(a, 2)))
		return derived{v, slope, mul(ival{lo: -2, hi: -2}, mul(a, powInt(slope, 2))), false}
	case OpAsin, OpAcos:
		rest := sub(oneIval, powInt(a, 2))
		if rest.lo <= 0 {
			return derived{bad: true}
		}
		slope := div(oneIval, sqrt(rest))
		second := mul(a, powInt(slope, 3))
		if op == OpAcos {
			slope, second = neg(slope), neg(second)
		}
		return derived{v, slope, second, false}
	}
	return derived{bad: true}
}

// jet gives a table's derivatives where the interval lies inside one segment.
func (t *table) jet(a ival) derived {
	for i := range t.slopes {
		if a.lo >= t.x[i].hi && a.hi <= t.x[i+1].lo {
			return derived{t.over(a), t.slopes[i], ival{}, false}
		}
	}
	return derived{bad: true}
}
