package eval

import (
	"context"
	"math/big"
	"slices"
	"strings"

	"guardband/eval/bound"
	"guardband/eval/formula"
	"guardband/eval/record"
	"guardband/notebook"
	"guardband/units"
)

// Calculation is the range of one formula.
type Calculation struct {
	record.Value
	Least, Most []record.CornerValue // where it takes its ends; nil where that is not known
	Why         string               // it has no value everywhere, "" where it has
}

// calculated is the name that a formula of the command line goes by.
const calculated = "the_result"

// Calculate works out one formula with the names of a book and with further
// values ("NAME = QUANTITY"), and says what is
// wrong with it in the diagnostics of the record.
func Calculate(ctx context.Context, book *notebook.Book, opt Options, text string, values []string) (*Calculation, *record.Record) {
	book.Supplement("command line", "```values\n"+strings.Join(append(slices.Clone(values), calculated+" = "+text), "\n")+"\n```\n")
	opt.Typeset, opt.Detail = true, 1
	c := compile(ctx, book, opt)
	r := recorder{c}.record()
	y, ok := c.values.Get(calculated)
	if !ok || y.val.Class != formula.Number {
		return nil, r
	}
	out := &Calculation{Value: recorder{c}.valueRecord(y, text)}
	p := c.b.Extract(y.val.Reg)
	in := c.gather(p)
	e := bound.Range(p, 0, in, bound.Options{Boxes: c.opt.Boxes})
	if e.Undefined != nil {
		out.Why = "it is not defined everywhere in these ranges"
	}
	if e.Lo.Inner < e.Hi.Inner && y.derived {
		out.Least, out.Most = c.cornerOf(p, e.Lo.At), c.cornerOf(p, e.Hi.At)
	}
	return out, r
}

// cornerOf names the inputs of a program at a point.
func (c *compiler) cornerOf(p *bound.Program, at []*big.Rat) []record.CornerValue {
	var out []record.CornerValue
	for i, x := range at {
		if x == nil {
			return nil
		}
		in := c.inputs[p.Inputs()[i]]
		out = append(out, record.CornerValue{Name: in.name, Value: floatOf(x),
			Text: units.Format(x, in.typ, units.Style{Unit: in.unit, Digits: 6})})
	}
	return out
}
