package formula

import "guardband/eval/bound"

// Checker checks formulas and lowers them into one graph. One serves one
// goroutine.
type Checker struct {
	lang  *Language
	b     *bound.Builder
	items int // of lists that were looked at, all formulas together
}

// Checker returns one that lowers into b.
func (l *Language) Checker(b *bound.Builder) *Checker {
	return &Checker{lang: l, b: b}
}

// Check checks a value formula against the names of s and lowers it. All errors
// found are returned; the Value is Bad where there are any.
func (k *Checker) Check(e *Expr, s Scope) (Value, []*Error) {
	c := k.begin(e.Text, s)
	v := c.eval(e.Root)
	if len(c.errs) > 0 {
		return Value{}, c.errs
	}
	return v, nil
}

// Criterion checks a condition against the names of s and lowers it, with and
// without the margin m (nil: none). All errors found are returned; those about
// the margin have codes that start with "margin-" and the range m.Off to m.End.
func (k *Checker) Criterion(e *Expr, s Scope, m *Margin) (Compiled, []*Error) {
	c := k.begin(e.Text, s)
	crit := &criterion{}
	c.crit = crit
	if m != nil && (m.Share != nil || m.Absolute != nil) {
		c.crit.margin = m
		c.checkMargin(m)
	}
	p := c.pred(e.Root)
	if len(c.errs) > 0 || !p.ok {
		return Compiled{}, c.errs
	}
	return Compiled{Class: Bool, Reg: p.reg, Plain: p.plain, Tests: crit.tests}, nil
}

func (k *Checker) begin(src string, s Scope) *checker {
	c := &checker{lang: k.lang, src: src, scope: s, b: k.b, items: &k.items}
	c.note, _ = s.(Noter)
	return c
}
