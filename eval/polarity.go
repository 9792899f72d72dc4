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

// pairs are the known voltages that feed two nets, each of the one with each of
// the other. notKnown says what stands in the way; unsure, where one of the
// nets states no voltage, that it may be less.
func (c *compiler) pairs(m *component, a, b *net) (out []pair, unsure *OpenPoint, notKnown string) {
	v := c.board()
	fa, fb := v.voltages(a), v.voltages(b)
	for _, f := range []struct {
		n *net
		f feed
	}{{a, fa}, {b, fb}} {
		if f.f.why != "" {
			return nil, nil, "net " + f.n.name + ": " + f.f.why
		}
		if !c.voltageStated(f.n) && unsure == nil {
			unsure = &OpenPoint{Reason: "no value", Text: f.n.name + " states no voltage and may stand anywhere between " + netNames(f.f.from) + "; " + m.ref + " may see less than that",
				Settle: "give a value `" + f.n.name + " = ...`, or state `in use: V = ...` in the row of " + m.ref}
		}
	}
	for _, x := range fa.from {
		for _, y := range fb.from {
			if x != y {
				out = append(out, pair{x, y})
			}
		}
	}
	if len(out) == 0 {
		if a == b {
			return []pair{{fa.from[0], fb.from[0]}}, nil, ""
		}
		return nil, nil, "both its nets hang on " + fa.from[0].name + " alone, and what flows through it is not known"
	}
	return out, unsure, ""
}

// tryUnsure is try for a criterion that holds more than is known of the board:
// passed where it holds all the same, else open.
func (c *compiler) tryUnsure(cl *claim, text string, unsure *OpenPoint) bool {
	ok := c.try(cl, text)
	if ok && unsure != nil {
		cl.crit[len(cl.crit)-1].unsure = unsure
	}
	return ok
}

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
