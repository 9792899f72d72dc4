package checks

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"guardband/eval"
	"guardband/eval/circuit"
	"guardband/eval/record"
)

// This file is the table of ratings: what the circuit puts on a placed part
// under the name of each limit that a note may state of it.

// stress is a quantity of a part, as a formula, that a limit of it bounds. at
// names a pin; among says of which states it speaks, nil for all.
type stress struct {
	text, at string
	signed   bool // below 0 where the limit is
	among    func(*eval.Drive) []string
	shared   int               // pins that carry it, where the limit may be that of each
	lacks    *record.OpenPoint // what is not known of it
	decided  bool              // asked only where the circuit decides it
}

// ratingRow is one row of the table: the limits, by their symbols, the kinds of
// parts it is for, and how the circuit tells it.
type ratingRow struct {
	limits []string
	of     func(*circuit.Component) bool
	tells  func(*board, *circuit.Component) []stress
}

var ratingRows = []ratingRow{
	{[]string{"I_OL", "IOL"}, hasSupplyPin, pinStress("I_OL", "low")},
	{[]string{"I_OH", "IOH"}, hasSupplyPin, pinStress("I_OH", "high")},
	{[]string{"I_O", "I_IO", "I_PIN"}, hasSupplyPin, func(c *board, m *circuit.Component) []stress {
		return append(pinStress("I_OL", "low")(c, m), pinStress("I_OH", "high")(c, m)...)
	}},
	{suppliedTotals, hasSupplyPin, totalStress("high", "supply")},
	{returnedTotals, hasSupplyPin, totalStress("low", "ground")},
	{[]string{"I_OH_TOTAL", "I_OH_SUM"}, hasSupplyPin, totalStress("high", "")},
	{[]string{"I_OL_TOTAL", "I_OL_SUM"}, hasSupplyPin, totalStress("low", "")},
	{[]string{"I_O_TOTAL", "I_IO_TOTAL", "I_OUT_TOTAL", "ΣI_IO"}, hasSupplyPin, func(c *board, m *circuit.Component) []stress {
		return append(totalStress("high", "")(c, m), totalStress("low", "")(c, m)...)
	}},
	{[]string{"V_DS", "V_DSS", "V_CE", "V_CEO", "V_CES"}, switches, acrossTransistor},
	{[]string{"V_EB", "V_EBO"}, isBipolar, backAcross("E", "EMITTER")},
	{[]string{"V_CB", "V_CBO"}, isBipolar, backAcross("C", "COLLECTOR")},
	{[]string{"V_RWM", "V_WM"}, func(m *circuit.Component) bool { _, _, two := m.Ends(); return !two }, standOff},
	{[]string{"V_CM", "V_ICM", "V_ICR", "V_ICMR", "V_INCM"}, hasSupplyPin, commonMode},
	{[]string{"f_OSC", "f_XTAL", "f_HSE", "f_XIN", "f_CRYSTAL"}, hasSupplyPin, crystalOf},
	{[]string{"V_R", "V_RM", "V_RRM"}, isLED, backwards},
	{[]string{"V_COIL", "V", "V_MAX"}, hasCoil, useStress("V", false)},
	{[]string{"I_B"}, (*circuit.Component).IsTransistor, useStress("I_B", true)},
	{[]string{"I_D", "I_DS", "I_C"}, (*circuit.Component).IsTransistor, useStress("I", true)},
	{[]string{"P", "P_D", "P_TOT", "P_V"}, (*circuit.Component).IsTransistor, useStress("P", true)},
	{[]string{"I_Z", "I_ZM", "I_K", "I_KA"}, ofKind("Zener diode"), func(_ *board, m *circuit.Component) []stress {
		return []stress{{text: "0 A - " + m.Ref + ".use.I_F", signed: true}}
	}},
	{[]string{"P", "P_D", "P_TOT", "P_V"}, (*circuit.Component).IsJunction, useStress("P", true)},
	{[]string{"I", "I_N", "I_R", "I_RATED", "I_MAX", "I_DC", "I_HOLD"}, ofKind("fuse", "ferrite bead", "link", "switch",
		"jumper"), useStress("I", false)},
	{[]string{"I", "I_R", "I_RMS", "I_DC", "I_RATED"}, ofKind("inductor"), useStress("I", false)},
	{[]string{"I", "I_N", "I_R", "I_RATED", "I_MAX", "I_PIN", "I_CONTACT"}, (*circuit.Component).IsConnector, contactCurrents},
	{[]string{"V", "V_RATED", "V_MAX", "V_DC"}, (*circuit.Component).IsConnector, contactVolts},
	{[]string{"I_C", "I_CONTACT", "I_SW"}, hasContacts, contactCurrents},
	{[]string{"V_C", "V_CONTACT", "V_SW"}, hasContacts, contactVolts},
	{[]string{"I_DIS", "I_DISCHARGE"}, circuit.IsCell, contactCurrents},
	{[]string{"V", "V_N", "V_R", "V_RATED", "V_MAX", "V_DC"}, ofKind("fuse"), brokenVolts},
	{[]string{"V", "V_M", "V_DC", "V_RMS"}, ofKind("varistor"), useStress("V", false)},
}

