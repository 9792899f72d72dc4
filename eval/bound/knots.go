package bound

import "slices"

// A statement may meet its limit exactly at a knot of a table, and halving a
// float64 range does not end on one. The set is cut at the exact knots instead,
// and every piece is proven on one segment.

const (
	knotBoxes = 64 // tried on a piece before it is cut again
	knotDepth = 24 // cuts that lead to one piece
)

// knotted tells that a statement has tables of inputs to cut at.
func (p part) knotted() bool { return slices.ContainsFunc(p.code, p.overInput) }

// overInput tells that an instruction is a table of an input itself.
func (p *Program) overInput(in instr) bool { return in.op == OpTable && p.code[in.a].op == OpVar }

// byKnots proves or breaks a statement by cutting the set at the knots of its
// tables, within a budget.
func byKnots(p part, in []Input, limit, depth int) found {
	segments, cut, knot := p.onSegments(in)
	room := limit
	if cut >= 0 {
		room = min(room, knotBoxes)
	}
	out := newSearch(segments, in).prove(max(room, 1), 0)
	if out.proven || out.counter != nil || cut < 0 || depth == knotDepth {
		return out
	}
	low, high := slices.Clone(in), slices.Clone(in)
	low[cut].Hi, high[cut].Lo = knot.X, knot.X
	for _, half := range [][]Input{low, high} {
		f := byKnots(p, half, limit-out.boxes, depth+1)
		f.boxes += out.boxes
		if out = f; !out.proven {
			break
		}
	}
	return out
}

// onSegments narrows each table of an input to the segment that the range of the
// input lies in, and names an input to cut at a knot inside its range; cut is -1
// where there is none.
func (p part) onSegments(in []Input) (q part, cut int, at Knot) {
	whole := *p.Program
	whole.code, whole.tables = slices.Clone(p.code), slices.Clone(p.tables)
	cut = -1
	for i := range whole.code {
		c := &whole.code[i]
		if !p.overInput(*c) {
			continue
		}
		x, knots := in[p.code[c.a].n], p.tables[c.n].knots
		inside := func(k Knot) bool {
			return (x.Lo == nil || x.Lo.Cmp(k.X) < 0) && (x.Hi == nil || k.X.Cmp(x.Hi) < 0)
		}
		first := slices.IndexFunc(knots, inside)
		if first >= 0 {
			n := 1
			for first+n < len(knots) && inside(knots[first+n]) {
				n++
			}
			cut, at = int(p.code[c.a].n), knots[first+n/2]
			continue
		}
		for k := range len(knots) - 1 {
			if x.Lo != nil && x.Hi != nil && knots[k].X.Cmp(x.Lo) <= 0 && x.Hi.Cmp(knots[k+1].X) <= 0 {
				whole.tables = append(whole.tables, newTable(knots[k:k+2]))
				c.n, c.sure = int32(len(whole.tables)-1), true
				break
			}
		}
	}
	return part{&whole, p.from}, cut, at
}
