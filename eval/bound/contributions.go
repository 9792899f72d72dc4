package bound

import "math"

// contributionBoxes bounds the search for the corner: shares are only printed.
const contributionBoxes = 400

// Contributions gives the first-order share of each program input in the
// spread of a number at its lowest (atLow) or highest corner: the derivative
// there times the width of the input, over the sum of all. The shares add up
// to 1, or are all 0 where nothing moves the number. An input without bounds
// counts with the width of its sure set.
func Contributions(p *Program, root int, in []Input, atLow bool) []float64 {
	out := make([]float64, len(in))
	if contradictory(in) != nil {
		return out
	}
	c := p.cut(p.roots[root], false)
	mine := pick(in, c.from)
	for i := range mine {
		if mine[i].Lo == nil || mine[i].Hi == nil {
			mine[i] = mine[i].sureOnly()
		}
	}
	side := -1.0
	if atLow {
		side = 1
	}
	s := newExtremum(c, mine, side)
	s.assured(contributionBoxes)
	e := s.seek(contributionBoxes)
	if e.at == nil {
		return out
	}
	x := make([]ival, len(mine))
	for i := range x {
		x[i] = ivalOfRat(e.at[i])
	}
	s.run(x, s.r)
	s.gradient(s.target(), s.r, s.adj, s.grads)
	sum := 0.0
	for i, at := range c.from {
		g, width := s.grads[i], s.top[i].hi-s.top[i].lo
		share := max(math.Abs(g.lo), math.Abs(g.hi)) * width
		if math.IsInf(share, 0) || math.IsNaN(share) || width == 0 || mine[i].Lo == mine[i].Hi {
			continue
		}
		out[at] = share
		sum += share
	}
	for i := range out {
		if sum > 0 {
			out[i] /= sum
		}
	}
	return out
}
