package eval

import (
	"fmt"
	"math/big"
	"regexp"
	"slices"
	"strings"

	"guardband/eval/formula"
	"guardband/eval/record"
	"guardband/notebook"
	"guardband/units"
)

// This file finds slips in written claims by which they hold whatever the board
// is: a percent sign left out, one temperature in the place of the ambient range.

// checkSlips complains of slips in a criterion; a percent sign left out makes it bad.
func (c claimant) checkSlips(k *Criterion) {
	for i := range k.comp.Tests {
		x := &k.comp.Tests[i]
		if c.percentLeftOut(k, x.Left, x.Right, x.Text()) || c.percentLeftOut(k, x.Right, x.Left, x.Text()) {
			k.bad = true
		}
	}
	if k.expr == nil {
		return
	}
	formula.Walk(k.expr.Root, func(n *formula.Node) {
		switch n.Kind {
		case formula.NodeChain:
			for i := range n.Args[1:] {
				k.bad = c.deviationLeftOut(k, n.Args[i], n.Args[i+1]) || c.deviationLeftOut(k, n.Args[i+1], n.Args[i]) || k.bad
			}
		case formula.NodeCall:
			c.ambientLeftOut(k, n)
		}
	})
}

// percentLeftOut says that a quantity noted in percent is compared with a bare
// number above 1, which is more than all of it.
func (c claimant) percentLeftOut(k *Criterion, share, limit formula.Value, text string) bool {
	if share.Unit == nil || share.Unit.Symbol != "%" || share.Type != (units.Type{}) || limit.Class != formula.Number ||
		limit.Unit != nil && limit.Unit.Symbol != "" {
		return false
	}
	v, _ := c.b.ConstOf(limit.Reg)
	return limit.Given && c.percentAsked(k, v, text)
}

// deviationLeftOut says that (a - b) / b is compared with a bare number of 1 or more.
func (c claimant) deviationLeftOut(k *Criterion, n, limit *formula.Node) bool {
	src := func(n *formula.Node) string { return strings.TrimSpace(k.expr.Text[n.Off():n.End()]) }
	if limit.Kind != formula.NodeLiteral || limit.Lit.Type != (units.Type{}) || limit.Lit.Unit.Symbol != "" ||
		n.Kind != formula.NodeBinary || n.Word != "/" {
		return false
	}
	up := n.Args[0]
	for up.Kind == formula.NodeParen || up.Kind == formula.NodeCall && up.Word == "abs" && len(up.Args) == 1 {
		up = up.Args[0]
	}
	return up.Kind == formula.NodeBinary && up.Word == "-" && src(up.Args[1]) == src(n.Args[1]) &&
		c.percentAsked(k, limit.Lit.SI, src(n)+" against "+src(limit))
}

func (c claimant) percentAsked(k *Criterion, v *big.Rat, text string) bool {
	if v == nil || v.Cmp(one) <= 0 {
		return false
	}
	s := units.Format(v, units.Type{}, units.Style{Digits: 6})
	all := units.Format(new(big.Rat).Mul(v, rat(100)), units.Type{}, units.Style{Digits: 6})
	c.diagnose(notebook.Err, "percent-missing", k.text, "`"+text+"` compares a share with "+s+", which is "+all+" %",
		"write `"+s+" %`, or `"+all+" %` if that is meant")
	return true
}

// ambientLeftOut warns of a formula that is worked out at one ambient temperature,
// typed as a number, where the design has a range of them.
func (c claimant) ambientLeftOut(k *Criterion, n *formula.Node) {
	i := slices.IndexFunc(c.lang.Functions(), func(f formula.Function) bool { return f.Name == n.Word })
	y := c.ambient()
	if i < 0 || y == nil {
		return
	}
	if c.lower(y); y.val.Class != formula.Number || y.val.Fixed {
		return
	}
	for j, p := range c.lang.Functions()[i].Params {
		if p.Name == "T_A" && j < len(n.Args) && n.Args[j].Kind == formula.NodeLiteral {
			text := strings.TrimSpace(k.expr.Text[n.Args[j].Off():n.Args[j].End()])
			c.diagnose(notebook.Warn, "ambient-literal", k.text, "`"+n.Word+"` is worked out at "+text+
				" alone, and the ambient temperature of the design is a range", "write `ambient`, or name the temperature as a value")
		}
	}
}

var temperatures = regexp.MustCompile(`[-−]?\d+(?:\.\d+)? ?°C`)

// coldOrHot says which temperature that the statement of a claim names no reading
// was taken at; nil where there are readings at all of them.
func (c bench) coldOrHot(cl *Claim) *record.OpenPoint {
	for _, t := range temperatures.FindAllString(cl.Out.Statement, -1) {
		q, err := units.ParseLiteral(strings.Replace(t, "−", "-", 1))
		if err != nil || slices.ContainsFunc(cl.readings, func(r *reading) bool { return c.takenAt(r, q.SI) }) {
			continue
		}
		return &record.OpenPoint{Reason: "reading", Text: "its statement speaks of " + t + ", and no reading was taken there",
			Settle: fmt.Sprintf("measure it at that temperature too, and state `in use: T_A = %s`", t)}
	}
	return nil
}

// takenAt says that the ambient temperatures of a reading include one.
func (c bench) takenAt(r *reading, at *big.Rat) bool {
	if r.at == nil || r.at.ambient() == nil {
		return true
	}
	r.at.lower(r.at.ambient())
	e := judge{r.at}.rangeOf(r.at.ambient().val.Reg)
	lo, hi := endRat(e.Lo), endRat(e.Hi)
	return (lo == nil || lo.Cmp(at) <= 0) && (hi == nil || at.Cmp(hi) <= 0)
}