// The trade's symbols for the current of all supply pins of a part, and of all its
// ground pins.
var (
	suppliedTotals = []string{"I_DD", "I_VDD", "I_CC", "I_VCC", "I_DD_TOTAL", "I_VDD_TOTAL", "I_CC_TOTAL", "I_VCC_TOTAL", "ΣI_VDD", "ΣI_DD"}
	returnedTotals = []string{"I_SS", "I_VSS", "I_GND", "I_SS_TOTAL", "I_VSS_TOTAL", "I_GND_TOTAL", "ΣI_VSS", "ΣI_SS"}
)

// stressOf are the stresses of a part that a limit of it bounds.
func stressOf(c *board, m *circuit.Component, limit string) []stress {
	for _, r := range ratingRows {
		for _, s := range r.limits {
			if circuit.SameSymbol(s, limit) && r.of(m) {
				return r.tells(c, m)
			}
		}
	}
	return nil
}

// backwards is the reverse voltage of a light-emitting diode while outputs drive:
// what their leakage alone would make of it is not judged.
func backwards(c *board, m *circuit.Component) []stress {
	out := useStress("V_R", true)(c, m)
	for i := range out {
		out[i].among = func(x *eval.Drive) []string {
			if x.What == eval.AnOutput {
				return []string{"low", "high"}
			}
			return nil
		}
	}
	return out
}

func hasCoil(m *circuit.Component) bool {
	one, two := m.CoilEnds()
	return one != nil && two != nil
}

// hasContacts says that a part is a relay with its contacts.
func hasContacts(m *circuit.Component) bool { return hasCoil(m) && len(m.Pins()) > 2 }

func isLED(m *circuit.Component) bool {
	return m.Sort() == "LED" || m.ByLight()
}

// switches says that a part has the ends of a transistor, which light may drive.
func switches(m *circuit.Component) bool {
	return m.IsTransistor() || m.ByLight()
}

func hasSupplyPin(m *circuit.Component) bool { return m.Part.HasSupply() }

func ofKind(kinds ...string) func(*circuit.Component) bool {
	return func(m *circuit.Component) bool { return slices.Contains(kinds, m.Sort()) }
}

// useStress is a quantity that the circuit tells of what joins two nets.
func useStress(name string, signed bool) func(*board, *circuit.Component) []stress {
	return func(c *board, m *circuit.Component) []stress {
		from, to := m.NetworkEnds()
		if from == nil || to == nil || m.NotFitted() ||
			(name == "I" || name == "P") && m.Feeds == nil && c.VoltageStated(from) && c.VoltageStated(to) {
			return nil // between supplies alone something else sets the current
		}
		text := m.Ref + ".use." + name
		if !signed {
			text = "abs(" + text + ")"
		}
		return []stress{{text: text, signed: signed}}
	}
}

func acrossTransistor(c *board, m *circuit.Component) []stress {
	if from, to := m.ChannelEnds(); from != nil && to != nil && !m.NotFitted() {
		return []stress{{text: c.Difference(from, to), signed: true}}
	}
	return nil
}

// pinStress is the current of each output that something on its net leads to a
// supply or the return.
func pinStress(name, state string) func(*board, *circuit.Component) []stress {
	return func(c *board, m *circuit.Component) (out []stress) {
		for _, q := range m.Pins() {
			n := m.PinNets[q]
			if n == nil || !q.Drives() || c.IsRail(n) || circuit.PinsAlone(n) || state == "high" && q.OnlyPullsLow() ||
				state == "low" && q.Has("open source") {
				continue
			}
			r := c.ReachOf(n)
			if at := (circuit.Joint{Comp: m, Pin: q}); (len(r.Rails) > 0 || len(against(c, at, n)) > 0) &&
				len(m.PinsNamed(q.Row.Name)) == 1 {
				out = append(out, stress{text: m.Ref + ".use." + name + "(" + q.Row.Name + ")", at: q.Row.Name, among: letGo(r, at, state, "")})
			}
		}
		return out
	}
}

// ratedKind is the kind by which a derating speaks of a part.
func ratedKind(m *circuit.Component) string {
	if m.IsTransistor() {
		return "transistor"
	}
	return m.Sort()
}

