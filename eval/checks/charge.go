package checks

import (
	"slices"
	"strings"

	"guardband/eval"
	"guardband/eval/circuit"
	"guardband/eval/record"
)

// chargeLimits asks that a charger does to its cell what the cell bears.
var chargeLimits = &eval.Check{
	Name:       "charge",
	Withstands: true,
	Rule: "What charges a cell (a part that notes a charging current I_CHG or voltage V_CHG, V_FLOAT, V_REG, on the net of its positive end) stays within I_CHG and V_CHG of the cell, of which the operating limits count, " +
		"else the maximum ratings. Where the cell notes T_CHG and no thermistor is at the charger, the ambient temperature stays within it. A cell that must not be charged has neither a charger nor the output of a supply on its net. A cell turned round is told too.",
	Source: "common practice; limits of the cell's own sheet",
	Run: on(func(c *board, b *eval.Check) {
		for _, m := range c.Comps.List {
			if !m.NotFitted() && circuit.IsCell(m) {
				cellClaim(c, b, m)
			}
		}
	}),
}

// The symbols that the trade gives to what a charger does and a cell bears.
var (
	chargeVolts = []string{"V_CHG", "V_FLOAT", "V_CHARGE", "V_BATREG", "V_REG"}
)

// isCharger says that a part charges a cell on one of its pins.
func isCharger(m *circuit.Component) bool {
	return m.Part != nil && m.Part.HasSupply() && (m.Part.FactNamed("spec", append(circuit.ChargeCurrents, "V_FLOAT", "V_CHG")...) != "" ||
		strings.Contains(strings.ToLower(m.Part.Title), "charger"))
}

func cellClaim(c *board, b *eval.Check, m *circuit.Component) {
	plus, minus, named := m.Poles()
	if a, z, ok := m.Ends(); !named && ok {
		if plus = a; circuit.IsReturn(a) {
			plus = z
		}
	}
	var chargers, feeders []circuit.Joint
	cells := 0
	for _, n := range lineOf(c, plus) {
		for _, j := range n.Joined {
			if circuit.IsCell(j.Comp) && j.Comp.Opposite(n) != nil {
				cells++
			}
		}
		for _, j := range n.PinsOf() {
			switch {
			case j.Pin.Row.Type == "supply" || circuit.IsCell(j.Comp) || circuit.SamePart(append(chargers, feeders...), j):
			case isCharger(j.Comp):
				chargers = append(chargers, j)
			case j.Pin.Row.Type == "supply output":
				feeders = append(feeders, j)
			}
		}
	}
	through, rails := throughDiodes(c, plus)
	for _, j := range through {
		if !circuit.SamePart(append(chargers, feeders...), j) {
			feeders = append(feeders, j)
		}
	}
	turned := named && c.VoltageStated(plus) && c.VoltageStated(minus)
	if named && backwardsCell(c, plus, minus) {
		c.Claim(b, m.Ref, "Cell "+m.Label()+" is the right way round.", m.Entry).Settle(record.Failed,
			"its + is on the return "+plus.Name+", and its - on "+minus.Name+", which supplies parts: it is turned round")
		return
	}
	if len(chargers)+len(feeders)+len(rails) == 0 {
		if spareCharge(c, m); !turned {
			return
		}
	}
	cl := c.Claim(b, m.Ref, "Cell "+m.Label()+" is the right way round and is charged within its limits.", m.Entry)
	if turned {
		c.Try(cl, c.Difference(plus, minus)+" >= 0 V")
		if m.Part != nil {
			if y := c.Fact(m, "operating", "V_CUT", ""); y != nil && y.Stated[0] {
				c.Try(cl, c.Difference(plus, minus)+" >= "+m.Ref+".operating.V_CUT.min")
			}
			for _, section := range []string{"operating", "absmax"} {
				n := m.Part.FactNamed(section, "V_CHG", "V_CHARGE")
				if y := c.Fact(m, section, n, ""); n != "" && y != nil && y.Stated[2] {
					c.Try(cl, c.Difference(plus, minus)+" <= "+m.Ref+"."+section+"."+n+".max")
				}
			}
		}
	}
	if all := append(chargers, feeders...); len(all)+len(rails) > 0 && m.Part != nil {
		who := pinNames(all)
		if len(all) == 0 {
			who = strings.Join(rails, " and ")
		}
		switch hazard, settled := chemistry(c, m.Part); {
		case hazard != circuit.PrimaryLithium && hazard != circuit.PrimaryCell:
			if len(feeders)+len(rails) > 0 && hazard != "" {
				cl.Lacks("no fact", who+" may drive a current into "+m.Ref+
					", and nothing is noted that keeps it within the cell's limits", "place a charger, or skip this check with the reason")
			}
		case settled:
			cl.Settle(record.Failed, who+" may drive a current into "+m.Ref+", a cell that must not be charged")
		default:
			cl.Lacks("no fact", "it is not noted whether "+m.Ref+" may be charged, and "+who+
				" may drive a current into it", "note its chemistry: `hazard: lithium-ion battery` and the like")
		}
	}
	several := map[string]*record.OpenPoint{}
	if cells > 1 {
		several["current"] = &record.OpenPoint{Reason: "no fact", Text: "how the cells on " + plus.Name +
			" share the charging current is not known", Settle: "skip this check with the reason"}
	}
	shunted := minus != nil && slices.ContainsFunc(c.ResistorsAt(minus), func(r circuit.Resistor) bool { return circuit.IsReturn(r.Other) })
	if minus != nil && !shunted && !slices.ContainsFunc(lineOf(c, minus), circuit.IsReturn) {
		several["voltage"] = &record.OpenPoint{Reason: "no fact", Text: m.Ref +
			" is in series with others, and its share of the charging voltage is not known", Settle: "note the cells as one part"}
	}
	for _, j := range chargers {
		chargedBy(c, cl, m, j.Comp, several)
	}
}

