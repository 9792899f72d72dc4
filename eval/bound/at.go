package bound

import "math/big"

// At evaluates a number at one exact point, given per program input; inputs
// the root does not depend on may be nil. lo and hi are float64
// bounds, neighbouring or equal unless a branch hangs on what 256 bits leave
// undecided, exact is nil where the value is no rational, undefined is
// not nil where there is or may be no value.
func At(p *Program, root int, point []*big.Rat) (lo, hi float64, exact *big.Rat, undefined *Undefined) {
	out := p.evaluate(p.ends[root], point)
	e := out[p.roots[root]]
	switch {
	case e.none:
		return -inf, inf, nil, p.witness(p.roots[root], out, point)
	case e.doubtful:
		lo, hi = e.enclosure().ends()
		return lo, hi, nil, &Undefined{Reg: p.regs[p.roots[root]], Op: publicOp(p.code[p.roots[root]].op), At: point}
	case e.rat != nil:
		lo, hi = ratEnds(e.rat)
		return lo, hi, e.rat, nil
	}
	lo, hi = e.wide.ends()
	return lo, hi, nil, nil
}

// Holds evaluates a predicate at one exact point. decided is false if it has
// no value there or is equal to 256 bits.
func Holds(p *Program, root int, point []*big.Rat) (truth, decided bool) {
	can := p.evaluate(p.ends[root], point)[p.roots[root]].can
	return can.surelyTrue(), can.surelyTrue() || can.surelyFalse()
}
