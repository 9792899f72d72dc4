package checks

import (
	"cmp"
	"slices"
	"strings"

	"guardband/eval"
	"guardband/eval/circuit"
	"guardband/units"
)

// resistorStress asks that each resistor bears its power and its voltage.
var resistorStress = &eval.Check{
	Name:       "resistor",
	Withstands: true,
	Rule: "The power in each resistor, V²/R at the highest voltage across it, stays within its rated power, and the voltage within its limiting element voltage, both times the derating asked. " +
		"Where a net states no voltage it is worked out from the circuit, in every state of what drives it. Above 70 °C the rating falls on a straight line to nothing at the end of the kind, unless the note states it by temperature. " +
		"Ratings come from the part's note (P, V_LIM), an option of its row (0.1 W, 50 V), else from the standard figure of its chip size, listed as assumed. " +
		"`in use: V = ...`, `I = ...` or `P = ...` states what the resistor sees where the circuit does not determine it.",
	Source: "common practice; EN 140401-802 (rated dissipation at 70 °C and limiting element voltage by size)",
	Run: on(func(c *board, b *eval.Check) {
		l := &unknowns{}
		for _, m := range c.Comps.List {
			if m.NotFitted() || m.Link || m.Sort() != "resistor" {
				continue
			}
			if c.ValueOf(m) == nil || m.Row.Value.Empty() && m.Part == nil {
				continue // a resistor without a value is told by its row
			}
			resistor(c, b, m, l)
		}
		l.tell(c, b, "rating", "Each resistor has its ratings stated.", "no power rating is known for ",
			"note `P` of the part, or give the row a size or a rating: `resistor 10k ± 1 %, 0603`")
	}),
}

// unknowns gathers what a check could not judge for one and the same reason,
// so that it is told once.
type unknowns struct{ refs []string }

// tell makes one open claim of what was gathered.
func (l *unknowns) tell(c *board, b *eval.Check, subject, statement, says, settle string) {
	if len(l.refs) > 0 {
		cl := c.Claim(b, subject, statement, nil)
		cl.Lacks("no fact", says+strings.Join(l.refs, ", "), settle)
	}
}

func isRMS(c *board, n *circuit.Net) bool {
	y := c.Voltage(n)
	return y != nil && y.Type.Wave == units.RMS
}

func resistor(c *board, b *eval.Check, m *circuit.Component, l *unknowns) {
	power, hasPower := rated(m, circuit.Watt.Dim, "P", "P_R", "P_70", "P_D")
	volts, hasVolts := rated(m, circuit.Volt.Dim, "V_LIM", "V_MAX", "V_R")
	if s, ok := sizeOf(m); ok {
		why := "thick-film resistors of size " + s.Code + " are rated " + s.Power + " at 70 °C and " + s.Element + ", the figures of EN 140401-802"
		if !hasPower {
			power, hasPower = rating{s.Power, why}, true
		}
		if !hasVolts {
			volts, hasVolts = rating{s.Element, why}, true
		}
	}
	if !hasPower {
		l.refs = append(l.refs, m.Ref)
		return
	}
	cl := c.Claim(b, m.Ref, "Resistor "+m.Ref+" stays within its power and voltage ratings.", m.Entry)
	k, curve := derating(c, cl, m, "resistor")
	presume := func(r rating) {
		if r.presumed != "" {
			cl.Presume(r.presumed)
		}
	}
	limit := k + power.text
	if !curve {
		limit = k + derated(c, cl, m, power)
	}
	presume(power)
	across := mostOn(c, cl, m)
	switch use := m.UseNamed("P", "P_R"); {
	case use != "":
		c.Try(cl, m.Ref+".use."+use+" <= "+limit)
	case m.UseNamed("I") != "" && across == m.Ref+".use.V":
		across = m.Ref + ".use." + m.UseNamed("I") + " * " + m.Ref
		c.Try(cl, m.Ref+".use."+m.UseNamed("I")+"^2 * "+m.Ref+" <= "+limit)
	case across == "":
		cl.Lacks("no value", "the two nets of "+m.Ref+" are not known", "state `in use: P = ...` in its row")
	case inSeries(c, m) != "":
		c.Try(cl, inSeries(c, m)+"^2 * "+m.Ref+" <= "+limit)
	case across == m.Ref+".use.V" && !circuit.StatesUse(m.Row.InUse, "V"):
		c.Try(cl, m.Ref+".use.P <= "+limit)
	default:
		c.Try(cl, "("+across+")^2 / "+m.Ref+" <= "+limit)
	}
	if !hasVolts {
		return
	}
	if use := m.UseNamed("V_LIM", "V_MAX"); use != "" {
		across = m.Ref + ".use." + use
	}
	presume(volts)
	if across != "" {
		if curve { // of the power
			k = ""
		}
		if a, b, ok := m.Ends(); ok && volts.presumed != "" && (isRMS(c, a) || isRMS(c, b)) {
			volts.text += " rms" // the figure is one of direct voltage or r.m.s.
		}
		c.Try(cl, "abs("+across+") <= "+k+volts.text)
	}
}

