package bound

import (
	"math"
	"math/big"
)

// TurnKind tells what Turns found.
type TurnKind uint8

const (
	Never       TurnKind = iota // the predicate does not change with the input, within a factor of 10^6
	Monotone                    // it changes once, at the value given
	NotMonotone                 // the input has no single worse direction
	Unresolved                  // the boxes are spent
)

// turnBoxes bounds each of the proofs of Turns; opt bounds all of them.
const turnBoxes = 400

// Turns finds the value of one program input at which a predicate stops
// holding for all values of the others. It looks over the input's own range
// and beyond, up to 10^6 times its size and not over 0 where the range lies on
// one side of it: no part has a dropout below zero. The value is the shortest decimal number within 1e-9 relative
// of the turn. The others range over their wide sets, or their sure sets where
// they are unbounded.
func Turns(p *Program, predicate, input int, in []Input, opt Options) (value *big.Rat, kind TurnKind) {
	if contradictory(in) != nil {
		return nil, Never
	}
	c := p.cut(p.roots[predicate], false)
	t := turner{c: c, in: pick(in, c.from), at: -1, left: opt.boxesOf(len(c.code))}
	for i, at := range c.from {
		if at == input {
			t.at = i
		}
		if t.in[i].Lo == nil || t.in[i].Hi == nil {
			t.in[i] = t.in[i].sureOnly()
		}
	}
	if t.at < 0 {
		return nil, Never
	}
	from, to := t.in[t.at].Lo, t.in[t.at].Hi
	if from == nil || to == nil {
		return nil, NotMonotone
	}
	direction := t.direction(from, to)
	if direction == 0 {
		return nil, NotMonotone
	}
	if value, kind = t.find(from, to, direction); t.left <= 0 {
		return nil, Unresolved
	}
	return value, kind
}

type turner struct {
	c    part
	in   []Input
	at   int
	left int // boxes
}

// direction is +1 if the predicate gets worse as the input rises from one
// value to the other, -1 if it does as it falls, 0 if that is not known.
func (t *turner) direction(from, to *big.Rat) int {
	in := append([]Input(nil), t.in...)
	in[t.at].Lo, in[t.at].Hi = from, to
	s := newSearch(t.c, in)
	var f found
	s.assure(turnBoxes, 0, &f)
	b := newBox(in)
	s.run(b.x, s.r)
	n := len(in)
	for k := range s.atoms {
		a := &s.atoms[k]
		a.over, a.force = s.r[a.d], true
		s.gradient(a.d, s.r, s.adj, s.grads[k*n:(k+1)*n])
	}
	switch high, flat, ok := s.worseEnd(t.at, n); {
	case !ok:
		return 0
	case flat || high:
		return 1
	}
	return -1
}

// holds tells whether the predicate is proven with the input at one value.
func (t *turner) holds(v *big.Rat) bool {
	in := append([]Input(nil), t.in...)
	in[t.at].Lo, in[t.at].Hi = v, v
	f := newSearch(t.c, in).prove(max(min(turnBoxes, t.left), 1), 0)
	t.left -= f.boxes
	return f.proven
}

func (t *turner) find(from, to *big.Rat, direction int) (*big.Rat, TurnKind) {
	good, bad := from, to
	if direction < 0 {
		good, bad = to, from
	}
	switch {
	case !t.holds(good):
		bad, good = good, nil
	case t.holds(bad):
		good, bad = bad, nil
	}
	if good == nil || bad == nil {
		known := good
		if known == nil {
			known = bad
		}
		other, kind := t.reach(from, to, known, (good != nil) == (direction > 0), good != nil, direction)
		if other == nil {
			return nil, kind
		}
		if good == nil {
			good = other
		} else {
			bad = other
		}
	}
	return t.bisect(good, bad), Monotone
}

// reach steps away from a range until the predicate changes.
func (t *turner) reach(from, to, known *big.Rat, up, holds bool, direction int) (*big.Rat, TurnKind) {
	step := new(big.Rat).Sub(to, from)
	size := new(big.Rat).Abs(known)
	if least := new(big.Rat).Mul(size, big.NewRat(1, 100)); step.Cmp(least) < 0 {
		step = least
	}
	if step.Sign() == 0 {
		step = big.NewRat(1, 1)
	}
	most := new(big.Rat).Mul(new(big.Rat).Add(size, step), big.NewRat(1_000_000, 1))
	at := known
	if known.Sign() == 0 && from.Cmp(to) != 0 && (!up && from.Sign() == 0 || up && to.Sign() == 0) {
		return nil, Never
	}
	for step.Cmp(most) <= 0 {
		next := new(big.Rat).Add(at, step)
		if !up {
			next.Sub(at, step)
		}
		if known.Sign() != 0 && next.Sign()*known.Sign() <= 0 { // not over 0
			next = new(big.Rat).Quo(at, big.NewRat(2, 1))
			if new(big.Rat).Abs(next).Cmp(new(big.Rat).Quo(size, big.NewRat(1_000_000, 1))) < 0 {
				return nil, Never
			}
		}
		lo, hi := known, next
		if !up {
			lo, hi = next, known
		}
		if d := t.direction(lo, hi); d != direction {
			return nil, NotMonotone
		}
		if t.holds(next) != holds {
			return next, Monotone
		}
		at = next
		step = new(big.Rat).Add(step, step)
	}
	return nil, Never
}

// bisect narrows a turn down and names it by a short decimal.
func (t *turner) bisect(good, bad *big.Rat) *big.Rat {
	for range min(120, max(t.left, 0)) {
		gap, _ := new(big.Rat).Sub(good, bad).Float64()
		size, _ := new(big.Rat).Abs(good).Float64()
		if math.Abs(gap) <= 1e-9*size {
			break
		}
		m := new(big.Rat).Add(good, bad)
		m.Quo(m, big.NewRat(2, 1))
		quarter := new(big.Rat).Sub(good, bad)
		quarter.Quo(quarter.Abs(quarter), big.NewRat(8, 1))
		m = shortestDecimal(new(big.Rat).Sub(m, quarter), new(big.Rat).Add(m, quarter))
		if t.holds(m) {
			good = m
		} else {
			bad = m
		}
	}
	if good.Cmp(bad) < 0 {
		return shortestDecimal(good, bad)
	}
	return shortestDecimal(bad, good)
}
