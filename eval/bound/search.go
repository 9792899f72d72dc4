package bound

import (
	"math"
	"math/big"
)

// found is what a search over one set showed of one predicate.
type found struct {
	proven    bool
	counter   []*big.Rat // a point where the predicate is false, exactly
	undefined *Undefined // a point without a value, or an operation that may lack one (At nil)
	tie       bool       // some point was equal but for rounding
	crossed   bool       // a difference that must not be 0 changes its sign at a number that has no short name
	gap       float64    // largest possible miss in what is left open
	boxes     int
}

// search proves or breaks one predicate over one set.
type search struct {
	part
	area
	r, adj, rc []ival // values over the box, weights, values at a centre
	atoms      []atom
	grads      []ival       // one row of inputs per atom
	points     [][]*big.Rat // where a comparison is near its limit inside a box
	// hopeless: a point without a value is known, so only a breaking point is
	// still of interest.
	hopeless bool
}

// hopelessBoxes bounds the search for a breaking point once a proof is out of
// reach.
const hopelessBoxes = 1000

// atom is a statement on the sign of one register.
type atom struct {
	at, d int32
	mask  int32
	side  float64 // +1: worse at low d, -1: worse at high d, 0: either
	over  ival    // of d over the box at hand, tightened
	force bool    // never decided: the difference itself is sought
}

func newSearch(p part, in []Input) *search {
	n := len(p.code)
	scratch := make([]ival, 3*n)
	s := &search{part: p, area: area{in: in, top: wideBox(in)}, r: scratch[:n], adj: scratch[n : 2*n], rc: scratch[2*n:]}
	s.listAtoms()
	s.grads = make([]ival, len(s.atoms)*len(in))
	return s
}

// listAtoms finds the sign statements and which side of each is the worse one:
// none where the statement steers a choice.
func (s *search) listAtoms() {
	steers := s.steering()
	for i := len(s.code) - 1; i >= 0; i-- {
		if in := &s.code[i]; in.op == opSign {
			a := atom{at: int32(i), d: in.a, mask: in.n}
			switch {
			case steers[i]:
			case in.n == signPos || in.n == signPos|signZero:
				a.side = 1
			case in.n == signNeg || in.n == signNeg|signZero:
				a.side = -1
			}
			s.atoms = append(s.atoms, a)
		}
	}
}

// steering marks the statements of a program that steer a choice.
func (p *Program) steering() []bool {
	steers := make([]bool, len(p.code))
	for i := len(p.code) - 1; i >= 0; i-- {
		in := &p.code[i]
		switch in.op {
		case OpIf:
			steers[in.a] = true
			if steers[i] {
				steers[in.b], steers[in.c] = true, true
			}
		case OpAnd, OpOr:
			if steers[i] {
				steers[in.a], steers[in.b] = true, true
			}
		}
	}
	return steers
}

// state is what one box showed.
type state uint8

const (
	stateOpen state = iota
	stateHolds
	stateBreaks
	stateLacks // some operation surely has no value at a point of it
	stateTie
)

// prove searches until every box holds, a point breaks, or the boxes are spent.
func (s *search) prove(limit, depth int) found {
	out := found{gap: math.NaN()}
	s.assure(limit, depth, &out)
	if s.byEnds() {
		out.boxes, out.proven = out.boxes+1, true
		return out
	}
	if s.hopeless {
		limit = min(limit, out.boxes+hopelessBoxes)
	}
	stack := []box{newBox(s.in)}
	worst := inf
	for len(stack) > 0 {
		b := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		if out.boxes >= limit {
			stack = append(stack, b)
			break
		}
		out.boxes++
		st := s.examine(&b, &out)
		if st == stateBreaks {
			return out
		}
		if out.crossed {
			return out
		}
		if out.undefined != nil && !s.hopeless {
			s.hopeless = true
			limit = min(limit, out.boxes+hopelessBoxes)
		}
		if st != stateOpen {
			if st == stateTie {
				out.tie, worst = true, min(worst, b.bound)
			}
			continue
		}
		low, high, ok := s.divide(b)
		if !ok {
			s.giveUp(b, &out)
			worst = min(worst, b.bound)
			continue
		}
		stack = append(stack, high, low)
	}
	for _, b := range stack {
		worst = min(worst, b.bound)
	}
	out.proven = len(stack) == 0 && worst == inf && out.undefined == nil
	if worst < 0 {
		out.gap = -worst
	}
	if !out.proven && out.undefined == nil {
		out.undefined = s.suspect(stack)
	}
	return out
}

// suspect names an operation that may lack a value in a box left over.
func (s *search) suspect(stack []box) *Undefined {
	for _, b := range stack {
		s.run(b.x, s.r)
		if s.r[s.root()].u {
			return s.mayLack()
		}
	}
	return nil
}

// mayLack finds the first operation over the values in r that may have no
// value although its operands have.
func (s *search) mayLack() *Undefined {
	for i := range s.code {
		in := &s.code[i]
		if s.r[i].u && !in.sure && in.op != OpAnd && in.op != OpOr && in.op != OpIf && in.op != opSign && !s.operandsMayLack(in, s.r) {
			return &Undefined{Reg: s.regs[i], Op: publicOp(in.op)}
		}
	}
	return nil
}

// giveUp records a box that cannot be divided further.
func (s *search) giveUp(b box, out *found) {
	if !s.r[s.root()].u {
		out.tie = true
		return
	}
	if out.undefined == nil {
		out.undefined = s.mayLack()
	}
}
