package eval

import (
	"crypto/sha256"
	"fmt"
	"math"
	"strings"

	"guardband/eval/bound"
	"guardband/eval/record"
	"guardband/units"
)

// rootSumSquare judges each comparison by first order: the spread inputs
// combined by root sum square at their centres, surroundings at their worst
// (JCGM 100:2008, eq. 10). The distance to the limit, margin taken off, must
// stay at least zero.
func (c judge) rootSumSquare(t *trial) {
	k := t.k
	if !conjunction(k.expr.Root) {
		k.open("not evaluated", "root sum square needs comparisons joined by `and`", "split the claim, or use the worst case")
		return
	}
	v, failure := record.Passed, "short"
	t.statLeft = make([]float64, len(k.comp.Tests))
	for i := range k.comp.Tests {
		t.statLeft[i] = math.NaN()
		x := &k.comp.Tests[i]
		if t.tests[i].excess < 0 {
			k.open("not evaluated", "`"+x.Text()+"` has no distance to a limit", "use the worst case")
			v = worse(v, record.Open)
			continue
		}
		got, broken := c.combined(t, i)
		v = worse(v, got)
		if broken {
			failure = "broken"
		}
	}
	k.out.Verdict = v
	if v == record.Failed {
		k.out.Failure = failure
	}
}

// combined judges one comparison by root sum square; broken says that it fails
// without its margin too.
func (c judge) combined(t *trial, i int) (v record.Verdict, broken bool) {
	k, x, r := t.k, &t.k.comp.Tests[i], t.tests[i]
	opt := bound.Options{Boxes: c.opt.Boxes}
	got := bound.RootSumSquare(t.prog, r.excess, t.in, opt)
	open := func(reason, text, settle string) (record.Verdict, bool) {
		k.open(reason, text, settle)
		return record.Open, false
	}
	switch {
	case got.Missing != nil:
		for _, i := range got.Missing {
			k.out.Open = append(k.out.Open, c.lackingPoint(t, i)...)
		}
		return record.Open, false
	case got.Undefined != nil:
		return open("undefined", c.undefinedText(t, got.Undefined), "narrow the inputs so that the operation always has a value")
	case got.TooCurved:
		return open("too curved", "`"+x.Text()+
			"` is too curved for root sum square: the linear sum differs from the proven range by more than 10 %",
			"use the worst case or Monte Carlo")
	}
	plain := got
	if r.excess != r.slack {
		plain = bound.RootSumSquare(t.prog, r.slack, t.in, opt)
	}
	show := func(f float64) string {
		return units.FormatFloat(f, slackType(x), units.Style{Unit: marginUnit(x), Digits: 4})
	}
	centre, delta := plain.CentreLo, plain.Delta
	k.out.Statistics = &record.Statistics{Centre: &centre, Delta: &delta,
		Text: fmt.Sprintf("distance to the limit %s at the centres, less %s by root sum square: %s left", show(centre), show(delta), show(plain.Lo))}
	t.statLeft[i] = plain.Lo
	misses := func(got bound.Combined) bool {
		return got.LoSure && (got.LoSign < 0 || got.LoSign == 0 && (x.Op == "<" || x.Op == ">"))
	}
	sure := func(root int) bound.Combined { return bound.SureRootSumSquare(t.prog, root, t.in, opt) }
	switch {
	case !got.LoSure:
		return open("budget", "`"+x.Text()+"` leaves nothing or next to nothing by root sum square, within rounding",
			"ask for a margin, or move the limit a little")
	case !misses(got):
		return record.Passed, false
	case !misses(sure(r.excess)):
		return open("no limits", "what the facts leave open breaks it by root sum square, the stated columns do not", "state the missing limits")
	}
	return record.Failed, r.excess == r.slack || misses(sure(r.slack))
}

// sampled is what the samples of a claim showed: of all its criteria together,
// and of each alone where they do not all hold often enough.
type sampled struct {
	prog  *bound.Program
	in    []bound.Input
	all   bound.Sampled
	plain bound.Outcome // of all without their margins
	alone map[*Criterion]bound.Sampled
}

// sampleClaims draws the samples of every Monte Carlo claim: its yield is the
// share of pieces for which all of its criteria hold.
func (c judge) sampleClaims(all []*Claim) {
	for _, cl := range all {
		if cl.samples > 0 && cl.yield != nil {
			c.isolateClaim(cl, func() { c.sample(cl) })
		}
	}
}