// limitOfStress judges a limit of which the circuit tells the stress, each pin
// by a claim of its own.
func limitOfStress(c *board, b *eval.Check, m *circuit.Component, f *circuit.Fact, says string) {
	claims := map[string]*eval.Claim{}
	all := stressOf(c, m, f.Name)
	if m.Part.HasSupply() && len(all) == 0 && goesBy(f, []string{"I_OL", "I_OH", "I_O", "I_IO", "I_PIN"}) {
		spareCurrents(c, m, f)
	}
	for _, s := range all {
		if limit := c.FactText(m, f.Section, f.Name, ""); s.decided && c.Judged(s.text+" inside "+limit, func(k *eval.Criterion) {
			k.Among = s.among
		}) == record.Open {
			continue
		}
		subject, of := m.Ref+"."+f.Name, f.Name+" of "+m.Label()
		if s.at != "" {
			subject, of = m.Ref+"."+s.at+"."+f.Name, f.Name+" of "+s.at+" of "+m.Label()
		}
		cl, again := claims[subject], claims[subject] != nil
		if !again {
			cl = c.Claim(b, subject, of+" "+says+", as the circuit makes it.", f.Rows[0])
			claims[subject] = cl
		}
		if !again && openEnded(c, cl, m, f.Section, f.Name, "") {
			continue
		}
		y := c.Fact(m, f.Section, f.Name, "")
		k, _ := derating(c, cl, m, ratedKind(m))
		limit := k + c.FactText(m, f.Section, f.Name, "")
		var texts []string
		if a := circuit.ReadAsked(f.Rows[0].RHS.S); s.signed && a.High != "" && a.Low != "" && a.Hi == 0 { // 0 says the sign alone
			c.AskAmong(cl, s.among, "abs("+s.text+") <= abs("+limit+".min)")
			continue
		}
		if y == nil || y.Stated[2] {
			texts = append(texts, s.text+" <= "+limit+".max")
		}
		if y != nil && y.Stated[0] && (s.signed || !y.Stated[2]) {
			text := s.text + " >= " + limit + ".min"
			if !s.signed { // counted out of the pin
				text = s.text + " <= abs(" + limit + ".min)"
			}
			texts = append(texts, text)
		}
		for _, t := range texts {
			whole := c.AskAmong(cl, s.among, t)
			if s.shared > 1 && whole != nil && !strings.Contains(f.Name, "TOTAL") && !strings.Contains(f.Name, "Σ") {
				whole.Unsure = &record.OpenPoint{Reason: "no fact", Text: fmt.Sprintf("%s may be the limit of each of %d pins", f.Name, s.shared),
					Settle: "note it as `absmax " + f.Name + "_TOTAL` if it is that of all together"}
				c.AskAmong(cl, s.among, strings.Replace(t, " <= ", fmt.Sprintf(" <= %d * ", s.shared), 1))
			}
		}
		if hasCoil(m) && y != nil && y.Stated[0] && y.Stated[2] {
			askOf(c, cl, s.text+" >= "+limit+".min", func(k *eval.Criterion) {
				free(k)
				k.Once = "no state of the circuit brings the coil of " + m.Ref + " so far"
			})
		}
		if s.lacks != nil {
			cl.Lacks(s.lacks.Reason, s.lacks.Text, s.lacks.Settle)
		}
	}
}

// totalStress is what all outputs of a part that something loads give at once, or
// sink; through the pins of a type also what the part takes itself. A sheet that
// does not speak of a total may mean each of several pins.
func totalStress(state, pins string) func(*board, *circuit.Component) []stress {
	return func(c *board, m *circuit.Component) []stress {
		var texts []string
		seen := map[*circuit.Net]bool{}
		for _, s := range pinStress("I_O"+strings.ToUpper(state[:1]), state)(c, m) {
			for _, n := range c.ReachOf(m.PinNets[m.PinsNamed(s.at)[0]]).Nets {
				if seen[n] {
					return nil // one gives what another sinks
				}
				seen[n] = true
			}
			texts = append(texts, s.text)
		}
		if len(texts) == 0 {
			return nil
		}
		s := stress{among: func(x *eval.Drive) []string {
			switch {
			case x.What == eval.AnOutput && x.At.Comp == m && x.Has(state):
				return []string{state}
			case x.What == eval.APlug:
				return []string{"free"}
			}
			return nil
		}}
		if own := m.Part.FactNamed("spec", circuit.SupplyCurrents...); pins != "" && own != "" {
			texts = append(texts, m.Ref+".spec."+own+".max")
		} else if pins != "" {
			s.lacks = &record.OpenPoint{Reason: "no fact", Text: "what " + m.Label() + " takes itself is not noted",
				Settle: "note `spec I_DD = max ...` of part " + m.Part.ID}
		}
		s.text = strings.Join(texts, " + ")
		for _, q := range m.Pins() {
			if q.Row.Type == pins {
				s.shared += len(q.Row.Numbers)
			}
		}
		return []stress{s}
	}
}

