package eval

import (
	"cmp"
	"slices"

	"guardband/eval/record"
	"guardband/notebook"
)

// mostAttention is how many of the thinnest margins a reader must look at.
const mostAttention = 10

// claimRecords writes the claims of the record, counts them, and orders them by
// what a reader must look at first.
func (c recorder) claimRecords(r *record.Record) {
	by := map[record.Verdict][]int{}
	for i, cl := range c.claims {
		by[cl.Out.Verdict] = append(by[cl.Out.Verdict], i)
	}
	r.Summary = record.Summary{Passed: len(by[record.Passed]), Failed: len(by[record.Failed]),
		Open: len(by[record.Open]), Waived: len(by[record.Waived]),
		Skipped:     len(by[record.Skipped]),
		LimitsNoted: c.limits[0], LimitsUnjudged: c.limits[1], Checks: c.checkCounts(by[record.Passed])}
	for _, i := range by[record.Passed] {
		if c.claims[i].onDefault {
			r.Summary.OnDefaults++
		}
	}
	first := c.thinnestPassed(by[record.Passed])
	keep := slices.Clone(first)
	for v, list := range by {
		if c.opt.Detail > 0 && v != record.Failed && v != record.Open { // what did not pass is never cut
			list = list[:min(c.opt.Detail, len(list))]
			by[v] = list
		}
		keep = append(keep, list...)
	}
	slices.Sort(keep)
	keep = slices.Compact(keep)
	r.Claims = make([]record.Claim, 0, len(keep))
	for _, i := range keep {
		cl := c.claims[i]
		cl.Out.Actions = reader(c).actionsOf(cl.id)
		if len(cl.Out.Criteria) == 0 {
			cl.listCriteria()
		}
		r.Claims = append(r.Claims, cl.Out)
	}
	r.Attention = []string{}
	for _, i := range slices.Concat(by[record.Failed], by[record.Open], by[record.Waived], first) {
		r.Attention = append(r.Attention, c.claims[i].id)
	}
}

// checkCounts are the passed claims of each built-in check. Where numbers are
// left out the thinnest margins are not, so the least of a check is among those
// that are known, or is not told.
func (c recorder) checkCounts(passed []int) []record.CheckCount {
	var out []record.CheckCount
	at := map[string]int{}
	least := map[string]float64{}
	for _, i := range passed {
		cl := c.claims[i]
		name := cl.Out.Check
		if name == "" {
			continue
		}
		n, ok := at[name]
		if !ok {
			n = len(out)
			at[name] = n
			out = append(out, record.CheckCount{Check: name})
		}
		out[n].Passed++
		if m := cl.Out.Thinnest(); m != nil && m.Absolute != nil {
			if key := m.Key(); out[n].Least == "" || key < least[name] {
				least[name], out[n].Least, out[n].Claim = key, m.Text, cl.id
			}
		}
	}
	slices.SortFunc(out, func(a, b record.CheckCount) int { return cmp.Compare(a.Check, b.Check) })
	return out
}

// thinnestPassed are those with the thinnest margins among the claims that
// passed, by their places.
func (c recorder) thinnestPassed(passed []int) []int {
	var list []int
	for _, i := range passed {
		if cl := c.claims[i]; !(judge(c)).brief() || cl.shown {
			if m := cl.Out.Thinnest(); m != nil && m.Percent != nil {
				list = append(list, i)
			}
		}
	}
	key := func(i int) float64 { return c.claims[i].Out.Thinnest().Key() }
	slices.SortStableFunc(list, func(a, b int) int { return cmp.Compare(key(a), key(b)) })
	return list[:min(mostAttention, len(list))]
}

// countDiagnostics adds the diagnostics to the summary.
func countDiagnostics(r *record.Record) {
	for _, d := range r.Diagnostics {
		if d.Severity == string(notebook.Err) {
			r.Summary.Errors++
		} else {
			r.Summary.Warnings++
		}
	}
}
