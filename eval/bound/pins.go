package bound

import "math"

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
