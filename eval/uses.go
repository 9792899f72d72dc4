package eval

import (
	"fmt"
	"strings"

	"guardband/eval/bound"
	"guardband/eval/circuit"
	"guardband/eval/formula"
	"guardband/eval/record"
	"guardband/notebook"
	"guardband/units"
)

// This file finds the use of a part where its row does not state it, and words
// a use that no row of a fact covers.

// workedOutUse is a condition of use that the circuit tells: the current of an
// output from what pulls its net, the load of a supply from the budget of its
// net. untold says why the net of an output does not tell its current.
func (c *compiler) workedOutUse(y *symbol, d condition) (use *symbol, untold string) {
	name := d.name
	if pin := y.onPin; pin != "" && circuit.PinSymbols[name] {
		if use, untold = c.pinCurrent(y.comp, pin, name, c.countsDown(d)); untold != "" {
			untold = ", and its net does not determine it: " + untold
		}
		return use, untold
	}
	if loadSymbols[strings.ReplaceAll(name, "_", "")] {
		return c.budgetedLoad(y.comp, name), ""
	}
	return nil, ""
}

// kindUnits are the dimensions of the values of kinds, with the unit to write.
var kindUnits = map[string]struct {
	dim  units.Dim
	unit string
}{"resistor": {circuit.DimOhm, "Ω"}, "capacitor": {circuit.DimFarad, "nF"}, "inductor": {units.Dim{4, 2, -4, -4}, "µH"}}

// checkKindUnit complains of a resistor that is no resistance: a number alone,
// or a quantity of another kind.
func (c *compiler) checkKindUnit(m *circuit.Component, y *symbol) {
	want, ok := kindUnits[m.Kind]
	if !ok || y.val.Class != formula.Number || y.val.Type.Dim == want.dim {
		return
	}
	t := m.Row.Value
	word, _, _ := strings.Cut(strings.TrimSpace(t.S), " ")
	msg, hint := "the value of a "+m.Kind+" is not "+y.val.Type.Words(), "write it with its unit, as in `"+m.Kind+" 10 "+want.unit+"`"
	if y.val.Type.Dim.IsZero() {
		msg, hint = "`"+word+"` has no unit", "write the unit too, e.g. `"+word+" "+want.unit+"`"
	}
	c.diagnose(notebook.Err, "value-unit", t, msg, hint)
	y.val = formula.Value{}
}

// loadSymbols are the symbols of the trade for what a supply delivers.
var loadSymbols = map[string]bool{"IOUT": true, "IO": true, "ILOAD": true}

// budgetedLoad is the current of a part with one supply output: anything from
// nothing to the peak of the budget of its net. nil without such a budget.
func (c *compiler) budgetedLoad(m *circuit.Component, name string) *symbol {
	if m.Part == nil {
		return nil
	}
	outs := m.NetsOf("supply output")
	if len(outs) != 1 {
		return nil
	}
	b := c.budgetOf(outs[0])
	if b == nil {
		return nil
	}
	key := useKey{m, name + " of the budget"}
	y, ok := c.uses[key]
	if !ok {
		y = c.shareOfPeak(m.Ref+"."+name, outs[0], b)
		c.uses[key] = y
	}
	if c.lower(y); y.val.Class != formula.Number {
		return nil
	}
	return y
}

// notCovered words that no row covers the use of a part. Where the use itself
// has no end it names what leaves it open.
func (c *compiler) notCovered(y *symbol, d condition, use *symbol, p *bound.Program) *record.OpenPoint {
	stated := y.name + " is stated at " + strings.TrimSpace(d.cond.Text.S)
	if use.derived {
		for _, n := range p.Inputs() {
			in := c.inputs[n]
			if in.sym == nil || in.set().Lo != nil && in.set().Hi != nil {
				continue
			}
			end := "max"
			if in.set().Hi != nil {
				end = "min"
			}
			return &record.OpenPoint{Reason: "condition",
				Text: fmt.Sprintf("%s, and %s is not bounded: no %s is given for `%s`", stated, use.name, end, in.sym.name),
				Settle: "note the " + end + " of " + in.sym.name + ", or " +
					fmt.Sprintf("state `in use: %s = ...` in the row of %s", d.name, y.comp.Ref)}
		}
	}
	settle := "find a row that covers the use, or narrow the use"
	if d.cond.Op == "=" && d.lo == d.hi && d.lo != nil {
		settle += "; if the figure holds for less (or more) as well, that is for you to judge: `at " + d.name + " <= " +
			strings.TrimSpace(d.cond.Value.S) + "` (or `>=`)"
	}
	return &record.OpenPoint{Reason: "condition", Text: fmt.Sprintf("%s, %s is used at %s", stated, y.comp.Ref,
		judge{c}.shownRange(use)), Settle: settle}
}
