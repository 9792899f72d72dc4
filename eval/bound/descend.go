package bound

import (
	"math"
	"slices"
)

// descend seeks a local worst point of a statement's difference in a box by
// Newton steps projected on it. It is a heuristic: only exact evaluations of
// what it finds count. coords are the free inputs, j their jets.
func (s *search) descend(j *jets, b box, a *atom, coords []int) ([]float64, bool) {
	x := slices.Clone(b.x)
	at := make([]float64, len(coords))
	for k, i := range coords {
		m, ok := middle(b.x[i])
		if !ok || math.IsInf(m, 0) {
			return nil, false
		}
		at[k] = m
	}
	for range 24 {
		f, g, h := s.local(j, x, a, coords, at)
		if math.IsNaN(f) {
			return nil, false
		}
		next, ok := s.lineSearch(b, x, a, coords, at, newton(g, h, at, b, coords), f)
		if !ok {
			return at, true
		}
		at = next
	}
	return at, true
}

func mid(a ival) float64 { return a.lo/2 + a.hi/2 }

// local gives value, gradient and second derivatives at a point, turned so
// that lower is worse.
func (s *search) local(j *jets, x []ival, a *atom, coords []int, at []float64) (f float64, g, h []float64) {
	for k, i := range coords {
		x[i] = ival{lo: at[k], hi: at[k]}
	}
	row := j.over(x, a.d)
	k := len(coords)
	if row[0].u || row[0].empty() {
		return math.NaN(), nil, nil
	}
	g, h = make([]float64, k), make([]float64, k*k)
	for i := range k {
		g[i] = a.side * mid(row[1+i])
		for l := range i + 1 {
			v := a.side * mid(row[j.pair(i, l)])
			h[i*k+l], h[l*k+i] = v, v
		}
	}
	return a.side * mid(row[0]), g, h
}

// newton solves for the step, leaving out inputs held at an end of the box and
// directions without positive curvature, which follow the gradient instead.
func newton(g, h, at []float64, b box, coords []int) []float64 {
	k := len(g)
	held := make([]bool, k)
	for i, c := range coords {
		x := b.x[c]
		held[i] = (at[i] <= x.lo && g[i] > 0) || (at[i] >= x.hi && g[i] < 0)
	}
	m, v := slices.Clone(h), make([]float64, k)
	for i := range k {
		v[i] = -g[i]
	}
	var order []int
	for p := range k {
		if held[p] || !(m[p*k+p] > 1e-12*math.Abs(h[p*k+p])) || h[p*k+p] <= 0 {
			continue
		}
		order = append(order, p)
		for i := p + 1; i < k; i++ {
			if held[i] {
				continue
			}
			f := m[i*k+p] / m[p*k+p]
			for l := p; l < k; l++ {
				m[i*k+l] -= f * m[p*k+l]
			}
			v[i] -= f * v[p]
		}
	}
	step := make([]float64, k)
	for n := len(order) - 1; n >= 0; n-- {
		p := order[n]
		sum := v[p]
		for _, l := range order[n+1:] {
			sum -= m[p*k+l] * step[l]
		}
		step[p] = sum / m[p*k+p]
	}
	for i, c := range coords {
		if !held[i] && !slices.Contains(order, i) && h[i*k+i] < 0 {
			step[i] = -math.Copysign(b.x[c].hi-b.x[c].lo, g[i])
		}
	}
	return step
}

// lineSearch shortens a step until the difference is lower; ok is false if
// none is.
func (s *search) lineSearch(b box, x []ival, a *atom, coords []int, at, step []float64, value float64) ([]float64, bool) {
	for scale := 1.0; scale > 1e-6; scale /= 4 {
		next := make([]float64, len(at))
		moved, finite := false, true
		for k, i := range coords {
			next[k] = min(max(at[k]+scale*step[k], b.x[i].lo), b.x[i].hi)
			x[i] = ival{lo: next[k], hi: next[k]}
			moved = moved || next[k] != at[k]
			finite = finite && next[k]-next[k] == 0
		}
		if !moved {
			return nil, false
		}
		if !finite {
			continue
		}
		s.run(x, s.rc)
		v := s.rc[a.d]
		if !v.u && !v.empty() && (a.side*mid(v) < value || scale == 1 && a.side*mid(v) == value) {
			return next, true
		}
	}
	return nil, false
}