// pinsAlong are the pins on a net and on those that fuses, beads and the like
// join to it.
func pinsAlong(c *board, n *circuit.Net) (out []circuit.Joint) {
	for _, x := range lineOf(c, n) {
		out = append(out, x.PinsOf()...)
	}
	return out
}

// backwardsCell says that a cell has its positive end on the return and its other
// one on the supply of a part that lives above it.
func backwardsCell(c *board, plus, minus *circuit.Net) bool {
	return circuit.IsReturn(plus) && minus != nil && !circuit.IsReturn(minus) && !c.VoltageStated(minus) &&
		slices.ContainsFunc(pinsAlong(c, minus), func(j circuit.Joint) bool {
			if j.Pin.Row.Type == "supply output" {
				return true
			}
			name, ok := j.Comp.LimitFor("operating", j.Pin)
			def, _ := j.Comp.Part.Choose("operating", name, j.Pin.Row.Name)
			if !ok || def == nil || j.Pin.Row.Type != "supply" {
				return false
			}
			a := circuit.ReadAsked(def.Rows[0].RHS.S)
			return a.Low != "" && a.Lo > 0
		})
}

// insideAnode is the anode of the diode inside a field-effect transistor whose
// cathode is on a net, nil without.
func insideAnode(m *circuit.Component, cathode *circuit.Net) *circuit.Net {
	if m.Part == nil || m.End("G", "GATE") == nil {
		return nil
	}
	from, to := m.End("S", "SOURCE"), m.End("D", "DRAIN")
	down, known := m.Channel()
	if down {
		from, to = to, from
	}
	if !known || to != cathode || from == nil || circuit.IsReturn(from) {
		return nil
	}
	return from
}

// throughDiodes are the outputs of supplies that lead to a net by diodes in the
// direction of their current, and resistors; rails are nets behind such a diode
// whose voltage is stated and whose supply is not drawn.
func throughDiodes(c *board, n *circuit.Net) (out []circuit.Joint, rails []string) {
	if n == nil {
		return nil, nil
	}
	todo := lineOf(c, n)
	behind := map[*circuit.Net]bool{}
	for i := 0; i < len(todo); i++ {
		at := todo[i]
		for _, j := range at.Joined {
			far, diode := j.Comp.Opposite(at), false
			if plus, minus, _ := j.Comp.Poles(); j.Comp.Sort() == "diode" && minus == at {
				far, diode = plus, true
			} else if anode := insideAnode(j.Comp, at); anode != nil {
				far, diode = anode, true
			}
			if far == nil || circuit.IsReturn(far) || !diode && !j.Comp.IsResistor() {
				continue // a diode to the return clamps, and brings nothing
			}
			for _, x := range lineOf(c, far) {
				todo = circuit.AddTo(todo, x)
				behind[x] = behind[x] || diode
			}
		}
		if i < len(lineOf(c, n)) {
			continue
		}
		supplies := circuit.SupplyOutputs(at)
		out = append(out, supplies...)
		if behind[at] && len(supplies) == 0 && c.VoltageStated(at) {
			rails = append(rails, at.Name)
		}
	}
	return out, rails
}

