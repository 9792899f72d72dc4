// Package trade is the table of the formulas of the trade: for each its name,
// parameters, formula, range of validity and source, in the language of
// formulas itself, so that the same text is computed, printed and checked.
//
// A formula is added as a row in the file of its group. Bodies and conditions
// are parsed when first called; the tests parse and check them all.
package trade

import (
	"strings"

	"guardband/eval/formula"
	"guardband/units"
)

// common marks a formula that has no single published source.
const common = "common practice"

// row is one formula. Params are written "NAME [unit] meaning", with
// " = literal" at the end where the parameter may be left out; [1] is a plain
// number, [K] a temperature difference, [°C] a point.
type row struct {
	name   string
	doc    string
	params []string
	body   string
	unit   string
	valid  []string
	text   string // range of validity in words
	source string
}

// group is the rows under one heading.
type group struct {
	heading string
	rows    []row
}

// groups in the order of the help.
func groups() []group {
	return []group{
		{"dividers and resistors", dividers}, {"timing and filters", timing}, {"light-emitting diodes", diodes},
		{"logic and buses", buses}, {"crystals", crystals}, {"regulators", regulators}, {"heat", heat},
		{"switching converters", converters}, {"batteries", batteries}, {"capacitors", capacitors},
		{"analog-to-digital conversion", conversion}, {"noise", noise}, {"conductors", conductors},
		{"coils, switches, fuses", switching}, {"temperature sensors", sensors},
	}
}

// Functions lists all formulas of the trade in the order of the help.
func Functions() []formula.Function {
	var out []formula.Function
	for _, g := range groups() {
		for _, r := range g.rows {
			out = append(out, r.function(g.heading))
		}
	}
	return out
}

// Language is the language of formulas with all functions of the trade.
func Language() *formula.Language { return formula.NewLanguage(Functions()) }

func (r row) function(heading string) formula.Function {
	f := formula.Function{
		Name: r.name, Doc: r.doc, Body: r.body, Group: heading, Valid: r.valid, ValidText: r.text, Source: r.source,
	}
	for _, p := range r.params {
		f.Params = append(f.Params, param(p))
	}
	f.Unit = shown(r.unit)
	f.Result = typeOf(r.unit)
	if ranges := strings.Join(r.valid, " and "); f.ValidText == "" || ranges == "" {
		f.ValidText += ranges
	} else {
		f.ValidText = ranges + "; " + f.ValidText
	}
	if f.ValidText == "" {
		f.ValidText = "wherever it has a value"
	}
	return f
}

// param reads "V_in [V] input voltage = 5 V".
func param(s string) formula.Param {
	name, rest, _ := strings.Cut(s, " [")
	unit, doc, _ := strings.Cut(rest, "] ")
	doc, literal, _ := strings.Cut(doc, " = ")
	return formula.Param{Name: name, Type: typeOf(unit), Doc: doc, Unit: shown(unit), Default: literal}
}

// shown is how help shows a unit: a plain number has none.
func shown(unit string) string {
	if unit == "1" {
		return ""
	}
	return unit
}

// typeOf is the type of a quantity in a unit, which may carry a tag: "V rms".
// A kelvin stands for a difference here. An unknown unit gives the type of a
// plain number, which the tests of the table show.
func typeOf(unit string) units.Type {
	if unit == "1" {
		return units.Type{}
	}
	symbol, tag, _ := strings.Cut(unit, " ")
	u, err := units.ParseUnit(symbol)
	if err != nil {
		return units.Type{}
	}
	t := u.Type
	if t.Kind == units.Kelvin {
		t.Kind = units.Plain
	}
	for _, w := range []units.Wave{units.RMS, units.Peak, units.PeakToPeak} {
		if tag == w.String() {
			t.Wave = w
		}
	}
	return t
}
