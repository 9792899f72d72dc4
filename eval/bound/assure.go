package bound

import (
	"math/big"
	"slices"
)

// assure marks the operations of the predicate that surely have a value over
// the whole set although their interval operands do not show it, by proving
// the statement on their operand: the root of A + B - 0.3 is defined for
// A >= 0.1, B >= 0.2, which only exact numbers can tell.
func (s *search) assure(limit, depth int, out *found) {
	s.run(s.top, s.r)
	if depth > 2 || !slices.ContainsFunc(s.r, func(v ival) bool { return v.u }) {
		return
	}
	for i := range s.code {
		in := &s.code[i]
		if !s.r[i].u || s.operandsLack(in) {
			continue
		}
		f := s.domainHolds(int32(i), min(limit/8, 2000), depth)
		out.boxes += f.boxes
		if f.proven {
			in.sure = true
			s.run(s.top, s.r)
		}
		if (f.crossed || f.counter != nil) && s.unconditional(int32(i)) {
			s.hopeless = true
		}
	}
}

// operandsLack tells whether u of an instruction comes from an operand, or it
// is none that can lack a value by itself.
func (s *search) operandsLack(in *instr) bool {
	switch in.op {
	case OpSqrt, OpLn, OpLog10, OpPow, OpDiv, OpPowInt, OpAsin, OpAcos, OpTable, OpTan, opUnit:
		return false
	}
	return true
}

// domainHolds proves the statements on the operands of an instruction. A point
// that breaks one is kept: the predicate may have no value there.
func (s *search) domainHolds(at int32, limit, depth int) found {
	parts := s.domains(at)
	all := found{proven: len(parts) > 0}
	for _, p := range parts {
		f := newSearch(p, pick(s.in, p.from)).prove(limit, depth+1)
		f.boxes += all.boxes
		if f.counter != nil {
			s.points = append(s.points, s.complete(spread(f.counter, p.from, len(s.in))))
		}
		if !f.proven {
			return f
		}
		all = f
	}
	return all
}

// complete fills a point's unset inputs with some value of their set.
func (s *area) complete(at []*big.Rat) []*big.Rat {
	for i := range at {
		if at[i] != nil {
			continue
		}
		if at[i] = s.in[i].Lo; at[i] == nil {
			at[i] = s.in[i].Hi
		}
		if at[i] == nil {
			at[i] = new(big.Rat)
		}
	}
	return at
}

// unconditional tells that the predicate has no value where instruction at has
// none: no choice, no "and" and no "or" lies between.
func (s *search) unconditional(at int32) bool {
	on := make([]bool, len(s.code))
	on[s.root()] = true
	for i := s.root(); i > at; i-- {
		in := &s.code[i]
		if !on[i] || in.op == OpAnd || in.op == OpOr || in.op <= OpVar {
			continue
		}
		on[in.a] = true
		if twoOperands(in.op) {
			on[in.b] = true
		}
	}
	return on[at]
}

// pick takes the inputs of a part from those of the whole.
func pick[T any](whole []T, from []int) []T {
	out := make([]T, len(from))
	for i, at := range from {
		out[i] = whole[at]
	}
	return out
}

// spread puts the values of a part's inputs at their places in the whole.
func spread[T any](values []T, from []int, n int) []T {
	out := make([]T, n)
	for i, at := range from {
		out[at] = values[i]
	}
	return out
}