// inSeries spells the current through a resistor that the row of a diode beside
// it states; "" where none does.
func inSeries(c *board, m *circuit.Component) string {
	a, b, _ := m.Ends()
	for _, n := range []*circuit.Net{a, b} {
		if n == nil || c.VoltageStated(n) {
			continue
		}
		if d := aloneOn(n, m); d != nil && d.IsJunction() && d.UseNamed("I_F") != "" {
			return d.Ref + ".use." + d.UseNamed("I_F")
		}
	}
	return ""
}

// voltageOn spells the voltage across a part of two ends: what its row states,
// what its nets state, else what the circuit makes; "" where its ends are not
// known.
func voltageOn(c *board, m *circuit.Component) string {
	if use := m.UseNamed("V", "V_R", "V_DC", "V_AC"); use != "" {
		return m.Ref + ".use." + use
	}
	a, b, ok := m.Ends()
	switch {
	case !ok:
		return ""
	case c.VoltageStated(a) && c.VoltageStated(b):
		return c.Across(a, b)
	}
	return m.Ref + ".use.V"
}

// mostOn spells the same of what bears it either way round: between a net that
// states its voltage and a line to a connector, the most that may be plugged in.
func mostOn(c *board, cl *eval.Claim, m *circuit.Component) string {
	across := voltageOn(c, m)
	if a, b, ok := m.Ends(); ok && across == m.Ref+".use.V" && !circuit.StatesUse(m.Row.InUse, "V") {
		if !c.VoltageStated(a) {
			a, b = b, a
		}
		if c.VoltageStated(a) {
			return cmp.Or(plugged(c, cl, a, b), across)
		}
	}
	return across
}

// plugged spells the most between a known net and a line that leads to a connector:
// what is plugged in is presumed to bring no more than a pin on the line withstands,
// else than its standard has; "" where neither tells.
func plugged(c *board, cl *eval.Claim, known, line *circuit.Net) string {
	i := slices.IndexFunc(line.Joined, func(j circuit.Joint) bool { return j.Comp.IsConnector() || j.Comp.End("CC1", "CC_1") != nil })
	if i < 0 || c.IsRail(line) {
		return ""
	}
	plug := line.Joined[i].Comp
	if plug.Part != nil && !plug.Part.HasSupply() && (line == plug.End("CC1", "CC_1") || line == plug.End("CC2", "CC_2")) {
		cl.Presume("what is plugged into " + plug.Ref + " brings 5.5 V at most to " + line.Name + " (USB Type-C specification, from memory)")
		return "max(abs(" + c.NetText(known) + " - 5.5 V), abs(" + c.NetText(known) + "))"
	}
	for _, j := range line.PinsOf() {
		limit, low := "", "0 V"
		if j.Comp.Part.HasSupply() && j.Comp != plug {
			limit = pinLimit(c, j)
		}
		if limit == "" {
			continue
		}
		y := c.Fact(j.Comp, "absmax", limitName(c, j), j.Pin.Row.Name)
		if y == nil || !y.Stated[2] && !y.Made {
			continue
		}
		if y.Stated[0] || y.Made {
			low = limit + ".min"
		}
		cl.Presume("what is plugged into " + plug.Ref + " brings no more to " + line.Name + " than " + j.Name() + " withstands")
		return "max(abs(" + c.NetText(known) + " - " + limit + ".max), abs(" + c.NetText(known) + " - " + low + "))"
	}
	return ""
}