// chemistry is the caution that a cell's note calls for, and whether its words
// settle it.
func chemistry(c *board, p *circuit.Part) (hazard string, settled bool) {
	if h, _ := c.BatteryHazard(p); h != "" {
		return h, true
	}
	kind := ""
	if e := p.Attrs["kind"]; e != nil {
		kind = " " + e.Trimmed()
	}
	hazard, settled, _ = circuit.BatteryOf(p.Title + kind)
	return hazard, settled
}

// chargedBy asks of one charger; shared says why a current or voltage may be
// less than the charger's.
func chargedBy(c *board, cl *eval.Claim, m, by *circuit.Component, shared map[string]*record.OpenPoint) {
	for _, q := range []struct {
		what  string
		names []string
	}{{"current", circuit.ChargeCurrents}, {"voltage", chargeVolts}} {
		does := by.Part.FactNamed("spec", q.names...)
		var bears []string
		for _, section := range []string{"operating", "absmax"} {
			if m.Part != nil && m.Part.FactNamed(section, q.names...) != "" {
				bears = append(bears, section+"."+m.Part.FactNamed(section, q.names...))
			}
		}
		switch {
		case does == "":
			cl.Lacks("no fact", "the charging "+q.what+" of "+by.Label()+" is not noted", "note `spec "+q.names[0]+" = ...` of part "+by.Part.ID)
		case len(bears) == 0:
			cl.Lacks("no fact", "the charging "+q.what+" that "+m.Label()+" withstands is not noted",
				"note it as a part with `operating "+q.names[0]+" = max ...`")
		default:
			for _, limit := range bears {
				tryUnsure(c, cl, by.Ref+".spec."+does+" inside "+m.Ref+"."+limit, shared[q.what])
			}
		}
	}
	if m.Part == nil {
		return
	}
	limit, around := circuit.LimitNamed(m.Part, "T_CHG", "T_CHARGE"), around(c, m)
	switch watch := thermistorAt(c, by); {
	case limit == "":
	case watch != "":
		cl.Settle(record.Passed, "the charger watches the temperature by "+watch)
	case around == "":
		cl.Lacks("no value", "the temperature round "+m.Ref+" is not stated", "`ambient: ...` in the design block, or `in use: T_A = ...` in its row")
	default:
		c.Try(cl, around+" inside "+m.Ref+"."+limit)
	}
}

// thermistorAt names the thermistor on a net of a part, or a cell's own, "" without
// one.
func thermistorAt(c *board, m *circuit.Component) string {
	for _, q := range m.Pins() {
		n := m.PinNets[q]
		if n == nil || c.IsRail(n) {
			continue
		}
		for _, j := range n.Joined {
			if j.Comp.Sort() == "thermistor" || j.Pin != nil && slices.Contains([]string{"NTC", "TH", "T", "TS",
				"TEMP"}, j.Pin.Row.Name) && circuit.IsCell(j.Comp) {
				return j.Name()
			}
		}
	}
	return ""
}

// lineOf are a net and those that beads, fuses, closed switches, resistors of
// 1 Ω or less and the like join to it.
func lineOf(c *board, n *circuit.Net) []*circuit.Net {
	if n == nil {
		return nil
	}
	out := []*circuit.Net{n}
	for i := 0; i < len(out); i++ {
		for _, m := range out[i].Ties {
			if o := m.Opposite(out[i]); o != nil && !m.Unsaid() {
				out = circuit.AddTo(out, o)
			}
		}
		for _, r := range c.ResistorsAt(out[i]) {
			if s := sizesOf(c, r.Comp); c.ValueOf(r.Comp).IsNumber(circuit.DimOhm) && s.known &&
				s.nominal <= 1 && circuit.IsReturn(out[i]) == circuit.IsReturn(r.Other) {
				out = circuit.AddTo(out, r.Other)
			}
		}
	}
	return out
}
