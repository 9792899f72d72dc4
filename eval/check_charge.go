package eval

import (
	"slices"
	"strings"

	"guardband/eval/record"
)

// chargeLimits asks that a charger does to its cell what the cell bears.
var chargeLimits = &builtin{
	name: "charge",
	rule: "What charges a cell (a part that notes a charging current I_CHG or voltage V_CHG, V_FLOAT, V_REG, on the net of its positive end) stays within I_CHG and V_CHG of the cell, of which the operating limits count, " +
		"else the maximum ratings. Where the cell notes T_CHG and no thermistor stands at the charger, the surroundings stay within it. A cell that must not be charged has neither a charger nor the output of a supply on its net. A cell turned round is told too.",
	source: "common practice; limits of the cell's own sheet",
	run: func(c *compiler, b *builtin) {
		for _, m := range c.comps.list {
			if !m.notFitted() && m.isCell() {
				c.cellClaim(b, m)
			}
		}
	},
}

// The symbols that the trade gives to what a charger does and a cell bears.
var (
	chargeCurrents = []string{"I_CHG", "I_CHRG", "I_CHARGE", "I_FAST"}
	chargeVolts    = []string{"V_CHG", "V_FLOAT", "V_CHARGE", "V_BATREG", "V_REG"}
)

// isCell says that a component is a cell or battery: by its kind, or because it
// is no circuit and notes how it may be charged, or by its title and poles.
func (m *component) isCell() bool {
	if k := m.sort(); k == "cell" || k == "battery" {
		return true
	}
	if m.part == nil || m.part.hasSupply() {
		return false
	}
	_, _, poles := m.poles()
	hazard, _, _ := batteryOf(m.part.title)
	return m.part.limitNamed(append(chargeCurrents, "V_CHG", "V_CHARGE")...) != "" || poles && hazard != ""
}

// limitNamed names the first limit of a part under one of some names,
// operating ones first, with its section.
func (p *part) limitNamed(names ...string) string {
	for _, s := range []string{"operating", "absmax"} {
		if n := p.factNamed(s, names...); n != "" {
			return s + "." + n
		}
	}
	return ""
}

// isCharger says that a part charges a cell on one of its pins.
func (m *component) isCharger() bool {
	return m.part != nil && m.part.hasSupply() && (m.part.factNamed("spec", append(chargeCurrents, "V_FLOAT", "V_CHG")...) != "" ||
		strings.Contains(strings.ToLower(m.part.title), "charger"))
}

func (c *compiler) cellClaim(b *builtin, m *component) {
	plus, minus, named := m.poles()
	if a, z, ok := m.ends(); !named && ok {
		if plus = a; isReturn(a) {
			plus = z
		}
	}
	var chargers, feeders []joint
	cells := 0
	for _, n := range c.lineOf(plus) {
		for _, j := range n.joined {
			if j.comp.isCell() && j.comp.opposite(n) != nil {
				cells++
			}
		}
		for _, j := range n.pinsOf() {
			switch {
			case j.pin.row.Type == "supply" || samePart(append(chargers, feeders...), j):
			case j.comp.isCharger():
				chargers = append(chargers, j)
			case j.pin.row.Type == "supply output":
				feeders = append(feeders, j)
			}
		}
	}
	turned := named && c.voltageStated(plus) && c.voltageStated(minus)
	if len(chargers)+len(feeders) == 0 && !turned {
		return
	}
	cl := c.builtClaim(b, m.ref, "Cell "+m.label()+" stands the right way round and is charged as it may be.", m.entry)
	if turned {
		c.try(cl, c.difference(plus, minus)+" >= 0 V")
	}
	if all := append(chargers, feeders...); len(all) > 0 && m.part != nil {
		switch hazard, settled := c.chemistry(m.part); {
		case hazard != primaryLithium && hazard != primaryCell:
		case settled:
			cl.settle(record.Failed, pinNames(all)+" may drive a current into "+m.ref+", a cell that must not be charged")
		default:
			cl.lacks("no fact", "it is not noted whether "+m.ref+" may be charged, and "+pinNames(all)+" may drive a current into it", "note its chemistry: `hazard: lithium-ion battery` and the like")
		}
	}
	several := map[string]*record.OpenPoint{}
	if cells > 1 {
		several["current"] = &record.OpenPoint{Reason: "no fact", Text: "how the cells on " + plus.name + " share the charging current is not known", Settle: "skip this check with the reason"}
	}
	shunted := minus != nil && slices.ContainsFunc(c.resistorsAt(minus), func(r resistor) bool { return isReturn(r.other) })
	if minus != nil && !shunted && !slices.ContainsFunc(c.lineOf(minus), isReturn) {
		several["voltage"] = &record.OpenPoint{Reason: "no fact", Text: m.ref + " stands in series with others, and its share of the charging voltage is not known", Settle: "note the cells as one part"}
	}
	for _, j := range chargers {
		c.chargedBy(cl, m, j.comp, several)
	}
}

