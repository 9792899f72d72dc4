package bound

import (
	"math/big"
	"slices"
)

// affine is a number that is fixed + the sum of coef·input; a coef of nil is 0,
// and a nil affine is a number of another kind.
type affine struct {
	coef  []*big.Rat
	fixed *big.Rat
}

func affineOf(fixed *big.Rat, n int) *affine { return &affine{make([]*big.Rat, n), fixed} }

// inputAlone is input i of n.
func inputAlone(i, n int) *affine {
	a := affineOf(new(big.Rat), n)
	a.coef[i] = big.NewRat(1, 1)
	return a
}

// inputs lists the inputs that move the number.
func (a *affine) inputs() []int {
	var out []int
	for i, c := range a.coef {
		if c != nil {
			out = append(out, i)
		}
	}
	return out
}

func (a *affine) constant() (*big.Rat, bool) {
	if a == nil || a.inputs() != nil {
		return nil, false
	}
	return a.fixed, true
}

func (a *affine) times(f *big.Rat) *affine {
	if a == nil {
		return nil
	}
	out := affineOf(new(big.Rat).Mul(a.fixed, f), len(a.coef))
	for i, c := range a.coef {
		if c != nil && f.Sign() != 0 {
			out.coef[i] = new(big.Rat).Mul(c, f)
		}
	}
	return out
}

func (a *affine) plus(b *affine) *affine {
	if a == nil || b == nil {
		return nil
	}
	out := &affine{slices.Clone(a.coef), new(big.Rat).Add(a.fixed, b.fixed)}
	for i, c := range b.coef {
		switch {
		case c == nil:
		case out.coef[i] == nil:
			out.coef[i] = c
		default:
			if out.coef[i] = new(big.Rat).Add(out.coef[i], c); out.coef[i].Sign() == 0 {
				out.coef[i] = nil
			}
		}
	}
	if _, status := keep(out.fixed); status != ratOK {
		return nil
	}
	return out
}

func (a *affine) minus(b *affine) *affine { return a.plus(b.times(big.NewRat(-1, 1))) }

// less is the number with a constant taken away.
func (a *affine) less(c *big.Rat) *affine {
	return a.plus(affineOf(new(big.Rat).Neg(c), len(a.coef)))
}

// product is that of two numbers of which one is constant.
func (a *affine) product(b *affine) *affine {
	if f, ok := a.constant(); ok {
		return b.times(f)
	}
	if f, ok := b.constant(); ok {
		return a.times(f)
	}
	return nil
}

// with puts a number in the place of one of the inputs.
func (a *affine) with(i int, b *affine) *affine {
	if a.coef[i] == nil {
		return a
	}
	out := &affine{slices.Clone(a.coef), a.fixed}
	out.coef[i] = nil
	return out.plus(b.times(a.coef[i]))
}

// at is the value at a point.
func (a *affine) at(x []*big.Rat) *big.Rat {
	v := a.fixed
	for _, i := range a.inputs() {
		v = plusTimes(v, a.coef[i], x[i])
	}
	return v
}

// ends are the exact ends over the wide sets, nil where there is none.
func (a *affine) ends(in []Input) (lo, hi *big.Rat) {
	lo, hi = a.fixed, a.fixed
	for _, i := range a.inputs() {
		from, to := in[i].Lo, in[i].Hi
		if a.coef[i].Sign() < 0 {
			from, to = to, from
		}
		lo, hi = plusTimes(lo, a.coef[i], from), plusTimes(hi, a.coef[i], to)
	}
	return lo, hi
}

// plusTimes is a + c·x, nil where a or x is.
func plusTimes(a, c, x *big.Rat) *big.Rat {
	if a == nil || x == nil {
		return nil
	}
	r := new(big.Rat).Mul(c, x)
	return r.Add(r, a)
}

// signs are those that the number may have over the wide sets.
func (a *affine) signs(in []Input) int32 { return signsBetween(a.ends(in)) }
