package bound

import (
	"cmp"
	"math"
	"slices"
)

// explain says why statements stayed undecided.
func (d *decider) explain(open []openPart) Decision {
	out := Decision{Cause: CauseBudget, Gap: math.NaN()}
	for _, o := range open {
		if math.IsNaN(out.Gap) || o.gap > out.Gap {
			out.Gap = o.gap
		}
		if o.tie && out.Cause == CauseBudget && o.boxes < defaultBoxes {
			out.Cause = CauseTie
		}
		if u := cmp.Or(o.sure.undefined, o.undefined); u != nil && out.Undefined == nil {
			out.Cause = CauseUndefined
			at := *u
			if at.At != nil {
				at.At = d.whole(at.At, o.from)
			}
			out.Undefined = &at
		}
	}
	if out.Lacking = d.lacking(open); out.Lacking != nil {
		out.Cause = CauseWide
	}
	out.Boxes = d.spent
	return out
}

// lacking lists the inputs whose sure set in place of the wide one would prove
// every open statement: one by one, else together. An input without a sure set
// lacks whatever depends on it.
func (d *decider) lacking(open []openPart) []int {
	var candidates, single []int
	for i, x := range d.in {
		if x.narrowed() && dependsOn(open, i) {
			candidates = append(candidates, i)
		}
	}
	for _, i := range candidates {
		if d.provableWith(open, []int{i}) {
			single = append(single, i)
		}
	}
	if len(single) > 0 || len(candidates) < 2 || !d.provableWith(open, candidates) {
		return single
	}
	return d.fewest(open, candidates)
}

// fewest drops the inputs that are not needed for the proof.
func (d *decider) fewest(open []openPart, list []int) []int {
	for k := 0; k < len(list); {
		rest := slices.Delete(slices.Clone(list), k, k+1)
		if d.provableWith(open, rest) {
			list = rest
		} else {
			k++
		}
	}
	return list
}

func dependsOn(open []openPart, input int) bool {
	return slices.ContainsFunc(open, func(o openPart) bool { return slices.Contains(o.from, input) })
}

func (d *decider) provableWith(open []openPart, inputs []int) bool {
	replaced := slices.Clone(d.in)
	void := make([]bool, len(d.in))
	for _, i := range inputs {
		void[i] = !d.in[i].hasSure()
		replaced[i] = d.in[i].sureOnly()
	}
	for _, o := range open {
		if slices.Contains(pick(void, o.from), true) {
			continue
		}
		if d.told <= 0 {
			return false
		}
		f := newSearch(o.part, pick(replaced, o.from)).prove(min(2000, d.told), 0)
		if d.told -= f.boxes; !f.proven {
			return false
		}
	}
	return true
}
