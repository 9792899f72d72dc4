package eval

import (
	"math/big"
	"strings"

	"guardband/eval/bound"
	"guardband/eval/formula"
)

// This file knows parts whose ends are not alike, and spells voltages across
// them with their sign.

// plusEnds and minusEnds are the names of the trade for the ends of a diode and
// of a capacitor with a polarity.
var (
	plusEnds  = []string{"A", "AN", "ANODE", "+", "P", "POS", "PLUS"}
	minusEnds = []string{"K", "CA", "CATHODE", "KATHODE", "-", "N", "NEG", "MINUS"}
)

// poles are the nets of the anode, or positive end, and of the cathode; ok says
// that the notes name both.
func (m *component) poles() (plus, minus *net, ok bool) {
	plus, minus = m.end(plusEnds...), m.end(minusEnds...)
	if minus == nil && (m.part == nil || len(m.part.pins) == 2) {
		minus = m.end("C")
	}
	return plus, minus, plus != nil && minus != nil
}

// oneWay says that a capacitor may see its voltage one way only: its ends
// are named so, its note states a reverse voltage, or its make is one of those
// that have a polarity (common practice).
func (m *component) oneWay() bool {
	if _, _, ok := m.poles(); ok || m.reverseLimit() != "" {
		return true
	}
	words := ""
	for _, o := range m.row.Options {
		words += " " + o.S
	}
	if m.part != nil {
		words += " " + m.part.title
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
func (m *component) reverseLimit() string {
	if m.part == nil {
		return ""
	}
	for _, section := range []string{"absmax", "operating"} {
		n := m.part.factNamed(section, ratedVolts...)
		for _, e := range m.part.rowsOf(section, n) {
			if a := readAsked(e.RHS.S); n != "" && a.low != "" {
				return m.ref + "." + section + "." + n + ".min"
			}
		}
	}
	return ""
}

// pair is the voltage of one net against another, across a part.
type pair struct{ from, to *net }

// between is what the voltage of one net against another can be, nil where an
// end is not bounded.
func (c *compiler) between(p pair) (lo, hi *big.Rat) {
	x, y := c.netVoltage(p.from), c.netVoltage(p.to)
	if x == nil || y == nil {
		return nil, nil
	}
	c.lower(x)
	c.lower(y)
	if x.val.Class != formula.Number || y.val.Class != formula.Number || x.val.Type != y.val.Type {
		return nil, nil
	}
	q := c.b.Extract(c.b.Binary(bound.OpSub, x.val.Reg, y.val.Reg))
	e := bound.Range(q, 0, c.gather(q), bound.Options{Boxes: 200})
	if e.Empty {
		return nil, nil
	}
	return endRat(e.Lo), endRat(e.Hi)
}
