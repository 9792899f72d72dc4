package eval

import (
	"math"
	"strings"
)

// gateDrive asks that the gate of a transistor gets the voltage at which its
// resistance is stated, and no more than it bears.
var gateDrive = &builtin{
	name: "gate-drive",
	rule: "The gate-source voltage (`in use: V_GS = ...`, else the difference of the nets of gate and source) reaches the one at which a row of R_DSon is stated, and stays within the limit of V_GS. " +
		"The threshold voltage says nothing about the resistance. A row at one voltage is taken to hold for more of it.",
	source: "common practice; conditions of the part's own sheet",
	run: func(c *compiler, b *builtin) {
		for _, m := range c.placedParts() {
			if m.part.factNamed("spec", "R_DSon", "R_DS_on", "R_DSON", "R_ON") == "" || m.end("G", "GATE") == nil {
				continue
			}
			c.gate(b, m)
		}
	},
}

func (c *compiler) gate(b *builtin, m *component) {
	cl := c.builtClaim(b, m.ref, "The gate of "+m.label()+" gets the voltage at which its resistance is stated.", m.entry)
	drive := ""
	if use := m.useNamed("V_GS"); use != "" {
		drive = m.ref + ".use." + use
	} else if g, s := m.end("G", "GATE"), m.end("S", "SOURCE"); g != nil && s != nil && c.voltageKnown(g) && c.voltageKnown(s) {
		drive = c.difference(g, s)
		if limit := m.part.factNamed("absmax", "V_GS", "V_GSS"); limit != "" && !c.openEnded(cl, m, "absmax", limit, "") {
			c.try(cl, drive+" inside "+m.ref+".absmax."+limit)
		}
	}
	if drive == "" {
		cl.lacks("no value", "the gate-source voltage of "+m.ref+" when it is on is not known", "state `in use: V_GS = ...` in its row")
		return
	}
	asks := gateRows(m.part, drive)
	if len(asks) == 0 {
		cl.lacks("no fact", "no row of the resistance of part "+m.part.id+" says at which V_GS it holds", "note `spec R_DSon = max ... at V_GS >= 2.5 V`")
		return
	}
	if c.try(cl, strings.Join(asks, " or ")) {
		for _, f := range m.part.factOrder {
			if isOnResistance(f.name) {
				cl.entries = append(cl.entries, f.rows...)
			}
		}
	}
}

func isOnResistance(name string) bool {
	return sameSymbol(name, "R_DSon") || sameSymbol(name, "R_DSON") || sameSymbol(name, "R_ON")
}

// gateRows spells that the drive reaches the condition of a row of the
// resistance: upwards for a positive voltage, downwards for a negative one. Of
// several rows the easiest decides, as one row met is enough.
func gateRows(p *part, drive string) []string {
	var inside []string
	best, easiest := "", math.Inf(1)
	for _, f := range p.factOrder {
		if f.section != "spec" || !isOnResistance(f.name) {
			continue
		}
		for _, e := range f.rows {
			for _, k := range e.Conds {
				a := readAsked(k.Value.S)
				op := k.Op
				switch {
				case k.Name != "V_GS":
					continue
				case a.nominal == "":
					inside = append(inside, drive+" inside "+strings.TrimSpace(k.Value.S))
					continue
				case op == "=" && a.nom < 0:
					op = "<="
				case op == "=":
					op = ">="
				}
				if math.Abs(a.nom) < easiest {
					best, easiest = drive+" "+op+" "+a.nominal, math.Abs(a.nom)
				}
			}
		}
	}
	if best != "" {
		return []string{best}
	}
	return inside
}
