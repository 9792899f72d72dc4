package formula

import "guardband/eval/bound"

// Checker checks formulas one after another and lowers them into one graph. It
// keeps its scratch: a large notebook asks it many thousands of times. One
// serves one goroutine.
type Checker struct {
	lang  *Language
	b     *bound.Builder
	idle  []*checker // several, for the names of a formula may stand for others
	tests chunks[Test]
}

// Checker returns one that lowers into b.
func (l *Language) Checker(b *bound.Builder) *Checker {
	return &Checker{lang: l, b: b, tests: chunks[Test]{size: 64}}
}

// Check checks a value formula against the names of s and lowers it. All errors
// found are returned; the Value is Bad where there are any.
func (k *Checker) Check(e *Expr, s Scope) (Value, []*Error) {
	c := k.begin(e.Text, s)
	defer k.end(c)
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
	defer k.end(c)
	c.own = criterion{expr: e, room: &k.tests}
	c.crit = &c.own
	if m != nil && (m.Share != nil || m.Absolute != nil) {
		c.crit.margin = m
		c.checkMargin(m)
	}
	p := c.pred(e.Root)
	if len(c.errs) > 0 || !p.ok {
		return Compiled{}, c.errs
	}
	return Compiled{Class: Bool, Reg: p.reg, Plain: p.plain, Tests: c.own.tests}, nil
}

func (k *Checker) begin(src string, s Scope) *checker {
	if len(k.idle) == 0 {
		k.idle = append(k.idle, &checker{})
	}
	last := len(k.idle) - 1
	c := k.idle[last]
	k.idle = k.idle[:last]
	c.lang, c.src, c.scope, c.b = k.lang, src, s, k.b
	c.note, _ = s.(Noter)
	return c
}

// end takes a checker back. What it returned is not its any more.
func (k *Checker) end(c *checker) {
	*c = checker{}
	k.idle = append(k.idle, c)
}
