package bound

import "math"

// lanes is the number of points or boxes that a batch works on at a time: few
// enough that all registers of a usual program stay in the first cache.
const lanes = 64

// Points evaluates a number at many points in plain float64, for plots and
// estimates: columns holds one slice per program input, each as long as out.
// Where there is no value out gets NaN; results carry rounding errors and
// prove nothing.
func Points(p *Program, root int, columns [][]float64, out []float64) {
	b := newPointBatch(p, root)
	for at := 0; at < len(out); at += lanes {
		n := min(lanes, len(out)-at)
		for i := range columns {
			b.in[i] = columns[i][at : at+n]
		}
		copy(out[at:at+n], b.run(n))
	}
}

// pointBatch holds lanes float64 values per register.
type pointBatch struct {
	p     *Program
	root  int32
	in    [][]float64
	cells []float64
}

func newPointBatch(p *Program, root int) *pointBatch {
	b := &pointBatch{p: p, root: p.roots[root], in: make([][]float64, len(p.inputs)), cells: make([]float64, p.ends[root]*lanes)}
	for i := range p.ends[root] {
		switch in := &p.code[i]; in.op { // constants are written once
		case OpConst:
			fill(b.row(int32(i), lanes), mid(p.consts[in.n].ival))
		case OpPi:
			fill(b.row(int32(i), lanes), math.Pi)
		case OpTrue:
			fill(b.row(int32(i), lanes), 1)
		}
	}
	return b
}

func fill(row []float64, v float64) {
	for k := range row {
		row[k] = v
	}
}

func (b *pointBatch) row(i int32, n int) []float64 {
	at := int(i) * lanes
	return b.cells[at : at+n : at+n]
}

// operand is a register's values; inputs are read where they lie.
func (b *pointBatch) operand(i int32, n int) []float64 {
	if in := &b.p.code[i]; in.op == OpVar {
		return b.in[in.n][:n]
	}
	return b.row(i, n)
}

func (b *pointBatch) run(n int) []float64 {
	for i := range len(b.cells) / lanes {
		in := &b.p.code[i]
		switch in.op {
		case OpConst, OpPi, OpVar, OpTrue, opFalse:
			continue
		}
		out, x := b.row(int32(i), n), b.operand(in.a, n)
		if twoOperands(in.op) {
			pointBinary(in.op, out, x, b.operand(in.b, n))
			continue
		}
		if in.op == OpIf {
			pointChoice(out, x, b.operand(in.b, n), b.operand(in.c, n))
			continue
		}
		b.unary(in, out, x)
	}
	return b.operand(b.root, n)
}

func pointBinary(op Op, out, x, y []float64) {
	x, y = x[:len(out)], y[:len(out)]
	switch op {
	case OpAdd:
		for k := range out {
			out[k] = x[k] + y[k]
		}
	case OpSub:
		for k := range out {
			out[k] = x[k] - y[k]
		}
	case OpMul:
		for k := range out {
			out[k] = float64(x[k] * y[k])
		}
	case OpDiv:
		for k := range out {
			out[k] = quotient(x[k], y[k])
		}
	case OpMin:
		for k := range out {
			out[k] = min(x[k], y[k])
		}
	case OpMax:
		for k := range out {
			out[k] = max(x[k], y[k])
		}
	case OpPow:
		for k := range out {
			out[k] = realPower(x[k], y[k])
		}
	case OpAnd:
		for k := range out {
			out[k] = kleene(x[k], y[k], 0)
		}
	case OpOr:
		for k := range out {
			out[k] = kleene(x[k], y[k], 1)
		}
	}
}

// quotient has no value at 0.
func quotient(x, y float64) float64 {
	if y == 0 {
		return math.NaN()
	}
	return x / y
}

func realPower(x, y float64) float64 {
	if x < 0 || x == 0 && y <= 0 {
		return math.NaN()
	}
	return math.Pow(x, y)
}

// kleene joins two truth values of which NaN is unknown; strong decides alone.
func kleene(x, y, strong float64) float64 {
	switch {
	case x == strong || y == strong:
		return strong
	case x != x || y != y:
		return math.NaN()
	}
	return 1 - strong
}

func pointChoice(out, cond, then, els []float64) {
	for k := range out {
		switch cond[k] {
		case 1:
			out[k] = then[k]
		case 0:
			out[k] = els[k]
		default:
			out[k] = math.NaN()
		}
	}
}

func (b *pointBatch) unary(in *instr, out, x []float64) {
	x = x[:len(out)]
	switch in.op {
	case OpNeg:
		for k := range out {
			out[k] = -x[k]
		}
	case OpPowInt:
		for k := range out {
			out[k] = pointPowInt(x[k], in.n)
		}
	case opSign:
		for k := range out {
			out[k] = pointSign(x[k], in.n)
		}
	case OpTable:
		for k := range out {
			out[k] = b.p.tables[in.n].near(x[k])
		}
	case opNothing:
		for k := range out {
			out[k] = x[k] - x[k]
		}
	case opUnit:
		for k := range out {
			out[k] = quotient(x[k], x[k])
		}
	default:
		f := pointFunction(in.op)
		for k := range out {
			out[k] = f(x[k])
		}
	}
}

func pointPowInt(x float64, n int32) float64 {
	m, r := n, 1.0
	if m < 0 {
		m = -m
	}
	for base := x; m > 0; m >>= 1 {
		if m&1 == 1 {
			r = float64(r * base)
		}
		base = float64(base * base)
	}
	if n < 0 {
		return quotient(1, r)
	}
	return r
}

func pointSign(d float64, mask int32) float64 {
	var s int32
	switch {
	case d < 0:
		s = signNeg
	case d > 0:
		s = signPos
	case d == 0:
		s = signZero
	default:
		return math.NaN()
	}
	if s&mask != 0 {
		return 1
	}
	return 0
}

// near is the value at x in float64, NaN outside the knots.
func (t *table) near(x float64) float64 {
	last := len(t.x) - 1
	if !(x >= t.x[0].lo && x <= t.x[last].hi) {
		return math.NaN()
	}
	i := min(t.segment(x), last-1)
	return mid(t.y[i]) + float64(mid(t.slopes[i])*(x-mid(t.x[i])))
}

// pointFunction is the library's function; ln and log10 have no value at 0,
// where the library gives an infinity.
func pointFunction(op Op) func(float64) float64 {
	switch op {
	case OpAbs:
		return math.Abs
	case OpSqrt:
		return math.Sqrt
	case OpExp:
		return math.Exp
	case OpLn:
		return func(x float64) float64 { return unlessZero(x, math.Log) }
	case OpLog10:
		return func(x float64) float64 { return unlessZero(x, math.Log10) }
	case OpSin:
		return math.Sin
	case OpCos:
		return math.Cos
	case OpTan:
		return math.Tan
	case OpAsin:
		return math.Asin
	case OpAcos:
		return math.Acos
	case OpAtan:
		return math.Atan
	}
	return func(float64) float64 { return math.NaN() }
}

func unlessZero(x float64, f func(float64) float64) float64 {
	if x == 0 {
		return math.NaN()
	}
	return f(x)
}
