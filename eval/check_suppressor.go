package eval

import (
	"slices"

	"guardband/eval/record"
)

// suppressorClamp asks that what stands behind a suppressor bears what it lets
// through.
var suppressorClamp = &builtin{
	name: "suppressor",
	rule: "The clamping voltage of a suppressor from a supply to ground (V_CL, V_C) lies within the maximum ratings of each pin on its line. It counts at `in use: I_PP = ...`; without, at the highest pulse current that its note has a row for, " +
		"where a clamping voltage that is too high is open, as the pulses may be smaller. Capacitors and connectors are not judged, nor signal lines, whose pins bear short pulses by their own protection.",
	source: "common practice; maximum ratings of the parts' own sheets",
	run: func(c *compiler, b *builtin) {
		for _, m := range c.placedParts() {
			clamp := m.part.factNamed("spec", "V_CL", "V_C", "V_CLAMP")
			if !m.isSuppressor() || clamp == "" {
				continue
			}
			if a, z, ok := m.ends(); ok && isReturn(a) != isReturn(z) {
				if isReturn(a) {
					a = z
				}
				if slices.ContainsFunc(c.lineOf(a), c.isRail) {
					c.suppresses(b, m, clamp, a)
				}
			}
		}
	},
}

func (c *compiler) suppresses(b *builtin, m *component, clamp string, n *net) {
	var cl *claim
	text, unsure := m.ref+".spec."+clamp, (*record.OpenPoint)(nil)
	for _, at := range c.lineOf(n) {
		for _, j := range at.pinsOf() {
			if j.comp == m || !j.comp.part.hasSupply() {
				continue
			}
			if cl == nil {
				cl = c.builtClaim(b, m.ref, "What "+m.label()+" lets through at its clamping voltage is borne by the parts on "+n.name+".", m.entry)
				if m.useNamed("I_PP", "I_PPM") == "" {
					text = c.printedEnd(cl, m, "spec", clamp, 1)
					unsure = &record.OpenPoint{Reason: "no value", Text: "the pulse current through " + m.ref + " is not stated, and its clamping voltage counts at the highest that is noted", Settle: "state `in use: I_PP = ...` in its row"}
				}
			}
			limit, ok := j.comp.limitFor("absmax", j.pin)
			switch {
			case text == "":
				cl.lacks("no fact", "no highest clamping voltage is noted for part "+m.part.id, "note `spec "+clamp+" = max ... at I_PP <= ...`")
				return
			case !ok:
				cl.lacks("no fact", "the voltage that "+j.name()+" withstands is not noted", "note `absmax V_"+j.pin.row.Name+" = ...` of part "+j.comp.part.id)
			case !c.openEnded(cl, j.comp, "absmax", limit, j.pin.row.Name):
				c.tryUnsure(cl, text+" <= "+factText(j.comp, "absmax", limit, j.pin.row.Name)+".max", unsure)
			}
		}
	}
}

// printedEnd is the highest (way 1) or lowest (-1) number that the rows of a fact
// print as their max or min, whatever their conditions: a voltage of a curve
// at the current it is stated for. "" where a row prints none.
func (c *compiler) printedEnd(cl *claim, m *component, section, name string, way float64) string {
	text, most := "", 0.0
	for _, e := range m.part.rowsOf(section, name) {
		a := readAsked(e.RHS.S)
		end, x := a.high, a.hi
		if way < 0 {
			end, x = a.low, a.lo
		}
		switch {
		case end == "":
			return ""
		case text == "" || way*x > way*most:
			text, most = end, x
		}
		cl.entries = append(cl.entries, e)
	}
	return text
}
