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
	tie       bool       // some point was equal to 256 bits
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
	points     [][]*big.Rat // exact points where a comparison is near its limit inside a box
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
	n := len(s.code)
	steers := make([]bool, n)
	for i := n - 1; i >= 0; i-- {
		in := &s.code[i]
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
		case opSign:
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

// examine evaluates a box, fixing inputs at their worse ends where that loses
// nothing, until that changes no more.
func (s *search) examine(b *box, out *found) state {
	for {
		s.run(b.x, s.r)
		v := s.r[s.root()]
		if v.surelyTrue() {
			return stateHolds
		}
		if v.surelyFalse() {
			out.counter = s.worstCorner(*b)
			return stateBreaks
		}
		if b.free() == 0 {
			return s.examinePoint(*b, out)
		}
		s.tighten(*b)
		v = s.judge()
		if v.surelyTrue() {
			return stateHolds
		}
		if v.surelyFalse() {
			out.counter = s.worstCorner(*b)
			return stateBreaks
		}
		if !s.pinWorst(b) {
			break
		}
	}
	b.bound = s.shortfall()
	return s.probe(b, out)
}

// examinePoint settles a box that is a single point.
func (s *search) examinePoint(b box, out *found) state {
	return s.settlePoint(s.point(b), out)
}

// settlePoint evaluates one exact point.
func (s *search) settlePoint(at []*big.Rat, out *found) state {
	values := s.evaluate(len(s.code), at)
	v := values[s.root()].can
	switch {
	case v.surelyTrue():
		return stateHolds
	case v.surelyFalse():
		out.counter = at
		return stateBreaks
	case v.empty():
		if out.undefined == nil || out.undefined.At == nil {
			out.undefined = s.witness(s.root(), values, at)
		}
		return stateLacks
	}
	return stateTie
}

// undecided tells whether the statement of an atom is open over its range.
func (a *atom) undecided() bool {
	if a.force {
		return true
	}
	v := signIs(a.over, a.mask)
	return v.lo != v.hi || v.u
}

// tighten computes derivatives for every undecided atom and narrows its range
// by the mean value form.
func (s *search) tighten(b box) {
	n := len(b.x)
	for k := range s.atoms {
		a := &s.atoms[k]
		a.over = s.r[a.d]
		if a.over.u || !a.undecided() {
			continue
		}
		g := s.grads[k*n : (k+1)*n]
		s.gradient(a.d, s.r, s.adj, g)
	}
	for k := range s.atoms {
		a := &s.atoms[k]
		if a.over.u || !a.undecided() {
			continue
		}
		s.meanValue(a, b, s.grads[k*n:(k+1)*n])
	}
}

// meanValue narrows an atom's range by d(c) + Σ g·(x - c), with the middle c
// chosen for the worse side.
func (s *search) meanValue(a *atom, b box, g []ival) {
	for _, low := range [2]bool{true, false} {
		if (low && a.side < 0) || (!low && a.side > 0) {
			continue
		}
		c, ok := s.centres(b, g, low)
		if !ok {
			return
		}
		s.run(c, s.rc)
		v := s.rc[a.d]
		if v.u {
			return
		}
		for i := range g {
			if b.pins[i] == pinFree {
				v = add(v, mul(g[i], sub(b.x[i], c[i])))
			}
		}
		a.narrow(v)
	}
}

// centres picks the point at which the mean value form bounds best from below
// or above (Baumann's centre).
func (s *search) centres(b box, g []ival, low bool) ([]ival, bool) {
	c := make([]ival, len(b.x))
	for i, x := range b.x {
		if b.pins[i] != pinFree {
			c[i] = x
			continue
		}
		d := g[i]
		if !low {
			d = neg(d)
		}
		m, ok := bestCentre(x, d)
		if !ok {
			return nil, false
		}
		c[i] = ival{lo: m, hi: m}
	}
	return c, true
}

func bestCentre(x, d ival) (float64, bool) {
	m := x.lo/2 + x.hi/2
	switch {
	case d.lo >= 0:
		m = x.lo
	case d.hi <= 0:
		m = x.hi
	case d.hi-d.lo < inf && x.hi-x.lo < inf:
		m = x.lo + (-d.lo/(d.hi-d.lo))*(x.hi-x.lo)
	}
	if math.IsInf(m, 0) || math.IsNaN(m) {
		return 0, false
	}
	return min(max(m, x.lo), x.hi), true
}

// judge evaluates the predicates again with the tightened ranges.
func (s *search) judge() ival {
	for k := range s.atoms {
		a := &s.atoms[k]
		s.r[a.d] = a.over
	}
	for i := range s.code {
		in := &s.code[i]
		switch in.op {
		case opSign:
			s.r[i] = signIs(s.r[in.a], in.n)
		case OpAnd:
			s.r[i] = and(s.r[in.a], s.r[in.b])
		case OpOr:
			s.r[i] = or(s.r[in.a], s.r[in.b])
		case OpIf:
			if predicate(&s.code[in.b]) {
				s.r[i] = choose(s.r[in.a], s.r[in.b], s.r[in.c])
			}
		}
	}
	return s.r[s.root()]
}

func predicate(in *instr) bool {
	switch in.op {
	case opSign, OpAnd, OpOr, OpTrue, opFalse, OpNot:
		return true
	}
	return false
}

// pinWorst fixes every input whose worse end is the same for all undecided
// atoms. Moving to it can only make the predicate false, so nothing is lost.
func (s *search) pinWorst(b *box) bool {
	changed := false
	for i := range b.x {
		if b.pins[i] != pinFree {
			continue
		}
		high, flat, ok := s.worseEnd(i, len(b.x))
		switch {
		case !ok:
		case flat:
			s.fixAnywhere(b, i)
			changed = true
		case s.fix(b, i, high):
			changed = true
		}
	}
	return changed
}

func (s *search) fixAnywhere(b *box, i int) {
	if !s.fix(b, i, false) && !s.fix(b, i, true) {
		s.fixInside(b, i)
	}
}

// worseEnd tells at which end of input i all undecided atoms are worst; flat
// if none depends on it, ok false if they disagree or it is not known.
func (s *search) worseEnd(i, n int) (high, flat, ok bool) {
	canLow, canHigh := true, true
	for k := range s.atoms {
		a := &s.atoms[k]
		if !a.undecided() {
			continue
		}
		if a.over.u {
			return false, false, false
		}
		g := s.grads[k*n+i]
		if g.lo == 0 && g.hi == 0 {
			continue
		}
		canLow = canLow && (a.side > 0 && g.lo >= 0 || a.side < 0 && g.hi <= 0)
		canHigh = canHigh && (a.side > 0 && g.hi <= 0 || a.side < 0 && g.lo >= 0)
	}
	return canHigh, canLow && canHigh, canLow || canHigh
}

// worstCorner names a point of a box all of which breaks: the worse ends where
// they are known.
func (s *search) worstCorner(b box) []*big.Rat {
	c := b.clone()
	n := len(b.x)
	s.run(b.x, s.r)
	for k := range s.atoms {
		a := &s.atoms[k]
		a.over = s.r[a.d]
		s.gradient(a.d, s.r, s.adj, s.grads[k*n:(k+1)*n])
	}
	for i := range c.x {
		if c.pins[i] != pinFree {
			continue
		}
		high, flat, ok := s.leaning(i, n)
		if !ok || flat || !s.fix(&c, i, high) {
			s.fixAnywhere(&c, i)
		}
	}
	return s.point(c)
}

// leaning is worseEnd for a box all of which breaks.
func (s *search) leaning(i, n int) (high, flat, ok bool) {
	sum := 0.0
	for k := range s.atoms {
		a, g := &s.atoms[k], s.grads[k*n+i]
		if a.over.u || a.side == 0 {
			continue
		}
		if g.lo >= 0 {
			sum += a.side
		}
		if g.hi <= 0 {
			sum -= a.side
		}
	}
	return sum < 0, sum == 0, true
}

// shortfall is how far below their limits the undecided atoms may lie.
func (s *search) shortfall() float64 {
	worst := inf
	for k := range s.atoms {
		a := &s.atoms[k]
		if !a.undecided() {
			continue
		}
		low := a.over.lo
		if a.side < 0 {
			low = -a.over.hi
		}
		if a.side == 0 {
			low = min(low, -a.over.hi)
		}
		worst = min(worst, low)
	}
	return worst
}

// divide halves the input whose spread moves the undecided atoms most.
func (s *search) divide(b box) (low, high box, ok bool) {
	best, at := -1.0, -1
	n := len(b.x)
	for i := range b.x {
		if _, ok := middle(b.x[i]); !ok || b.pins[i] != pinFree {
			continue
		}
		if w := s.weight(b, i, n); w > best {
			best, at = w, i
		}
	}
	if at < 0 {
		return b, b, false
	}
	return b.split(at)
}

func (s *search) weight(b box, i, n int) float64 {
	width := b.x[i].hi - b.x[i].lo
	sum, known := 0.0, false
	for k := range s.atoms {
		a, g := &s.atoms[k], s.grads[k*n+i]
		if a.over.u || !a.undecided() {
			continue
		}
		known = true
		if m := max(math.Abs(g.lo), math.Abs(g.hi)); m > 0 {
			sum += m * width
		}
	}
	if !known {
		sum = width / (s.top[i].hi - s.top[i].lo)
		if math.IsNaN(sum) {
			sum = width
		}
	}
	if math.IsNaN(sum) || math.IsInf(sum, 0) {
		sum = math.MaxFloat64
		if !math.IsInf(width, 0) {
			sum = math.MaxFloat64 / 2 * (width / (1 + width))
		}
	}
	return sum
}