func (c judge) sample(cl *Claim) {
	joint, plain := c.b.True(), c.b.True()
	var list []*Criterion
	roots := []bound.Reg{0, 0}
	for _, k := range cl.Crit {
		if k.bad || len(k.uses) == 0 {
			continue
		}
		list = append(list, k)
		joint = c.b.Binary(bound.OpAnd, joint, k.comp.Reg)
		without := k.comp.Reg
		if k.comp.Plain != 0 {
			without = k.comp.Plain
		}
		plain = c.b.Binary(bound.OpAnd, plain, without)
		roots = append(roots, k.comp.Reg)
	}
	if len(list) == 0 {
		return
	}
	if c.work.samples += cl.samples; c.work.samples > mostSamples {
		cl.overdrawn = true
		return
	}
	roots[0], roots[1] = joint, plain
	s := &sampled{prog: c.b.Extract(roots...)}
	s.in = c.gather(s.prog)
	draw := func(root int) bound.Sampled {
		return bound.MonteCarlo(s.prog, root, s.in, bound.Sampling{N: cl.samples, Seed: seedOf(cl), Normal: cl.normal, Yield: cl.yield})
	}
	if s.all = draw(0); s.all.Outcome != bound.Proven && len(list) > 1 {
		s.alone = make(map[*Criterion]bound.Sampled, len(list))
		for i, k := range list {
			s.alone[k] = draw(2 + i)
			c.work.samples += cl.samples
		}
	}
	if s.all.Outcome == bound.Broken && plain != joint {
		s.plain = draw(1).Outcome
	} else {
		s.plain = s.all.Outcome
	}
	cl.sampled = s
}

// monteCarlo says of a criterion what the samples of its claim showed. One that
// alone misses the yield fails whatever the others lack.
func (c judge) monteCarlo(t *trial) {
	k, s := t.k, t.cl.sampled
	if s == nil && t.cl.overdrawn {
		k.open("budget", fmt.Sprintf("the Monte Carlo analyses of this design ask more than %d samples", mostSamples), "ask fewer")
		return
	} else if s == nil {
		k.open("no yield", "a Monte Carlo analysis needs the yield it must show", "add `yield: 99.7 %`")
		return
	}
	got := s.all
	alone, has := s.alone[k]
	if has && alone.Outcome == bound.Broken && got.Outcome != bound.Broken {
		got = alone
	}
	if got.Missing != nil {
		k.out.Verdict = record.Open
		whole := &trial{cl: t.cl, k: k, cutout: &cutout{prog: s.prog, in: s.in}}
		for _, i := range got.Missing {
			k.out.Open = append(k.out.Open, c.lackingPoint(whole, i)...)
		}
		return
	}
	lo, hi := got.Lower, got.Upper
	k.out.Statistics = &record.Statistics{Samples: got.N, Held: got.Holds, YieldLow: &lo, YieldHigh: &hi,
		Text: fmt.Sprintf("%d of %d samples hold%s; with 95 %% confidence the yield is at least %.4g %%, at most %.4g %%",
			got.Holds, got.N, t.cl.together(alone, has), 100*lo, 100*hi)}
	switch {
	case got.Outcome == bound.Proven:
		k.out.Verdict = record.Passed
	case got.Outcome == bound.Broken:
		k.out.Verdict, k.out.Failure = record.Failed, "broken"
		if s.plain != bound.Broken && alone.Outcome != bound.Broken {
			k.out.Failure = "short"
		}
	case got.Wide:
		k.open("no limits", "what the facts leave open misses the yield, the stated columns do not", "state the missing limits")
	default:
		k.open("samples", "the samples do not decide whether the yield is reached", "take more samples, or ask for another yield")
	}
}

// together says what samples hold, where a claim has several criteria.
func (cl *Claim) together(alone bound.Sampled, has bool) string {
	switch n := len(cl.Crit); {
	case n < 2:
		return ""
	case !has || alone.Missing != nil:
		return fmt.Sprintf(" all %d criteria", n)
	default:
		return fmt.Sprintf(" all %d criteria, %d this one", n, alone.Holds)
	}
}

// seedOf makes the seed of a claim's samples from its ID and text, so that the
// same notebook gives the same samples.
func seedOf(cl *Claim) [32]byte {
	text := []string{cl.id, cl.Out.Analysis, cl.asked.words()}
	for _, k := range cl.Crit {
		text = append(text, k.expr.Root.Canonical(k.expr.Text))
	}
	return sha256.Sum256([]byte(strings.Join(text, "\n")))
}

// judgeStatistics judges a criterion by root sum square or Monte Carlo where
// the claim asks for it; false leaves it to the worst case.
func (c judge) judgeStatistics(t *trial) bool {
	switch {
	case t.cl.samples > 0:
		c.monteCarlo(t)
	case t.cl.Out.Analysis == "root sum square":
		c.rootSumSquare(t)
	default:
		return false
	}
	c.block(t)
	c.showTests(t)
	return true
}
