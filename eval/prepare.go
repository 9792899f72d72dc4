package eval

import (
	"math/big"
	"strings"

	"guardband/eval/bound"
	"guardband/eval/formula"
	"guardband/notebook"
	"guardband/units"
)

// This file reads what needs to know no names, before names are looked up:
// literals and the form of formulas. Each piece is read on its own, so that
// they are read side by side, and nothing is complained of here: what is
// wrong is read once more in its turn.

// parsed is a formula that was read ahead.
type parsed struct {
	expr *formula.Expr
	errs []*formula.Error
}

// readAhead is what was read of one block: of values a symbol for each
// definition, of a claim its criteria.
type readAhead struct {
	symbols  []symbol
	criteria []criterion
	says     string // the statement of a claim
	plain    bool   // the claim has a statement and criteria, and no other label that means anything
	cites    bool   // some entry cites something, or the block has a source
	bare     bool   // nothing but names with values, or labels of its own kind of block, is in it, and nothing is unconfirmed
}

// Ahead reads what it can of each block while others are still being read: it
// is for notebook.Options. Compile does what was not done so.
func Ahead() func(*notebook.Block) any {
	r := newReader()
	return func(b *notebook.Block) any { return r.block(b) }
}

// reader reads one block after another. It keeps what its parsers remember and
// hands out what is read from larger pieces of memory; one serves one goroutine.
type reader struct {
	formulas *formula.Parser
	literals *units.Reader
	symbols  slab[symbol]
	criteria slab[criterion]
	leaves   slab[input]
}

func newReader() *reader {
	return &reader{formulas: formula.NewParser(256), literals: units.NewReader()}
}

func (r *reader) block(b *notebook.Block) *readAhead {
	a := &readAhead{cites: citesAny(b.Entries), bare: bareEntries(b.Entries)}
	switch b.Kind {
	case "values":
		a.symbols = r.values(b)
	case "claim":
		r.claim(b, a)
	}
	return a
}

// prepare reads all blocks ahead, in the order of c.blocks. What is read is
// spent by one compilation.
func (c *compiler) prepare() {
	for _, n := range c.book.Notebooks {
		c.blocks = append(c.blocks, n.Blocks...)
	}
	c.ahead = make([]*readAhead, len(c.blocks))
	c.each(len(c.blocks), func() func(int) {
		r := newReader()
		return func(i int) {
			b := c.blocks[i]
			a, _ := b.Ahead.(*readAhead)
			if b.Ahead = nil; a == nil {
				a = r.block(b)
			}
			c.ahead[i] = a
		}
	})
	values, claims := 0, 0
	for i, b := range c.blocks {
		values += len(c.ahead[i].symbols)
		if b.Kind == "claim" {
			claims++
		}
	}
	c.values.room(values)
	c.claimIndex.room(claims)
	c.claims, c.claimRoom = make([]*claim, 0, claims), slab[claim]{make([]claim, claims)}
}

// citesAny says that entries cite something or name a source.
func citesAny(entries []*notebook.Entry) bool {
	for _, e := range entries {
		if len(e.Cites) > 0 || e.Label == "source" || citesAny(e.Rows) {
			return true
		}
	}
	return false
}

// bareEntries says that entries need no second look when names are entered and
// claims are concluded: there are many thousands, and they are far apart in
// memory.
func bareEntries(entries []*notebook.Entry) bool {
	for _, e := range entries {
		switch e.Label {
		case "hazard", "skip", "waiver", "at least zero":
			return false
		}
		if e.Section != "" || len(e.Selectors) > 0 || e.Unconfirmed {
			return false
		}
	}
	return true
}

// slab hands out values from pieces of many.
type slab[T any] struct{ free []T }

func (s *slab[T]) get() *T {
	if len(s.free) == 0 {
		s.free = make([]T, 64)
	}
	v := &s.free[0]
	s.free = s.free[1:]
	return v
}

