package checks

import (
	"strings"

	"guardband/eval"
	"guardband/eval/circuit"
)

// ledCurrent asks that light-emitting diodes, also those inside optocouplers,
// get a current they can bear and that is enough.
var ledCurrent = &eval.Check{
	Name:       "led",
	Withstands: true,
	Rule: "The current of each light-emitting diode (`in use: I_F = ...`, else as the circuit makes it, in every state of what drives it) stays within I_F of its note, and flows forwards in some state. " +
		"An optocoupler whose output has a pull-up also sinks it: least transfer ratio CTR times least current reaches V / R of the pull-up; CTR counts as noted, so age is in it only if the note has it in.",
	Source: "common practice; Ohm's law",
	Run: on(func(c *board, b *eval.Check) {
		for _, m := range c.Comps.List {
			switch {
			case m.NotFitted():
			case m.Part == nil && m.Kind == "LED":
				cl := c.Claim(b, m.Ref, "The current of "+m.Ref+" stays within its rating.", m.Entry)
				cl.Lacks("no fact", "forward voltage and rated current of "+m.Ref+" are not noted",
					"note it as a part with `spec V_F` and `absmax I_F`")
			case m.Part == nil:
			case m.ByLight():
				led(c, b, m)
				opto(c, b, m)
			case m.Sort() == "LED":
				led(c, b, m)
			case m.Says("optocoupler", "opto-coupler", "photocoupler"):
				opto(c, b, m)
			}
		}
	}),
}

// series is the only other thing on a net, if it is a resistor.
func series(n *circuit.Net, m *circuit.Component) *circuit.Component {
	if x := aloneOn(n, m); x != nil && x.Sort() == "resistor" {
		return x
	}
	return nil
}

// aloneOn is the only other thing on a net, test points aside.
func aloneOn(n *circuit.Net, m *circuit.Component) *circuit.Component {
	var found *circuit.Component
	for _, j := range n.Joined {
		if j.Comp == m || j.Comp.Sort() == "test point" {
			continue
		}
		if found != nil {
			return nil
		}
		found = j.Comp
	}
	return found
}

func led(c *board, b *eval.Check, m *circuit.Component) {
	cl := c.Claim(b, m.Ref, "The current of "+m.Label()+" flows forward and stays within its rating.", m.Entry)
	if a, k := m.LedPins(); (a == nil || k == nil) && m.UseNamed("I_F") == "" {
		cl.Lacks("no value", "the current through "+m.Ref+" is not known: its pins A and K are not known", "state `in use: I_F = ...` in its row")
		return
	}
	text := c.UseText(m, "I_F")
	limits := 0
	for _, section := range []string{"absmax", "operating"} {
		if n := m.Part.FactNamed(section, "I_F"); n != "" {
			limits++
			if openEnded(c, cl, m, section, n, "") {
				continue
			}
			askCurrent(c, cl, m, section, n, text)
		}
	}
	if n := m.Part.FactNamed("spec", "I_FT"); n != "" && c.Try(cl, text+" >= "+m.Ref+"."+n+".max") {
		cl.Crit[len(cl.Crit)-1].Once = "no state of the circuit gives the LED of " + m.Ref + " the current that triggers it"
	}
	askForward(c, cl, m)
	if limits == 0 {
		cl.Lacks("no fact", "no rated current is noted for part "+m.Part.ID, "note `absmax I_F = max ...`")
	}
}

// askCurrent asks that the current stays inside a limit: below its max in every
// state, above its min in one.
func askCurrent(c *board, cl *eval.Claim, m *circuit.Component, section, name, text string) {
	k, _ := derating(c, cl, m, "LED")
	limit := k + m.Ref + "." + section + "." + name
	y := c.Fact(m, section, name, "")
	if y == nil || k == "" && (m.UseNamed("I_F") != "" || !y.Stated[0]) {
		c.Try(cl, text+" inside "+limit)
		return
	}
	if y.Stated[2] {
		c.Try(cl, text+" <= "+limit+".max")
	}
	if y.Stated[0] && c.Try(cl, text+" >= "+strings.TrimPrefix(limit, k)+".min") && m.UseNamed("I_F") == "" {
		cl.Crit[len(cl.Crit)-1].Once = "no state of the circuit makes " + m.Ref + " carry that current"
	}
}

