package checks

import (
	"strings"

	"guardband/eval"
	"guardband/eval/circuit"
	"guardband/notebook"
)

// This file says what a resistor may dissipate where it is warm.

// ratedTemperature is up to where a rated dissipation holds (P_70 of IEC
// 60115-1, and EN 140401-802), endTemperature where the rating of a film
// resistor has fallen to nothing: the upper category temperature of EN
// 140401-802, from memory.
const ratedTemperature, endTemperature = "70 °C", "155 °C"

// derated is a rating at the temperature of the use, as a formula: straight
// from 70 °C down to nothing at the end of its kind. It is the rating alone
// where the note states a curve by temperature or a temperature of its own.
func derated(c *board, cl *eval.Claim, m *circuit.Component, r rating) string {
	around := around(c, m)
	switch {
	case byTemperature(c, m, r):
		return r.text
	case around == "":
		cl.Lacks("no value", "the ambient temperature is not stated; a rated dissipation applies up to "+
			ratedTemperature, "`ambient: -20 °C to 50 °C` in the design block")
		return r.text
	case c.AtMost(around + " - " + ratedTemperature):
		c.Try(cl, around+" <= "+ratedTemperature)
		return r.text
	}
	if m.Part != nil {
		for _, section := range []string{"operating", "absmax"} {
			if n := m.Part.FactNamed(section, "T_A", "T_AMB", "T_MAX", "T_OP"); n != "" {
				end := m.Ref + "." + section + "." + n + ".max"
				return r.text + " * min(1, (" + end + " - " + around + ") / (" + end + " - " + ratedTemperature + "))"
			}
		}
	}
	if _, chip := sizeOf(m); !chip && !m.Says("thick-film", "thick film", "thin-film", "thin film", "metal-film", "metal film") {
		cl.Lacks("no fact", "how its rating goes with temperature above "+ratedTemperature+" is not noted",
			"note the curve (`absmax P = by T_A: -55 °C 2 W, 70 °C 2 W, 200 °C 0 W`), or `operating T_A` with the temperature at which it ends")
		return r.text
	}
	cl.Presume("the rating of a film resistor falls from " + ratedTemperature + " to nothing at " + endTemperature +
		", the upper category temperature of EN 140401-802")
	return r.text + " * min(1, (" + endTemperature + " - " + around + ") / 85 K)"
}

// byTemperature says that the rating of a note is stated by temperature: a
// table, or a condition of each of its rows.
func byTemperature(c *board, m *circuit.Component, r rating) bool {
	if m.Part == nil || !strings.HasPrefix(r.text, m.Ref+".") {
		return false
	}
	f := strings.Split(strings.TrimSuffix(r.text, ".max"), ".")
	rows := m.Part.RowsOf(f[len(f)-2], f[len(f)-1])
	for _, e := range rows {
		if !speaksOfTemperature(e) {
			return false
		}
	}
	return len(rows) > 0
}

func speaksOfTemperature(e *notebook.Entry) bool {
	for _, k := range e.Conds {
		if strings.HasPrefix(k.Name, "T_") {
			return true
		}
	}
	return strings.Contains(e.RHS.S, "by T_") || strings.Contains(e.RHS.S, "by ambient")
}
