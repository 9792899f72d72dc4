package eval

import (
	"math/big"

	"guardband/eval/circuit"
	"guardband/eval/lists"
	"guardband/notebook"
	"guardband/units"
)

// This file takes kind and value of a part from a line of a parts list, where
// both are unambiguous.

// listedKind gives a part the kind and value of its line; where the line does not
// say them, or may say two things, it is a part without a note.
func (c reader) listedKind(x *fromFiles, m *circuit.Component, p *filePart) {
	letters, number := circuit.SplitNumber(p.ref)
	kind, own := m.Kind, m.Kind != ""
	if !own {
		kind = map[string]string{"R": "resistor", "C": "capacitor", "L": "inductor"}[letters]
		m.Kind, m.Row.Kind = circuit.WithoutNote, circuit.WithoutNote
	}
	if p.cells == nil || !lists.HasValue(kind) || !own && (number < 0 || len(x.pins[p.ref]) != 2) {
		return
	}
	v := lists.ReadValue(p.cells.Cells["value"], kind)
	class, plain := lists.PlainValue(p.cells.Cells["value"], kind)
	switch size := p.cells.Chip(); {
	case !plain, v.Nominal == nil, v.Unsure, v.Digits && !x.ohms, v.Nominal.Sign() < 0:
		return
	case v.Nominal.Sign() == 0 && kind != "resistor":
		return
	case kind == "capacitor" && class == "" && size == "" && v.Nominal.Cmp(big.NewRat(1, 1_000_000)) >= 0:
		return // it may have a polarity
	default:
		m.Kind, m.Row.Kind = kind, kind
		option := func(s string) {
			if s != "" {
				m.Row.Options = append(m.Row.Options, notebook.TextOn(p.src, p.line, s))
			}
		}
		if v.Rating != nil {
			option(lists.TrimFigure(v.Rating.FloatString(6)) + " V")
		}
		option(class)
		option(size)
	}
	tol := x.tol[kind]
	if v.Tol == nil && v.Spread {
		tol = "" // it states one, ±0.5 pF or -20 % +80 %, that is not read
	} else if v.Tol != nil {
		tol = lists.TrimFigure(v.Tol.FloatString(6)) + " %"
	}
	unit, _ := units.ParseLiteral("1 " + map[string]string{"resistor": "Ω", "capacitor": "F", "inductor": "H"}[kind])
	text := units.Format(v.Nominal, unit.Type, units.Style{Digits: 12}) + " ± " + tol
	switch {
	case v.Nominal.Sign() == 0:
		text = "0R"
	case tol == "":
		return // how far it is off is not known, so nor is the value
	case v.Tol == nil && !own:
		m.Entry.Cites = []notebook.Cite{{Assumed: "tolerance by `tolerances:`, the file states none"}}
	}
	m.Row.Value = notebook.TextOn(p.src, p.line, text)
}