// askForward asks that a light-emitting diode is the right way round: a current
// that flows backwards is inside every upper limit.
func askForward(c *board, cl *eval.Claim, m *circuit.Component) {
	if _, _, ok := m.Poles(); !ok {
		return // two diodes back to back
	}
	if m.UseNamed("I_F") == "" {
		if c.Try(cl, m.Ref+".use.I_F > 0 A") {
			cl.Crit[len(cl.Crit)-1].Once = "no state of the circuit makes " + m.Ref + " conduct: it is the wrong way round, or nothing feeds it"
		}
		return
	}
	for _, k := range m.Row.InUse {
		if circuit.SameSymbol(k.Name, "I_F") && k.Flag == "" && k.Op != "<=" {
			c.Try(cl, m.Ref+".use."+k.Name+" >= 0 A")
		}
	}
}

// transfers asks for the current of an LED of which one row of the transfer ratio
// speaks, in one state at least; what it is then is no question of the others.
func transfers(c *board, cl *eval.Claim, m *circuit.Component, text, pull string) bool {
	rows := m.Part.RowsOf("spec", m.Part.FactNamed("spec", "CTR"))
	if len(rows) != 1 || len(rows[0].Conds) != 1 || !circuit.SameSymbol(rows[0].Conds[0].Name, "I_F") {
		return false
	}
	ratio, at, op := circuit.ReadAsked(rows[0].RHS.S), circuit.ReadAsked(rows[0].Conds[0].Value.S), rows[0].Conds[0].Op
	low, high := at.Low, at.High
	if at.Nominal != "" {
		low, high = at.Nominal, at.Nominal
	}
	if ratio.Low == "" || low == "" || op == "<=" {
		return false
	}
	cl.Entries = append(cl.Entries, rows[0])
	if c.Try(cl, text+" >= max("+low+", ("+pull+") / ("+ratio.Low+"))") {
		cl.Crit[len(cl.Crit)-1].Once = "no state of the circuit gives " + m.Ref + " the current for that"
	}
	if op == "=" && at.Nominal == "" {
		c.Try(cl, text+" <= "+high)
	}
	return true
}

// opto asks that an optocoupler's output pulls its load down.
func opto(c *board, b *eval.Check, m *circuit.Component) {
	out := m.End("C", "COL", "OUT", "VO")
	ratio := m.Part.FactNamed("spec", "CTR")
	if out == nil || ratio == "" && m.Part.HasSupply() {
		return
	}
	cl := c.Claim(b, m.Ref+".output", "The output of optocoupler "+m.Label()+" can sink the pull-up current.", m.Entry)
	if ratio == "" {
		cl.Lacks("no fact", "no transfer ratio is noted for part "+m.Part.ID, "note `spec CTR = min ... at I_F = ...`")
		return
	}
	var pulls []string
	for _, j := range out.Joined {
		if j.Comp.Sort() != "resistor" {
			continue
		}
		if o := j.Comp.Opposite(out); o != nil && c.VoltageKnown(o) && !circuit.IsGround(o.Name) {
			pulls = append(pulls, c.NetText(o)+" / "+j.Comp.Ref)
		}
	}
	if len(pulls) == 0 {
		cl.Lacks("no value", "there is no pull-up to a known voltage at "+out.Name, "place it, or skip this check with the reason")
		return
	}
	text := c.UseText(m, "I_F")
	if m.UseNamed("I_F") == "" && transfers(c, cl, m, text, strings.Join(pulls, " + ")) {
		return
	}
	if c.Try(cl, m.Ref+"."+ratio+" * ("+text+") >= "+strings.Join(pulls, " + ")) {
		cl.Crit[len(cl.Crit)-1].Once = "no state of the circuit gives " + m.Ref + " the current for that"
	}
}
