package eval

import (
	"slices"

	"guardband/eval/circuit"
	"guardband/eval/record"
)

// leastShared is how many open claims one reason must keep open to be told once
// for all of them.
const leastShared = 3

// openRoots gathers the reasons that several open claims share, the one that
// opens most first. A claim that waits for nothing else is told there.
func (c recorder) openRoots() []record.Root {
	var roots []record.Root
	at := map[record.OpenPoint]int{}
	points := map[*Claim][]record.OpenPoint{}
	for _, cl := range c.claims {
		if cl.Out.Verdict != record.Open {
			continue
		}
		points[cl] = cl.openPoints()
		for _, p := range points[cl] {
			i, ok := at[p]
			if !ok {
				i = len(roots)
				at[p] = i
				roots = append(roots, record.Root{Reason: p.Reason, Text: p.Text, Settle: p.Settle, Source: p.Source,
					Page: p.Page, Claims: []string{}})
			}
			if p.Reason != "not evaluated" { // errors of two formulas are no one reason
				roots[i].Opens++
			}
		}
	}
	for _, cl := range c.claims {
		most := -1
		for _, p := range points[cl] {
			i := at[p]
			if roots[i].Opens < leastShared {
				most = -1
				break
			}
			if most < 0 || roots[i].Opens > roots[most].Opens {
				most = i
			}
		}
		if most >= 0 {
			roots[most].Claims = append(roots[most].Claims, cl.id)
		}
	}
	out := append([]record.Root{}, slices.DeleteFunc(roots, func(r record.Root) bool { return r.Opens < leastShared })...)
	slices.SortStableFunc(out, func(a, b record.Root) int { return b.Opens - a.Opens })
	return out
}

// openPoints are the reasons of a claim and of its criteria, each once.
func (cl *Claim) openPoints() []record.OpenPoint {
	var out []record.OpenPoint
	add := func(l []record.OpenPoint) {
		for _, p := range l {
			out = circuit.AddTo(out, p)
		}
	}
	add(cl.Out.Open)
	for _, k := range cl.Out.Criteria {
		add(k.Open)
	}
	return out
}
