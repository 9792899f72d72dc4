package checks

import (
	"strings"

	"guardband/eval/circuit"
)

// This file knows parts whose ends are not alike, and spells voltages across
// them with their sign.

// oneWay says that a capacitor may see its voltage one way only: its ends
// are named so, its note states a reverse voltage, or its make is one of those
// that have a polarity (common practice).
func oneWay(m *circuit.Component) bool {
	if _, _, ok := m.Poles(); ok || reverseLimit(m) != "" {
		return true
	}
	words := ""
	for _, o := range m.Row.Options {
		words += " " + o.S
	}
	if m.Part != nil {
		words += " " + m.Part.Title
	}
	has := func(l ...string) bool {
		for _, w := range strings.FieldsFunc(strings.ToLower(words), func(r rune) bool { return strings.ContainsRune(" ,;()", r) }) {
			for _, x := range l {
				if w == x {
					return true
				}
			}
		}
		return false
	}
	return has("electrolytic", "tantalum", "niobium", "polymer", "polarised", "polarized") &&
		!has("bipolar", "non-polarised", "non-polarized", "unpolarised", "unpolarized", "film")
}

// reverseLimit names the least voltage that a capacitor's note states, ""
// without one.
func reverseLimit(m *circuit.Component) string {
	if m.Part == nil {
		return ""
	}
	for _, section := range []string{"absmax", "operating"} {
		n := m.Part.FactNamed(section, ratedVolts...)
		for _, e := range m.Part.RowsOf(section, n) {
			if a := circuit.ReadAsked(e.RHS.S); n != "" && a.Low != "" {
				return m.Ref + "." + section + "." + n + ".min"
			}
		}
	}
	return ""
}
