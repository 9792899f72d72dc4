package eval

import (
	"strings"

	"guardband/eval/bound"
	"guardband/eval/formula"
	"guardband/notebook"
)

// This file says what a resistor may dissipate where it is warm, and what of a
// voltage it gets beside a diode.

// ratedTemperature is up to where a rated dissipation holds (P_70 of IEC
// 60115-1, and EN 140401-802), endTemperature where the rating of a film
// resistor has fallen to nothing: the upper category temperature of EN
// 140401-802, from memory.
const ratedTemperature, endTemperature = "70 °C", "155 °C"

// derated is a rating at the temperature of the use, as a formula: straight
// from 70 °C down to nothing at the end of its kind. It is the rating alone
// where the note states a curve by temperature or a temperature of its own.
func (c *compiler) derated(cl *claim, m *component, r rating) string {
	around := c.around(m)
	switch {
	case c.byTemperature(m, r):
		return r.text
	case around == "":
		cl.lacks("no value", "the temperature round the board is not stated; a rated dissipation holds up to "+ratedTemperature, "`ambient: -20 °C to 50 °C` in the design block")
		return r.text
	case c.atMost(around + " - " + ratedTemperature):
		c.try(cl, around+" <= "+ratedTemperature)
		return r.text
	}
	if m.part != nil {
		for _, section := range []string{"operating", "absmax"} {
			if n := m.part.factNamed(section, "T_A", "T_AMB", "T_MAX", "T_OP"); n != "" {
				end := m.ref + "." + section + "." + n + ".max"
				return r.text + " * min(1, (" + end + " - " + around + ") / (" + end + " - " + ratedTemperature + "))"
			}
		}
	}
	if _, chip := m.size(); !chip && !m.says("thick-film", "thick film", "thin-film", "thin film", "metal-film", "metal film") {
		cl.lacks("no fact", "how its rating goes with temperature above "+ratedTemperature+" is not noted", "note the curve (`absmax P = by T_A: -55 °C 2 W, 70 °C 2 W, 200 °C 0 W`), or `operating T_A` with the temperature at which it ends")
		return r.text
	}
	cl.presume("the rating of a film resistor falls from " + ratedTemperature + " to nothing at " + endTemperature + ", the upper category temperature of EN 140401-802")
	return r.text + " * min(1, (" + endTemperature + " - " + around + ") / 85 K)"
}

// byTemperature says that the rating of a note is stated by temperature: a
// table, or a condition of each of its rows.
func (c *compiler) byTemperature(m *component, r rating) bool {
	if m.part == nil || !strings.HasPrefix(r.text, m.ref+".") {
		return false
	}
	f := strings.Split(strings.TrimSuffix(r.text, ".max"), ".")
	rows := m.part.rowsOf(f[len(f)-2], f[len(f)-1])
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

// atMost says that a formula is proven to be at most 0 over all that is known.
func (c *compiler) atMost(text string) bool {
	e, errs := formula.Parse(text)
	if len(errs) > 0 {
		return false
	}
	v, errs := c.check.Check(e, &scope{c: c})
	if len(errs) > 0 || v.Class != formula.Number {
		return false
	}
	p := c.b.Extract(v.Reg)
	x := bound.Range(p, 0, c.gather(p), bound.Options{Boxes: 200})
	hi := endRat(x.Hi)
	return hi != nil && hi.Sign() <= 0
}

// askPower asks that a resistor across a voltage bears its power. Where a diode
// stands in series with it, V²/R is more than it gets: then its power is worked
// out from the current or the forward voltage of the diode, and is open where
// neither is known.
func (c *compiler) askPower(cl *claim, m *component, volts, limit string, unsure *OpenPoint) {
	plain := "(" + volts + ")^2 / " + m.ref
	d := c.diodeInSeries(m)
	if d == nil || c.atMost(plain+" - "+limit) {
		c.tryUnsure(cl, plain+" <= "+limit, unsure)
		return
	}
	if use := d.useNamed("I_F"); use != "" {
		c.try(cl, d.ref+".use."+use+"^2 * "+m.ref+" <= "+limit)
		return
	}
	if forward := c.forward(d, m); forward != "" {
		if f := d.part.factNamed("spec", "V_F"); f != "" {
			if y, _ := c.fact(d, "spec", f, ""); y != nil && c.roughly(y).known[0] {
				c.try(cl, "max(0 V, "+forward+" - "+d.ref+"."+f+")^2 / "+m.ref+" <= "+limit)
				return
			}
		}
	}
	c.tryUnsure(cl, plain+" <= "+limit, &OpenPoint{Reason: "no value", Text: "it gets at most " + plain + ", less what " + d.ref + " takes, which is not known",
		Settle: "note `spec V_F = min ...` of " + d.ref + ", or state `in use: I_F = ...` in its row"})
}

// diodeInSeries is the diode that alone shares a net with a resistor, nil
// without one.
func (c *compiler) diodeInSeries(m *component) *component {
	a, b, ok := m.ends()
	if !ok {
		return nil
	}
	for _, n := range []*net{a, b} {
		var found *component
		for _, j := range n.joined {
			d := j.comp
			if d == m || d.notFitted() || d.sort() == "test point" {
				continue
			}
			lit := d.part != nil && d.part.factNamed("spec", "V_F") != "" && d.otherEnd(m) != nil
			if found != nil || d.sort() != "LED" && d.sort() != "diode" && !lit {
				found = nil
				break
			}
			found = d
		}
		if found != nil && !c.voltageKnown(n) {
			return found
		}
	}
	return nil
}

// forward spells the voltage that drives a diode with notes and its resistor
// forward, "" where it is not known.
func (c *compiler) forward(d, r *component) string {
	from, to := d.ledPins()
	switch {
	case d.part == nil || from == nil || to == nil:
		return ""
	case r.on(from):
		from = r.opposite(from)
	case r.on(to):
		to = r.opposite(to)
	}
	if !c.voltageKnown(from) || !c.voltageKnown(to) {
		return ""
	}
	return c.difference(from, to)
}

// otherEnd is the net of a diode at which a resistor does not stand.
func (m *component) otherEnd(r *component) *net {
	a, k := m.ledPins()
	if m.part == nil {
		a, k, _ = m.ends()
	}
	switch {
	case a == nil || k == nil:
		return nil
	case r.on(a):
		return k
	case r.on(k):
		return a
	}
	return nil
}