// chemistry is the caution that a cell's note calls for, and whether its words
// settle it.
func (c *compiler) chemistry(p *part) (hazard string, settled bool) {
	if h, _ := c.batteryHazardOf(p); h != "" {
		return h, true
	}
	kind := ""
	if e := p.attrs["kind"]; e != nil {
		kind = " " + value(e)
	}
	hazard, settled, _ = batteryOf(p.title + kind)
	return hazard, settled
}

// chargedBy asks of one charger; shared says why a current or voltage may be
// less than the charger's.
func (c *compiler) chargedBy(cl *claim, m, by *component, shared map[string]*record.OpenPoint) {
	for _, q := range []struct {
		what  string
		names []string
	}{{"current", chargeCurrents}, {"voltage", chargeVolts}} {
		does := by.part.factNamed("spec", q.names...)
		bears := ""
		if m.part != nil {
			bears = m.part.limitNamed(q.names...)
		}
		switch {
		case does == "":
			cl.lacks("no fact", "the charging "+q.what+" of "+by.label()+" is not noted", "note `spec "+q.names[0]+" = ...` of part "+by.part.id)
		case bears == "":
			cl.lacks("no fact", "the charging "+q.what+" that "+m.label()+" bears is not noted", "note it as a part with `operating "+q.names[0]+" = max ...`")
		default:
			c.tryUnsure(cl, by.ref+".spec."+does+" <= "+m.ref+"."+bears+".max", shared[q.what])
		}
	}
	if m.part == nil {
		return
	}
	limit, around := m.part.limitNamed("T_CHG", "T_CHARGE"), c.around(m)
	switch watch := c.thermistorAt(by); {
	case limit == "":
	case watch != "":
		cl.settle(record.Passed, "the charger watches the temperature by "+watch)
	case around == "":
		cl.lacks("no value", "the temperature round "+m.ref+" is not stated", "`ambient: ...` in the design block, or `in use: T_A = ...` in its row")
	default:
		c.try(cl, around+" inside "+m.ref+"."+limit)
	}
}

// thermistorAt names the thermistor on a net of a part, or a cell's own, "" without
// one.
func (c *compiler) thermistorAt(m *component) string {
	for _, q := range m.part.pins {
		n := m.pinNets[q]
		if n == nil || c.isRail(n) {
			continue
		}
		for _, j := range n.joined {
			if j.comp.sort() == "thermistor" || j.pin != nil && slices.Contains([]string{"NTC", "TH", "T", "TS", "TEMP"}, j.pin.row.Name) && j.comp.isCell() {
				return j.name()
			}
		}
	}
	return ""
}

// lineOf are a net and those that beads, fuses, closed switches, resistors of
// 1 Ω or less and the like join to it.
func (c *compiler) lineOf(n *net) []*net {
	if n == nil {
		return nil
	}
	out := []*net{n}
	for i := 0; i < len(out); i++ {
		for _, m := range out[i].ties {
			if o := m.opposite(out[i]); o != nil && !m.unsaid() {
				out = addNet(out, o)
			}
		}
		for _, r := range c.resistorsAt(out[i]) {
			if s := c.sizesOf(r.comp); c.ohms(r.comp) && s.known && s.nominal <= 1 && isReturn(out[i]) == isReturn(r.other) {
				out = addNet(out, r.other)
			}
		}
	}
	return out
}
