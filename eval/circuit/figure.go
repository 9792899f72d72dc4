package circuit

import (
	"strings"

	"guardband/units"
)

// Asked is the value a need asks for: its ends as typed, "" where open, or one
// nominal value.
type Asked struct {
	Low, High, Nominal string
	Lo, Hi, Nom        float64
	Dim                units.Dim
	Ok                 bool
}

// Words says what is asked.
func (a Asked) Words() string {
	switch {
	case a.Low == "":
		return "at most " + a.High
	case a.High == "":
		return "at least " + a.Low
	}
	return a.Low + " to " + a.High
}

// ReadAsked takes the text of a need apart. A range, a column and a value with
// tolerance are limits for what is left of the part in use; one value alone is
// the nominal value that the sheet draws.
func ReadAsked(text string) Asked {
	parts, err := units.Split(text)
	if err != nil || strings.TrimSpace(text) == "" {
		return Asked{}
	}
	var out Asked
	read := func(l units.Leaf, at *string, f *float64) {
		if !l.Present() {
			return
		}
		t := strings.TrimSpace(text[l.Off:l.End])
		if q, err := units.ParseLiteral(t); err == nil {
			*at, *f = t, units.Float(q.SI)
			out.Dim, out.Ok = q.Type.Dim, true
		}
	}
	switch parts.Shape {
	case units.Single:
		read(parts.Single, &out.Nominal, &out.Nom)
	case units.Range:
		read(parts.Lo, &out.Low, &out.Lo)
		read(parts.Hi, &out.High, &out.Hi)
		if out.Low != "" && out.Lo != 0 && !strings.ContainsAny(out.Low, " ") { // "1 to 22 µF"
			if q, err := units.ParseLiteral(out.Low + " " + UnitOf(out.High)); err == nil {
				out.Low, out.Lo = out.Low+" "+UnitOf(out.High), units.Float(q.SI)
			}
		}
	case units.Columns:
		read(parts.Min, &out.Low, &out.Lo)
		read(parts.Max, &out.High, &out.Hi)
		if out.Low == "" && out.High == "" {
			read(parts.Typ, &out.Nominal, &out.Nom)
		}
	case units.Deviated:
		out.deviated(text, parts)
	}
	return out
}

// deviated reads "2.00 kΩ ± 1 %" into its ends.
func (a *Asked) deviated(text string, parts units.Parts) {
	q, err := units.ParseLiteral(strings.TrimSpace(text[parts.Centre.Off:parts.Centre.End]))
	if err != nil {
		return
	}
	lits := func(ls []units.Leaf) (qs []units.Quantity) {
		for _, l := range ls {
			if x, err := units.ParseLiteral(strings.TrimSpace(text[l.Off:l.End])); err == nil {
				qs = append(qs, x)
			}
		}
		return qs
	}
	lo, hi, e := units.Deviate(q, lits(parts.Plus), lits(parts.Minus))
	if e != nil {
		return
	}
	spell := func(x units.Quantity) string {
		return units.Format(x.SI, x.Type, units.Style{Unit: &q.Unit, Digits: 12})
	}
	*a = Asked{Low: spell(lo), High: spell(hi), Lo: units.Float(lo.SI), Hi: units.Float(hi.SI), Dim: q.Type.Dim, Ok: true}
}

// UnitOf is the unit behind a number.
func UnitOf(text string) string {
	_, u, _ := strings.Cut(strings.TrimSpace(text), " ")
	return u
}
