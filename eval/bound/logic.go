package bound

// Predicates over a box follow Kleene's three values: lo = 0 if some point may
// be false, hi = 1 if some point may be true, u if some may have no value.

func truth(canFalse, canTrue, u bool) ival {
	out := ival{inf, -inf, u}
	if canFalse {
		out.lo, out.hi = 0, 0
	}
	if canTrue {
		out.hi = 1
		if !canFalse {
			out.lo = 1
		}
	}
	return out
}

func (a ival) canBeFalse() bool { return a.lo <= 0 }
func (a ival) canBeTrue() bool  { return a.hi >= 1 }

// surelyTrue tells that the predicate holds at every point.
func (a ival) surelyTrue() bool { return a.lo >= 1 && a.hi >= 1 && !a.u }

// surelyFalse tells that the predicate is false at every point.
func (a ival) surelyFalse() bool { return a.hi <= 0 && a.lo <= 0 && !a.u }

// signIs tells whether the sign of a is in mask.
func signIs(a ival, mask int32) ival {
	var can int32
	if a.lo < 0 {
		can |= signNeg
	}
	if a.lo <= 0 && a.hi >= 0 {
		can |= signZero
	}
	if a.hi > 0 {
		can |= signPos
	}
	if a.empty() {
		can = 0
	}
	return truth(can&^mask != 0, can&mask != 0, a.u)
}

func and(a, b ival) ival {
	u := a.u && (b.canBeTrue() || b.u) || b.u && (a.canBeTrue() || a.u)
	return truth(a.canBeFalse() || b.canBeFalse(), a.canBeTrue() && b.canBeTrue(), u)
}

func or(a, b ival) ival {
	u := a.u && (b.canBeFalse() || b.u) || b.u && (a.canBeFalse() || a.u)
	return truth(a.canBeFalse() && b.canBeFalse(), a.canBeTrue() || b.canBeTrue(), u)
}

func not(a ival) ival { return truth(a.canBeTrue(), a.canBeFalse(), a.u) }

// choose is then where cond holds and els where it does not.
func choose(cond, then, els ival) ival {
	out := ival{inf, -inf, cond.u}
	if cond.canBeTrue() {
		out = ival{then.lo, then.hi, out.u || then.u}
	}
	if cond.canBeFalse() {
		out = hull(out, els)
	}
	return out
}

// Conjuncts lists the statements that a predicate joins by "and", itself where
// it joins none.
func (b *Builder) Conjuncts(r Reg) []Reg {
	if x := b.nodes[r]; x.op == OpAnd {
		return append(b.Conjuncts(x.a), b.Conjuncts(x.b)...)
	}
	return []Reg{r}
}

// Summands are the terms of a sum, those taken away with their sign turned.
func (b *Builder) Summands(r Reg) []Reg {
	x := b.nodes[r]
	if x.op != OpAdd && x.op != OpSub {
		return []Reg{r}
	}
	out := b.Summands(x.a)
	for _, t := range b.Summands(x.b) {
		if x.op == OpSub {
			t = b.Unary(OpNeg, t)
		}
		out = append(out, t)
	}
	return out
}
