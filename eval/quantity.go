package eval

import (
	"math/big"
	"strings"

	"guardband/eval/bound"
	"guardband/eval/circuit"
	"guardband/eval/formula"
	"guardband/notebook"
	"guardband/units"
)

// This file answers what checks ask of quantities.

// Quantity is what the notes tell of a quantity by now.
type Quantity struct {
	Class  formula.Class
	Type   units.Type  // of a number or a set
	Unit   *units.Unit // it was given in
	Stated [3]bool     // min, typ and max are stated
	At     [3]float64  // as numbers, where Known
	Known  [3]bool
	Made   bool // by a formula of other quantities
	Given  bool // as a formula of the values
	y      *symbol
}

// Between is what the voltage of one net against another can be, nil where an
// end is not bounded.
func (c answers) Between(from, to *circuit.Net) (lo, hi *big.Rat) {
	x, y := c.netVoltage(from), c.netVoltage(to)
	if x == nil || y == nil {
		return nil, nil
	}
	if x.val.Type != y.val.Type {
		return nil, nil
	}
	return c.endsOf(c.b.Binary(bound.OpSub, x.val.Reg, y.val.Reg))
}

// endsOf are the ends of a number over all that is known, nil where it has none.
func (c *compiler) endsOf(r bound.Reg) (lo, hi *big.Rat) {
	p := c.b.Extract(r)
	e := bound.Range(p, 0, c.gather(p), bound.Options{Boxes: 200})
	if e.Empty {
		return nil, nil
	}
	return endRat(e.Lo), endRat(e.Hi)
}

// AtMost says that a formula is proven to be at most 0 over all that is known.
func (c answers) AtMost(text string) bool {
	e, errs := formula.Parse(text)
	if len(errs) > 0 {
		return false
	}
	v, errs := c.check.Check(e, &scope{c: c.compiler})
	if len(errs) > 0 || v.Class != formula.Number {
		return false
	}
	_, hi := c.endsOf(v.Reg)
	return hi != nil && hi.Sign() <= 0
}

// quantity tells of a symbol; nil of none.
func (c answers) quantity(y *symbol) *Quantity {
	if y == nil {
		return nil
	}
	c.lower(y)
	q := &Quantity{Class: y.val.Class, Type: y.val.Type, Unit: y.val.Unit, Made: len(y.deps) > 0, Given: y.derived, y: y}
	for i, v := range y.cols {
		if v == nil {
			continue
		}
		q.Stated[i] = true
		if r, ok := c.b.ConstOf(v.Reg); ok {
			q.At[i], q.Known[i] = units.Float(r), true
		}
	}
	return q
}

// IsNumber says that the quantity is a number of a dimension.
func (q *Quantity) IsNumber(dim units.Dim) bool {
	return q != nil && q.Class == formula.Number && q.Type.Dim == dim
}

// Fact is a fact of a placed part; nil where it is not noted.
func (c answers) Fact(m *circuit.Component, section, name, pin string) *Quantity {
	y, _ := c.fact(m, section, name, pin)
	return c.quantity(y)
}

// PinFact finds the fact of a pin under one of some symbols, with the text that
// names it in a formula.
func (c answers) PinFact(m *circuit.Component, section string, p *circuit.Pin, dim units.Dim, symbols ...string) (*Quantity, string) {
	y, text := c.pinFact(m, section, p, dim, symbols...)
	return c.quantity(y), text
}

// ValueOf is the value of a placed part of two ends, of a thermistor that at
// 25 °C.
func (c answers) ValueOf(m *circuit.Component) *Quantity {
	if y := c.kindFact(m, "R_25"); y != nil {
		return c.quantity(y)
	}
	return c.quantity(c.componentSymbol(m))
}

// Value is a value of the design by its name.
func (c answers) Value(name string) *Quantity {
	y, _ := c.values.Get(name)
	return c.quantity(y)
}

// Option is a quantity that a row states by an option.
func (c answers) Option(m *circuit.Component, name string) *Quantity {
	return c.quantity(c.optionSymbol(m, name))
}

// Use is a condition of use of a placed part, and its name in a formula.
func (c answers) Use(m *circuit.Component, name string) (*Quantity, string) {
	y := c.useSymbol(m, name)
	if y != nil && y == c.ambient() {
		return c.quantity(y), "ambient"
	}
	return c.quantity(y), m.Ref + ".use." + name
}

// Ambient says that the temperature round the board is stated.
func (c answers) Ambient() bool { return c.ambient() != nil }

// Voltage is the voltage of a net.
func (c answers) Voltage(n *circuit.Net) *Quantity { return c.quantity(c.netVoltage(n)) }

// Ends are the least and the most a quantity can be, nil where it has no end.
func (c answers) Ends(q *Quantity) (lo, hi *big.Rat) { return c.endsOf(q.y.val.Reg) }

// Later calls a function once the conditions of facts are settled, those of
// what the text rests on included.
func (c answers) Later(text string, f func()) {
	c.lowerText(notebook.Text{S: text}, &scope{c: c.compiler})
	c.late = append(c.late, f)
}

// Peak names the peak of the budget of a net, "" without one.
func (c answers) Peak(n *circuit.Net) string {
	if b := c.budgetOf(n); b != nil {
		return budgetText(b) + ".peak"
	}
	return ""
}

// FedByBudget says that a budget tells the current of what feeds a net.
func (c answers) FedByBudget(m *circuit.Component) bool { return c.feedCurrent(m) != nil }

// Meet notes that a placed part meets a row of an application circuit.
func (c answers) Meet(e *notebook.Entry, ref string) {
	if old := c.met[e]; !strings.Contains(" "+old+" ", " "+ref+" ") {
		c.met[e] = strings.TrimSpace(old + " " + ref)
	}
}

// Loads are what the budget of a net says a part takes.
func (c answers) Loads(n *circuit.Net, ref string) (texts []string) {
	if b := c.budgetOf(n); b != nil {
		for _, l := range b.loads {
			if l.row.Ref == ref && l.row.From == "" {
				texts = append(texts, l.row.Value.S)
			}
		}
	}
	return texts
}