// take gives n values in a row.
func (s *slab[T]) take(n int) []T {
	if n > len(s.free) {
		s.free = make([]T, max(n, 256))
	}
	out := s.free[:n:n]
	s.free = s.free[n:]
	return out
}

// values makes the symbols of a block's definitions.
func (r *reader) values(b *notebook.Block) []symbol {
	n := 0
	for _, e := range b.Entries {
		if e.Kind == notebook.Definition {
			n++
		}
	}
	out := r.symbols.take(n)[:0]
	for _, e := range b.Entries {
		if e.Kind != notebook.Definition {
			continue
		}
		out = out[:len(out)+1]
		y := &out[len(out)-1]
		y.name, y.entry, y.block, y.ofValues, y.assumed = e.Name, e, b, true, assumedOf(e)
		r.value(y)
	}
	return out
}

func (r *reader) value(y *symbol) {
	text := y.entry.RHS.S
	if x, ok := r.literals.Exact(text); ok {
		y.literal(x, &r.leaves)
		y.low = y.staysLow()
		return
	}
	if strings.HasPrefix(text, "by ") {
		return
	}
	if parts, err := units.Split(text); err == nil && parts.Shape == units.Single {
		e, errs := r.formulas.Parse(parts.Single.Text(text))
		y.ahead = &parsed{expr: e, errs: errs}
	}
}

// claim reads the criteria of a claim, and its statement where it is plain.
func (r *reader) claim(b *notebook.Block, a *readAhead) {
	a.plain = true
	n := 0
	for _, e := range b.Entries {
		if e.Label == "criterion" {
			n++
		}
	}
	a.criteria = r.criteria.take(n)[:0]
	for _, e := range b.Entries {
		switch e.Label {
		case "criterion":
			a.criteria = a.criteria[:len(a.criteria)+1]
			k := &a.criteria[len(a.criteria)-1]
			k.say(e.Value)
			body, _, _ := ownMargin(e.Value)
			k.expr, k.slips = r.formulas.Parse(body.S)
		case "statement":
			a.says = value(e)
		default:
			a.plain = false
		}
	}
}

// literal gives a symbol the value of literals alone, all but its place in the
// graph: what lowerColumns and makeQuantity make of them.
func (y *symbol) literal(x units.Exact, leaves *slab[input]) {
	y.exact = x.Typ
	y.val = formula.Value{Class: formula.Number, Type: x.Type, Unit: x.Unit, Given: true, Fixed: !x.Deviated}
	if !x.Deviated {
		return
	}
	y.input = leaves.get()
	*y.input = input{sym: y, name: y.name, typ: x.Type, unit: x.Unit,
		in: bound.Input{Lo: x.Min, Hi: x.Max, SureLo: x.Min, SureHi: x.Max, Centre: x.Typ, Spread: true}}
	y.exactLeaf = true
}

// enterLiteral enters a symbol of literals in the graph.
func (c *compiler) enterLiteral(y *symbol) {
	if y.input != nil {
		y.val.Reg = c.newInput(y.input)
		return
	}
	y.val.Reg = c.b.Const(y.exact)
}

// endsOf are the columns of a symbol as stated. Those of literals are made
// when first asked for, which is seldom.
func (c *compiler) endsOf(y *symbol) *[3]*formula.Value {
	if y.exact == nil || y.cols[1] != nil {
		return &y.cols
	}
	for i, at := range []**formula.Value{&y.cols[0], &y.cols[1], &y.cols[2]} {
		v := y.val
		v.Fixed = true
		if y.input != nil {
			in := &y.input.in
			v.Reg = c.b.Const([...]*big.Rat{in.Lo, in.Centre, in.Hi}[i])
		}
		*at = &v
	}
	return &y.cols
}

// parse reads a formula, or gives what was read ahead.
func (s *scope) parse(t notebook.Text) (*formula.Expr, []*formula.Error) {
	if s.ahead != nil && s.ahead.expr.Text == t.S {
		return s.ahead.expr, s.ahead.errs
	}
	return formula.Parse(t.S)
}
