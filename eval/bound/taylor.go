package bound

import "slices"

// taylor bounds a difference over a box by its second-order expansion at the
// middle, d(c) + d'(c)·(x-c) + ½ (x-c)·d”(box)·(x-c). row holds the jets over
// the box. Unlike the mean value form its excess falls with the third power of
// the width, which matters along ridges.
func (s *search) taylor(j *jets, b box, a *atom, row []ival, coords []int) (ival, bool) {
	c := slices.Clone(b.x)
	for _, i := range coords {
		m, ok := middle(b.x[i])
		if !ok {
			m = b.x[i].lo
		}
		c[i] = s.around(i, m)
	}
	s.run(c, s.rc)
	v := s.rc[a.d]
	if v.u || v.empty() || !finiteIval(v) {
		return v, false
	}
	g := make([]ival, len(s.in))
	s.gradient(a.d, s.rc, s.adj, g)
	second := ival{}
	for p, i := range coords {
		dp := sub(b.x[i], c[i])
		v = add(v, mul(g[i], dp))
		second = add(second, mul(row[j.pair(p, p)], powInt(dp, 2)))
		for q := range p {
			cross := mul(row[j.pair(p, q)], mul(dp, sub(b.x[coords[q]], c[coords[q]])))
			second = add(second, add(cross, cross))
		}
	}
	return add(v, mul(ival{lo: 0.5, hi: 0.5}, second)), true
}

func finiteIval(v ival) bool { return v.lo > -inf && v.hi < inf }

// narrow keeps what two bounds of the same set have in common.
func (a *atom) narrow(v ival) {
	if v.lo > a.over.lo {
		a.over.lo = min(v.lo, a.over.hi)
	}
	if v.hi < a.over.hi {
		a.over.hi = max(v.hi, a.over.lo)
	}
}
