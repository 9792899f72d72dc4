package eval

import (
	"context"
	"fmt"
	"math/big"
	"strings"

	"guardband/eval/bound"
	"guardband/eval/record"
	"guardband/notebook"
	"guardband/units"
)

// Sweep is the margin of a claim against one of its inputs, the others at
// their worst.
type Sweep struct {
	Claim, Criterion, Input string
	Points                  []SweepPoint
	Turns                   string // where the verdict changes, in words
	TurnsAt                 *float64
	Inputs                  []string // all inputs of the criterion, largest effect first
}

// SweepPoint is one value of the input and the margin left there.
type SweepPoint struct {
	Value, Margin         float64 // SI
	ValueText, MarginText string
	Holds                 bool
}

// SweepClaim compiles a book and works out the margin of one claim against an
// input. Without a name the input that uses most of the margin is taken. The
// record is nil where the claim or the input is not known; the error says so.
func SweepClaim(ctx context.Context, book *notebook.Book, opt Options, claimID, name string, steps int) (*Sweep, *record.Record, error) {
	opt.Typeset = false
	c := compile(ctx, book, opt)
	r := recorder{c}.record()
	cl := c.claimByID(claimID)
	if cl == nil {
		return nil, r, fmt.Errorf("there is no claim named %q%s", claimID, hintAfter(notebook.Nearest(claimID, c.claimIDs())))
	}
	if cl.Out.Analysis != "worst case" {
		return nil, r, fmt.Errorf("claim %q is judged by %s; a sweep shows the worst case", claimID, cl.Out.Analysis)
	}
	var best *trial
	for _, k := range cl.Crit {
		if k.bad {
			continue
		}
		t := judge{c}.extract(cl, k)
		if t.k.out.Tests = k.out.Tests; t.thinnestSlack() < 0 {
			continue
		}
		if best == nil || k.thin < best.k.thin {
			best = t
		}
	}
	if best == nil {
		return nil, r, fmt.Errorf("claim %q has no comparison with a margin to sweep", claimID)
	}
	s, err := c.sweep(best, name, steps)
	return s, r, err
}

func hintAfter(near string) string {
	if near == "" {
		return ""
	}
	return fmt.Sprintf("; did you mean %q?", near)
}

func (c *compiler) sweep(t *trial, name string, steps int) (*Sweep, error) {
	root := t.thinnestSlack()
	s := &Sweep{Claim: t.cl.id, Criterion: t.k.src}
	share := bound.Contributions(t.prog, root, t.in, true)
	at := -1
	for _, i := range byShare(share) {
		n := c.inputs[t.prog.Inputs()[i]].name
		s.Inputs = append(s.Inputs, n)
		if at < 0 && (name == "" || n == name) {
			at = i
		}
	}
	if at < 0 {
		return nil, fmt.Errorf("claim %q rests on no ranging input %q; its inputs are %s", t.cl.id, name, strings.Join(s.Inputs, ", "))
	}
	in := c.inputs[t.prog.Inputs()[at]]
	s.Input = in.name
	lo, hi := t.in[at].Lo, t.in[at].Hi
	if lo == nil || hi == nil {
		lo, hi = t.in[at].SureLo, t.in[at].SureHi
	}
	if lo == nil || hi == nil {
		return nil, fmt.Errorf("%s has no range to sweep over", in.name)
	}
	turn, kind := bound.Turns(t.prog, 0, at, t.in, bound.Options{Boxes: c.opt.Boxes})
	switch kind {
	case bound.Monotone:
		s.TurnsAt = floatOf(turn)
		s.Turns = "the verdict changes at " + units.Format(turn, in.typ, units.Style{Unit: in.unit, Digits: 6})
		if far(lo, hi, turn) {
			break
		}
		lo, hi = lower(lo, turn), higher(hi, turn)
	case bound.NotMonotone:
		s.Turns = "the margin does not go one way with " + in.name
	case bound.Unresolved:
		s.Turns = "where the verdict changes was not worked out within the budget of steps"
	default:
		s.Turns = "the verdict never changes with " + in.name + " alone"
	}
	typ := slackType(&t.k.comp.Tests[t.testOf(root)])
	u := marginUnit(&t.k.comp.Tests[t.testOf(root)])
	for i := 0; i <= steps; i++ {
		v := new(big.Rat).Sub(hi, lo)
		v.Mul(v, big.NewRat(int64(i), int64(steps))).Add(v, lo)
		ins := append([]bound.Input(nil), t.in...)
		ins[at].Lo, ins[at].Hi, ins[at].SureLo, ins[at].SureHi = v, v, v, v
		e := bound.SureRange(t.prog, root, ins, bound.Options{Boxes: 2000})
		d := bound.Decide(t.prog, 0, ins, bound.Options{Boxes: 2000})
		p := SweepPoint{Value: units.Float(v),
			ValueText: units.Format(v, in.typ, units.Style{Unit: in.unit, Digits: 5}), Holds: d.Outcome == bound.Proven,
			MarginText: "undefined"}
		if m := finite(e.Lo); m != nil && !e.Empty {
			p.Margin = *m
			p.MarginText = endText(e.Lo, typ, u, units.Down)
		}
		s.Points = append(s.Points, p)
		if lo.Cmp(hi) == 0 {
			break
		}
	}
	return s, nil
}

// testOf is the comparison whose distance to the limit a root is.
func (t *trial) testOf(root int) int {
	for i := range t.tests {
		if t.tests[i].slack == root {
			return i
		}
	}
	return 0
}

// far says that a turning value lies so far outside a range that a plot over
// both would show nothing.
func far(lo, hi, at *big.Rat) bool {
	w := new(big.Rat).Sub(hi, lo)
	w.Mul(w, big.NewRat(10, 1))
	return at.Cmp(new(big.Rat).Sub(lo, w)) < 0 || at.Cmp(new(big.Rat).Add(hi, w)) > 0
}
