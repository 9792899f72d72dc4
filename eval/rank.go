package eval

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"guardband/eval/bound"
	"guardband/eval/record"
	"guardband/units"
)

// rankedMargins is for how many of the thinnest margins the record says what
// each input contributes and where the verdict changes.
const rankedMargins = 10

// rankInputs writes contributions and turning values for the criteria with
// the thinnest margins, and for all that fail. It is done only where a record
// is drawn.
func (c judge) rankInputs(trials []trial) {
	if !c.opt.Typeset {
		return
	}
	var list []*trial
	for i := range trials {
		t := &trials[i]
		if t.k.told != nil {
			continue
		}
		if t.k.out.Verdict == record.Passed && !math.IsInf(t.k.thin, 0) || t.k.out.Verdict == record.Failed {
			list = append(list, t)
		}
	}
	slices.SortStableFunc(list, func(a, b *trial) int { return cmp.Compare(a.k.thin, b.k.thin) })
	for i, t := range list {
		if i < rankedMargins || t.k.out.Verdict == record.Failed {
			t.k.out.Contributions = c.contributions(t, 3)
		}
	}
}

// contributions lists the inputs that use most of the margin of the thinnest
// comparison, at most n of them.
func (c judge) contributions(t *trial, n int) []record.Contribution {
	root := t.thinnestSlack()
	if root < 0 {
		return nil
	}
	share := bound.Contributions(t.prog, root, t.in, true)
	order := slices.DeleteFunc(byShare(share), func(i int) bool { return share[i] <= 0 })
	order = order[:min(n, len(order))]
	var out []record.Contribution
	for _, i := range order {
		in := c.inputs[t.prog.Inputs()[i]]
		x := record.Contribution{Name: in.name, Share: share[i]}
		if t.cl.Out.Analysis != "worst case" { // it turns where the worst case does not
			out = append(out, x)
			continue
		}
		at, kind := bound.Turns(t.prog, 0, i, t.in, bound.Options{Boxes: t.boxesLeft() / len(order)})
		switch kind {
		case bound.Monotone:
			x.TurnsAt = floatOf(at)
			x.Text = fmt.Sprintf("turns at %s", units.Format(at, in.typ, units.Style{Unit: in.unit, Digits: 5}))
		case bound.NotMonotone:
			x.Text = "not monotone"
		case bound.Unresolved:
			x.Text = "turns at a value that was not worked out"
		default:
			x.Text = "never turns"
		}
		out = append(out, x)
	}
	return out
}

// byShare are the inputs of a program, what contributes most first.
func byShare(share []float64) []int {
	order := make([]int, len(share))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(share[b], share[a]) })
	return order
}

// thinnestSlack is the root of the distance to the limit of the comparison
// with the thinnest margin; -1 where none shows one.
func (t *trial) thinnestSlack() int {
	best, root := math.Inf(1), -1
	for i := range t.k.out.Tests {
		if m := t.k.out.Tests[i].Margin; m != nil && m.Key() < best {
			best, root = m.Key(), t.tests[i].slack
		}
	}
	return root
}