// backAcross is the voltage that a junction of a bipolar transistor has in reverse,
// from its base to an end.
func backAcross(end ...string) func(*board, *circuit.Component) []stress {
	return func(c *board, m *circuit.Component) []stress {
		from, to := m.End(end...), m.End("B", "BASE")
		if strings.Contains(strings.ToLower(m.Part.Title), "pnp") {
			from, to = to, from
		}
		if m.NotFitted() || from == to {
			return nil
		}
		return []stress{{text: c.Difference(from, to), decided: true}}
	}
}

// standOff is the voltage of each line of an array of suppressors.
func standOff(c *board, m *circuit.Component) (out []stress) {
	for _, q := range m.Pins() {
		if n := statedNear(c, m.PinNets[q]); n != nil && !circuit.IsReturn(n) && q.Row.Type != "not connected" {
			out = append(out, stress{text: "abs(" + c.NetText(n) + ")", at: q.Row.Name})
		}
	}
	return out
}

// differentialInput matches the names of the inputs of an amplifier or comparator.
var differentialInput = regexp.MustCompile(`(?i)^(V?[12AB]?IN[12ABCD]?_?[-+PMN]|V?[-+]IN[12ABCD]?|NON-?INV|INV)$`)

// commonMode are the voltages of such inputs.
func commonMode(c *board, m *circuit.Component) (out []stress) {
	for _, q := range m.Pins() {
		if n := m.PinNets[q]; n != nil && differentialInput.MatchString(q.Row.Name) {
			out = append(out, stress{text: c.NetText(n), at: q.Row.Name, signed: true, decided: !c.VoltageStated(n)})
		}
	}
	return out
}

// crystalOf is the frequency of the crystal between two pins of a part.
func crystalOf(c *board, m *circuit.Component) (out []stress) {
	for _, x := range c.PlacedParts() {
		one, two, ok := x.Ends()
		if f := x.Part.FactNamed("spec", "f"); ok && f != "" && x.Sort() == "crystal" && isOn(m, one) && isOn(m, two) {
			out = append(out, stress{text: x.Ref + "." + f, at: x.Ref, signed: true})
		}
	}
	return out
}

// contactCurrents are the currents of the contacts of a connector or relay and of
// the end of a cell, as the budget of its net has them: its own rows, else all of what it alone feeds, else what
// is made for it alone.
func contactCurrents(c *board, m *circuit.Component) (out []stress) {
	seen := map[*circuit.Net]int{}
	for _, q := range m.Pins() {
		if n := m.PinNets[q]; n != nil && !circuit.IsReturn(n) && (q.IsContact() || !hasCoil(m)) {
			seen[n]++
		}
	}
	for _, q := range m.Pins() {
		n := m.PinNets[q]
		share := seen[n]
		if n == nil || share == 0 {
			continue
		}
		seen[n] = 0
		var texts []string
		peak, feeders := c.Peak(n), circuit.SupplyOutputs(n)
		texts = append(texts, c.Loads(n, m.Ref)...)
		alone := !slices.ContainsFunc(n.Joined, func(j circuit.Joint) bool {
			return j.Comp != m && j.Comp.Sort() != "capacitor" && !(j.Pin != nil && j.Pin.Row.Type == "supply output")
		})
		switch {
		case len(texts) > 0:
		case len(feeders) == 0 && peak != "" && !slices.ContainsFunc(n.Joined,
			func(j circuit.Joint) bool { return j.Comp != m && (j.Comp.IsConnector() || circuit.IsCell(j.Comp)) }):
			texts = append(texts, peak)
		case len(feeders) == 1 && alone:
			if load := c.LoadOf(feeders[0].Comp, n, false, feeders[0].Pin); load != "" {
				texts = append(texts, load)
			}
		}
		for _, t := range texts {
			out = append(out, stress{text: fmt.Sprintf("abs(%s) / %d", t, share), at: q.Row.Name})
		}
	}
	return out
}

// brokenVolts is the voltage that a fuse has across it once it is broken: that
// of its line.
func brokenVolts(c *board, m *circuit.Component) []stress {
	a, z, _ := m.Ends()
	for _, n := range []*circuit.Net{a, z} {
		if n != nil && !circuit.IsGround(n.Name) && c.VoltageStated(n) {
			return []stress{{text: "abs(" + c.NetText(n) + ")"}}
		}
	}
	return nil
}

// contactVolts are the voltages of the nets of the contacts of a connector or relay.
func contactVolts(c *board, m *circuit.Component) (out []stress) {
	seen := map[*circuit.Net]bool{}
	for _, q := range m.Pins() {
		if n := m.PinNets[q]; n != nil && !seen[n] && (q.IsContact() || !hasCoil(m)) && !circuit.IsGround(n.Name) && c.VoltageStated(n) {
			seen[n] = true
			out = append(out, stress{text: "abs(" + c.NetText(n) + ")", at: q.Row.Name})
		}
	}
	return out
}
