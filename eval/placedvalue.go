package eval

import (
	"math/big"
	"slices"
	"strings"

	"guardband/eval/circuit"
	"guardband/eval/record"
	"guardband/notebook"
	"guardband/units"
)

// This file takes kind and value of a part from a line of a parts list, where
// both are unambiguous.

// listColumns are the columns of a parts list beside its designators.
var listColumns = []string{"order code", "value", "package", "quantity", "not fitted", "fitted"}

// plainWords may stand beside the value of a chip without making it anything
// else, as NTC, POT or ARRAY do.
var plainWords = map[string]string{
	"resistor":  "± / V VDC VOLT % W OHM OHMS Ω KOHM SMD SMT CHIP RES RESISTOR THICK THIN FILM ZERO JUMPER",
	"capacitor": "± / V VDC VOLT % F PF NF UF µF SMD SMT CHIP CAP CAPACITOR CER CERAMIC MLCC",
	"inductor":  "± / % A MA H NH UH µH MH SMD SMT CHIP IND INDUCTOR",
}

// listedKind gives a part the kind and value of its line; where the line does not
// say them, or may say two things, it is a part without a note.
func (c reader) listedKind(x *fromFiles, m *circuit.Component, p *filePart, h listHabits) {
	letters, number := circuit.SplitNumber(p.ref)
	kind, own := m.Kind, m.Kind != ""
	if !own {
		kind = map[string]string{"R": "resistor", "C": "capacitor", "L": "inductor"}[letters]
		m.Kind, m.Row.Kind = circuit.WithoutNote, circuit.WithoutNote
	}
	if p.cells == nil || valueUnits[kind] == nil || !own && (number < 0 || len(x.pins[p.ref]) != 2) {
		return
	}
	v := readListValue(p.cells.cells["value"], kind)
	class, plain := classAmong(p.cells.cells["value"], kind)
	switch size := chipOfLine(p.cells); {
	case !plain, v.nominal == nil, v.unsure, v.digits && !h.ohms, v.nominal.Sign() < 0:
		return
	case v.nominal.Sign() == 0 && kind != "resistor":
		return
	case kind == "capacitor" && class == "" && size == "" && v.nominal.Cmp(big.NewRat(1, 1_000_000)) >= 0:
		return // it may have a polarity
	default:
		m.Kind, m.Row.Kind = kind, kind
		option := func(s string) {
			if s != "" {
				m.Row.Options = append(m.Row.Options, notebook.TextOn(p.src, p.line, s))
			}
		}
		if v.rating != nil {
			option(trimFigure(v.rating.FloatString(6)) + " V")
		}
		option(class)
		option(size)
	}
	tol := x.tol[kind]
	if v.tol == nil && strings.ContainsAny(strings.Join(listWords(p.cells.cells["value"]), " "), "%±+-") {
		tol = "" // it states one, ±0.5 pF or -20 % +80 %, that is not read
	} else if v.tol != nil {
		tol = trimFigure(v.tol.FloatString(6)) + " %"
	}
	unit, _ := units.ParseLiteral("1 " + map[string]string{"resistor": "Ω", "capacitor": "F", "inductor": "H"}[kind])
	text := units.Format(v.nominal, unit.Type, units.Style{Digits: 12}) + " ± " + tol
	switch {
	case v.nominal.Sign() == 0:
		text = "0R"
	case tol == "":
		return // how far it is off is not known, so nor is the value
	case v.tol == nil && !own:
		m.Entry.Cites = []notebook.Cite{{Assumed: "tolerance by `tolerances:`, the file states none"}}
	}
	m.Row.Value = notebook.TextOn(p.src, p.line, text)
}

// classAmong finds the class of a ceramic among the words of a value. plain
// says that none of them makes the part anything but a chip of its kind.
func classAmong(text, kind string) (class string, plain bool) {
	words := strings.Fields(plainWords[kind])
	for _, w := range listWords(text) {
		w = strings.ToUpper(w)
		known := slices.ContainsFunc(circuit.Dielectrics, func(d circuit.Dielectric) bool { return d.Name == w })
		if known && kind == "capacitor" {
			class = w
			continue
		}
		f, figure := readFigure(w)
		if !figure && !isChip(w) && !slices.Contains(words, w) || figure && len(f.rest) > 4 {
			return "", false
		}
	}
	return class, true
}

// chipOfLine is the one chip size that the package of a line, or else its
// value, names without doubt; "" for none.
func chipOfLine(r *tableRow) string {
	out := ""
	for code := range metricChip {
		if sameChip(r.cells["package"], code) == record.Passed {
			if out != "" {
				return ""
			}
			out = code
		}
	}
	for _, w := range listWords(r.cells["value"]) {
		if r.cells["package"] == "" && isChip(w) {
			return w
		}
	}
	return out
}

// listHabits looks at the resistors of the parts lists.
func (c reader) listHabits(x *fromFiles) listHabits {
	l := listHabits{has: x.has}
	for _, p := range x.parts.List {
		if letters, _ := circuit.SplitNumber(p.ref); letters == "R" && p.cells != nil {
			v := readListValue(p.cells.cells["value"], "resistor")
			l.ohms = l.ohms || v.nominal != nil && !v.bare
		}
	}
	return l
}
