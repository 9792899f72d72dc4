// Package trade is the table of the formulas of the trade: for each its name,
// parameters, formula, range of validity and source, in the language of
// formulas itself, so that the same text is computed, printed and checked.
//
// A formula is added in formulas.txt. Bodies and conditions are parsed when
// first called; the tests parse and check them all.
package trade

import (
	_ "embed"
	"strings"

	"guardband/eval/formula"
	"guardband/units"
)

//go:embed formulas.txt
var table string

// Functions lists all formulas of the trade in the order of the help.
func Functions() []formula.Function {
	var out []formula.Function
	var f *formula.Function
	group := ""
	for line := range strings.Lines(table) {
		word, rest, _ := strings.Cut(strings.TrimSpace(line), " ")
		switch name, heads := strings.CutSuffix(word, ":"); {
		case word == "" || word == "//":
		case word == "#":
			group = rest
		case word == "=":
			i := strings.LastIndex(rest, " [")
			unit := rest[i+2 : len(rest)-1]
			f.Body, f.Unit, f.Result = rest[:i], shown(unit), typeOf(unit)
		case word == "valid:":
			f.Valid = append(f.Valid, rest)
		case word == "limits:":
			f.ValidText = rest
		case word == "source:":
			f.Source = rest
			f.ValidText = inWords(f.Valid, f.ValidText)
		case heads:
			out = append(out, formula.Function{Name: name, Doc: rest, Group: group})
			f = &out[len(out)-1]
		default:
			f.Params = append(f.Params, param(word, rest))
		}
	}
	return out
}

// Language is the language of formulas with all functions of the trade.
func Language() *formula.Language { return formula.NewLanguage(Functions()) }

// inWords is the range of validity as printed.
func inWords(valid []string, limits string) string {
	switch ranges := strings.Join(valid, " and "); {
	case ranges != "" && limits != "":
		return ranges + "; " + limits
	case ranges+limits != "":
		return ranges + limits
	}
	return "wherever it is defined"
}

// param reads "[V] input voltage = 5 V".
func param(name, rest string) formula.Param {
	unit, doc, _ := strings.Cut(rest[1:], "] ")
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
