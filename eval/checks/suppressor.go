package checks

import (
	"slices"

	"guardband/eval"
	"guardband/eval/circuit"
	"guardband/eval/record"
)

// suppressorClamp asks that what stands behind a suppressor bears what it lets
// through.
var suppressorClamp = &eval.Check{
	Name:       "suppressor",
	Withstands: true,
	Rule: "The clamping voltage of a suppressor from a supply to ground (V_CL, V_C) is within the maximum ratings " +
		"of each pin on its line. It counts at `in use: I_PP = ...`; without, at the highest pulse current that " +
		"its note has a row for, " +
		"where a clamping voltage that is too high is open, as the pulses may be smaller. Capacitors and " +
		"connectors are not judged, nor signal lines, whose pins withstand short pulses by their own protection.",
	Source: "common practice; maximum ratings of the parts' own sheets",
	Run: on(func(c *board, b *eval.Check) {
		for _, m := range c.PlacedParts() {
			clamp := m.Part.FactNamed("spec", "V_CL", "V_C", "V_CLAMP")
			if !m.IsSuppressor() {
				continue
			}
			if a, z, ok := m.Ends(); ok && circuit.IsReturn(a) != circuit.IsReturn(z) {
				if circuit.IsReturn(a) {
					a = z
				}
				if slices.ContainsFunc(lineOf(c, a), c.IsRail) {
					suppresses(c, b, m, clamp, a)
				}
			}
		}
	}),
}

func suppresses(c *board, b *eval.Check, m *circuit.Component, clamp string, n *circuit.Net) {
	var cl *eval.Claim
	text, unsure := "", (*record.OpenPoint)(nil)
	if clamp != "" {
		text = m.Ref + ".spec." + clamp
	}
	for _, at := range lineOf(c, n) {
		for _, j := range at.PinsOf() {
			if j.Comp == m || !j.Comp.Part.HasSupply() {
				continue
			}
			if cl == nil {
				cl = c.Claim(b, m.Ref, "What "+m.Label()+
					" lets through at its clamping voltage is within the ratings of the parts on "+n.Name+".", m.Entry)
				if clamp != "" && m.UseNamed("I_PP", "I_PPM") == "" {
					text = printedEnd(c, cl, m, "spec", clamp, 1)
					unsure = &record.OpenPoint{Reason: "no value", Text: "the pulse current through " + m.Ref +
						" is not stated, and its clamping voltage counts at the highest that is noted",
						Settle: "state `in use: I_PP = ...` in its row"}
				}
			}
			limit, ok := j.Comp.LimitFor("absmax", j.Pin)
			switch {
			case text == "":
				cl.Lacks("no fact", "no highest clamping voltage is noted for part "+m.Part.ID, "note `spec "+clamp+" = max ... at I_PP <= ...`")
				return
			case !ok:
				cl.Lacks("no fact", "the voltage that "+j.Name()+" withstands is not noted", "note `absmax V_"+
					j.Pin.Row.Name+" = ...` of part "+j.Comp.Part.ID)
			case !openEnded(c, cl, j.Comp, "absmax", limit, j.Pin.Row.Name):
				tryUnsure(c, cl, text+" <= "+c.FactText(j.Comp, "absmax", limit, j.Pin.Row.Name)+".max", unsure)
			}
		}
	}
}

// printedEnd is the highest (way 1) or lowest (-1) number that the rows of a fact
// print as their max or min, whatever their conditions: a voltage of a curve
// at the current it is stated for. "" where a row prints none.
func printedEnd(c *board, cl *eval.Claim, m *circuit.Component, section, name string, way float64) string {
	text, most := "", 0.0
	for _, e := range m.Part.RowsOf(section, name) {
		a := circuit.ReadAsked(e.RHS.S)
		end, x := a.High, a.Hi
		if way < 0 {
			end, x = a.Low, a.Lo
		}
		switch {
		case end == "":
			return ""
		case text == "" || way*x > way*most:
			text, most = end, x
		}
		cl.Entries = append(cl.Entries, e)
	}
	return text
}
