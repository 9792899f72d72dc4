package checks

import (
	"slices"
	"strings"

	"guardband/eval"
	"guardband/eval/circuit"
)

// This file judges the level of inputs that no output drives: what resistors
// make of it, and whether what makes a supply is ever enabled.

// levelPulled judges an input that resistors to supplies hold, or an enable
// input of what makes a supply that is tied to the return.
func levelPulled(c *board, b *eval.Check, in circuit.Joint, n *circuit.Net, r *circuit.Reach, subject string) {
	m, q := in.Comp, in.Pin
	enables, low := enables(in), q.Has("active low")
	tied := c.IsRail(n) && c.VoltageKnown(n)
	if !tied && (len(r.Rails) == 0 || !resistorsAlone(r)) || q.Has("strap") || q.Has("reset") || isResetName(q.Row.Name) || q.PulledInside() ||
		!q.OnlyReads() {
		return
	}
	var want []string
	if high := c.LimitEnd(m, q, circuit.Volt.Dim, "min", "V_IH"); high != "" && !(enables && low) && !(tied && circuit.IsReturn(n)) {
		want = append(want, levelAt(c, in, n)+" >= "+high)
	}
	if most := c.LimitEnd(m, q, circuit.Volt.Dim, "max", "V_IL"); most != "" && (!enables || low) && (!tied || circuit.IsReturn(n)) {
		want = append(want, levelAt(c, in, n)+" <= "+most)
	}
	if len(want) == 0 && enables && !tied {
		c.Claim(b, subject, "The level at "+q.Row.Name+" of "+m.Label()+" enables it.", q.Entry).Lacks("no fact",
			"the level that enables "+in.Name()+" is not noted", "note `operating V_IH = min ...` and `operating V_IL = max ...` in part "+m.Part.ID)
		return
	}
	if len(want) == 0 || !enables && !tied && len(want) < 2 || slices.ContainsFunc(r.Rails,
		func(far *circuit.Net) bool { return !c.VoltageKnown(far) }) {
		return
	}
	statement := "The level that holds " + q.Row.Name + " of " + m.Label() + " is read as high or as low."
	if enables {
		statement = "The level at " + q.Row.Name + " of " + m.Label() + " enables it."
	}
	cl := c.Claim(b, subject, statement, q.Entry)
	for _, name := range []string{"V_IH", "V_IL"} { // of both one is enough
		if f := m.Part.FactFor("operating", q, name); f != "" {
			def, _ := m.Part.Choose("operating", f, q.Row.Name)
			cl.Entries = append(cl.Entries, def.Rows[0])
		}
	}
	presumeResting(r, cl)
	if _, leak := c.PinFact(m, "spec", q, circuit.DimAmpere, "I_LEAK", "I_LKG", "I_LI", "I_L"); leak == "" {
		if x := slices.IndexFunc(r.Ends, func(m *circuit.Component) bool { return sizesOf(c, m).most > mostUnnoted }); x >= 0 {
			cl.Lacks("no fact", "what "+in.Name()+" takes is not noted, and "+r.Ends[x].Ref+" lets it move the level",
				"note `spec I_LEAK = ...` in part "+m.Part.ID)
			return
		}
		cl.Presume("what " + in.Name() + " takes, which is not noted, does not move its level")
	}
	if len(want) == 2 && pulledDown(c, r) {
		slices.Reverse(want)
	}
	switch {
	case enables && len(r.Buttons)+len(r.Between) > 0: // pressed, or at rest
		askOf(c, cl, want[0], func(k *eval.Criterion) {
			k.Among = func(x *eval.Drive) []string {
				switch {
				case x.What == eval.APlug:
					return []string{"free"}
				case x.What == eval.ASwitch && x.Comp.Sort() == "switch":
					return []string{"open", "closed"}
				}
				return nil
			}
			k.Lone, k.Once = &in, "no state of the circuit enables "+m.Ref
		})
	default:
		if k := c.AskAmong(cl, letGo(r, circuit.Joint{}, "", ""), want...); k != nil {
			k.Lone, k.Meant = &in, len(want) == 2 && pulledDown(c, r) != pulledUp(c, r)
		}
	}
}

// mostUnnoted is the resistance, in ohms, above which a leakage of a microampere
// moves a level by more than a tenth of a volt (common practice).
const mostUnnoted = 110e3

// neverOn says that the enable input of what makes a supply is tied so that it
// is off, or that all that could turn it on is fed from what it makes.
func neverOn(c *board, in circuit.Joint, n *circuit.Net) string {
	if n == nil || !enables(in) || idleChannel(in) {
		return ""
	}
	m, q, low, r := in.Comp, in.Pin, in.Pin.Has("active low"), c.ReachOf(n)
	switch {
	case c.IsRail(n) && circuit.IsReturn(n) != low && (circuit.IsReturn(n) || n == c.SupplyOf(m, q)):
		return q.Row.Name + " is tied to " + n.Name + ", so " + m.Label() + " is never on"
	case low || q.PulledInside() || len(r.Plugs)+len(r.Buttons)+len(r.Gates) > 0:
		return ""
	}
	sources := slices.DeleteFunc(slices.Clone(r.Rails), circuit.IsReturn)
	if c.IsRail(n) {
		sources = []*circuit.Net{n}
	}
	for _, d := range r.Pins() {
		if d.Comp != m && (d.Pin.Brings() && !d.Pin.OnlyPullsLow() || d.Pin.PulledInside() || !d.Pin.Reads() && !d.Pin.Drives()) {
			sources = append(sources, c.SupplyOf(d.Comp, d.Pin))
		}
	}
	if len(sources) == 0 || slices.ContainsFunc(sources, func(far *circuit.Net) bool { return far == nil || !madeBy(far, m) }) {
		return ""
	}
	return q.Row.Name + " is held by " + sources[0].Name + " alone, which " + m.Ref + " makes itself: it never starts"
}

// madeBy says that a net has no other source than one part.
func madeBy(n *circuit.Net, m *circuit.Component) bool {
	supplies := circuit.SupplyOutputs(n)
	return len(supplies) > 0 && !slices.ContainsFunc(supplies, func(j circuit.Joint) bool { return j.Comp != m }) &&
		!slices.ContainsFunc(n.Joined, func(j circuit.Joint) bool {
			return j.Comp.IsConnector() || circuit.IsCell(j.Comp) || j.Comp.Sort() == "diode" || j.Comp.IsTransistor()
		})
}

// idleChannel says that a numbered enable belongs to a supply output of that
// number on which nothing is placed.
func idleChannel(in circuit.Joint) bool {
	_, number := circuit.SplitNumber(in.Pin.Row.Name)
	for _, q := range in.Comp.Pins() {
		if _, k := circuit.SplitNumber(q.Row.Name); number >= 0 && k == number && q.Row.Type == "supply output" {
			return in.Comp.PinNets[q] == nil || circuit.PinsAlone(in.Comp.PinNets[q])
		}
	}
	return false
}

// enables says that a pin enables a part that makes a supply, by its name.
func enables(j circuit.Joint) bool {
	name := strings.ToUpper(strings.TrimRight(j.Pin.Row.Name, "0123456789_"))
	return j.Pin.OnlyReads() && j.Comp.Part.HasSupplyOutput() &&
		(slices.Contains([]string{"EN", "ENA", "ENABLE", "ON", "CE"}, name) || j.Pin.Has("active low") &&
			slices.Contains([]string{"EN", "ON", "CE"}, circuit.BareName(j.Pin.Row.Name)))
}
