package bound

import "math/big"

// At evaluates a number at one exact point, given per program input; inputs
// the root does not depend on may be nil. lo and hi are float64
// bounds, few neighbours apart, exact is nil where the value is no rational,
// undefined is not nil where there is or may be no value.
func At(p *Program, root int, point []*big.Rat) (lo, hi float64, exact *big.Rat, undefined *Undefined) {
	out := p.evaluate(p.ends[root], point)
	at := p.roots[root]
	switch e := out[at]; {
	case e.empty():
		return -inf, inf, nil, p.witness(at, out, point)
	case e.u:
		return e.lo, e.hi, nil, &Undefined{Reg: p.regs[at], Op: publicOp(p.code[at].op), At: point}
	default:
		return e.lo, e.hi, e.rat, nil
	}
}

// Holds evaluates a predicate at one exact point. decided is false if it has
// no value there or is equal but for rounding.
func Holds(p *Program, root int, point []*big.Rat) (truth, decided bool) {
	can := p.evaluate(p.ends[root], point)[p.roots[root]]
	return can.surelyTrue(), can.surelyTrue() || can.surelyFalse()
}
