package eval

import (
	"crypto/sha256"
	"fmt"
	"math"
	"strings"

	"guardband/eval/bound"
	"guardband/units"
)

// rootSumSquare judges each comparison by first order: the spread inputs
// combined by root sum square at their centres, surroundings at their worst
// (JCGM 100:2008, eq. 10). The distance to the limit, margin taken off, must
// stay at least zero.
func (c *compiler) rootSumSquare(t *trial) {
	k := t.k
	if !conjunction(k.expr.Root) {
		k.out.Verdict = Open
		k.out.Open = append(k.out.Open, OpenPoint{Reason: "not evaluated", Text: "root sum square needs comparisons joined by `and`", Settle: "split the claim, or use the worst case"})
		return
	}
	v := Passed
	t.statLeft = make([]float64, len(k.comp.Tests))
	for i := range k.comp.Tests {
		t.statLeft[i] = math.NaN()
		x := &k.comp.Tests[i]
		if t.tests[i].excess < 0 {
			k.out.Open = append(k.out.Open, OpenPoint{Reason: "not evaluated", Text: "`" + x.Text() + "` has no distance to a limit", Settle: "use the worst case"})
			v = worse(v, Open)
			continue
		}
		got := bound.RootSumSquare(t.prog, t.tests[i].excess, t.in, bound.Options{Boxes: c.opt.Boxes})
		v = worse(v, c.combined(t, i, got))
	}
	k.out.Verdict = v
	if v == Failed {
		k.out.Failure = "broken"
	}
}

// combined turns one combination into a verdict and its sentence.
func (c *compiler) combined(t *trial, i int, got bound.Combined) Verdict {
	k, x := t.k, &t.k.comp.Tests[i]
	open := func(reason, text, settle string) Verdict {
		k.out.Open = append(k.out.Open, OpenPoint{Reason: reason, Text: text, Settle: settle})
		return Open
	}
	switch {
	case got.Missing != nil:
		for _, i := range got.Missing {
			k.out.Open = append(k.out.Open, c.lackingPoint(t, i)...)
		}
		return Open
	case got.Undefined != nil:
		return open("undefined", c.undefinedText(t, got.Undefined), "narrow the inputs so that the operation always has a value")
	case got.TooCurved:
		return open("too curved", "`"+x.Text()+"` is too curved for root sum square: the linear sum differs from the proven range by more than 10 %", "use the worst case or Monte Carlo")
	}
	typ := slackType(x)
	show := func(f float64) string {
		return units.FormatFloat(f, typ, units.Style{Unit: marginUnit(x), Digits: 4})
	}
	centre, delta := got.CentreLo, got.Delta
	k.out.Statistics = &Statistics{Centre: &centre, Delta: &delta,
		Text: fmt.Sprintf("distance to the limit %s at the centres, less %s by root sum square: %s left", show(centre), show(delta), show(got.Lo))}
	t.statLeft[i] = got.Lo
	if got.Lo > 0 || got.Lo == 0 && x.Op != "<" && x.Op != ">" {
		return Passed
	}
	return Failed
}

// monteCarlo samples the spread inputs and counts for how many pieces the
// criterion holds whatever the surroundings are.
func (c *compiler) monteCarlo(t *trial) {
	k := t.k
	if t.cl.yield == nil {
		k.out.Verdict = Open
		k.out.Open = append(k.out.Open, OpenPoint{Reason: "no yield", Text: "a Monte Carlo analysis needs the yield it must show", Settle: "add `yield: 99.7 %`"})
		return
	}
	got := bound.MonteCarlo(t.prog, 0, t.in, bound.Sampling{N: t.cl.samples, Seed: seedOf(t.cl), Normal: t.cl.normal, Yield: t.cl.yield})
	if got.Missing != nil {
		k.out.Verdict = Open
		for _, i := range got.Missing {
			k.out.Open = append(k.out.Open, c.lackingPoint(t, i)...)
		}
		return
	}
	lo, hi := got.Lower, got.Upper
	k.out.Statistics = &Statistics{Samples: got.N, Held: got.Holds, YieldLow: &lo, YieldHigh: &hi,
		Text: fmt.Sprintf("%d of %d samples hold; with 95 %% confidence the yield is at least %.4g %%, at most %.4g %%", got.Holds, got.N, 100*lo, 100*hi)}
	switch got.Outcome {
	case bound.Proven:
		k.out.Verdict = Passed
	case bound.Broken:
		k.out.Verdict, k.out.Failure = Failed, "broken"
	default:
		k.out.Verdict = Open
		k.out.Open = append(k.out.Open, OpenPoint{Reason: "samples", Text: "the samples do not decide whether the yield is reached", Settle: "take more samples, or ask for another yield"})
	}
}

// seedOf makes the seed of a claim's samples from its ID and text, so that the
// same notebook gives the same samples.
func seedOf(cl *claim) [32]byte {
	text := []string{cl.id, cl.out.Analysis, cl.asked.words()}
	for _, k := range cl.crit {
		text = append(text, k.expr.Root.Canonical(k.expr.Text))
	}
	return sha256.Sum256([]byte(strings.Join(text, "\n")))
}

// judgeStatistics judges a criterion by root sum square or Monte Carlo where
// the claim asks for it; false leaves it to the worst case.
func (c *compiler) judgeStatistics(t *trial) bool {
	switch {
	case t.cl.samples > 0:
		c.monteCarlo(t)
	case t.cl.out.Analysis == "root sum square":
		c.rootSumSquare(t)
	default:
		return false
	}
	c.block(t)
	c.showTests(t)
	return true
}
