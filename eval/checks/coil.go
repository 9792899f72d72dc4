package checks

import (
	"strings"

	"guardband/eval"
	"guardband/eval/circuit"
	"guardband/units"
)

// coilPullIn asks that a relay pulls in when its coil is hot.
var coilPullIn = &eval.Check{
	Name: "coil",
	Rule: "A relay whose note has a pull-in voltage (V_OP, V_PULL_IN) and a coil resistance (R_COIL) gets that voltage at the temperature of its copper: V · (234.5 + T) / (234.5 + T₀), T₀ from `ref T = ...` of the fact (20 °C without). " +
		"T is `in use: T_COIL = ...`, else the ambient temperature and the coil's own heating V² / R_COIL · R_TH. The coil sees what the circuit makes of it, in one state at least.",
	Source: "IEC 60034-1 (resistance of copper); 234.5 for annealed copper, common practice",
	Run: on(func(c *board, b *eval.Check) {
		for _, m := range c.PlacedParts() {
			op, r := m.Part.FactNamed("spec", "V_OP", "V_PULL_IN", "V_PI"), m.Part.FactNamed("spec", "R_COIL", "R_C")
			if r != "" && op == "" && m.Says("relay", "contactor") {
				c.Claim(b, m.Ref, "Relay "+m.Label()+" pulls in.", m.Entry).Lacks("no fact",
					"no pull-in voltage is noted for part "+m.Part.ID, "note `spec V_OP = max ...`")
			} else if op != "" && r != "" {
				coil(c, b, m, op, r)
			}
		}
	}),
}

func coil(c *board, b *eval.Check, m *circuit.Component, op, resistance string) {
	cl := c.Claim(b, m.Ref, "Relay "+m.Label()+" pulls in with a hot coil at the lowest supply.", m.Entry)
	one, two := m.CoilEnds()
	if one == nil || two == nil {
		cl.Lacks("no fact", "which pins of "+m.Ref+" are its coil is not noted", "name them A1 and A2 in part "+m.Part.ID)
		return
	}
	v, r := "abs("+m.Ref+".use.V)", m.Ref+"."+resistance
	t := ""
	if use := m.UseNamed("T_COIL"); use != "" {
		t = m.Ref + ".use." + use
	} else if around := around(c, m); around == "" {
		cl.Lacks("no value", "the ambient temperature is not stated", "`ambient: ...` in the design block, or `in use: T_COIL = ...`")
		return
	} else if heat := m.Part.FactNamed("spec", "R_TH", "R_TH_COIL", "R_θ"); heat != "" {
		t = "(" + around + " + " + v + "^2 / " + r + " * " + m.Ref + "." + heat + ")"
	} else { // what does not pull in cold does not when it is hot
		cl.Lacks("no fact", "no thermal resistance of the coil is noted for part "+m.Part.ID,
			"note `spec R_TH = ...`, or state `in use: T_COIL = ...`")
		t = around
	}
	ref, why := coilReference(m.Part, op)
	if why != "" {
		cl.Presume(why)
	}
	presumeResting(c.ReachOf(one), cl)
	presumeResting(c.ReachOf(two), cl)
	if limit := m.Part.FactNamed("absmax", "T_COIL"); limit != "" && m.UseNamed("T_COIL") == "" {
		askOf(c, cl, t+" <= "+m.Ref+".absmax."+limit+".max", free)
	}
	askOf(c, cl, v+" >= "+m.Ref+"."+op+" * ("+t+" - -234.5 °C) / ("+ref+" - -234.5 °C)", func(k *eval.Criterion) {
		free(k)
		k.Once = "no state of the circuit brings the coil of " + m.Ref + " so far"
	})
}

// coilReference is the temperature the pull-in voltage is stated for.
func coilReference(p *circuit.Part, op string) (text, presumed string) {
	for _, e := range p.RowsOf("spec", op) {
		if e.RefName == "" {
			continue
		}
		t := strings.TrimSpace(e.RefValue.S)
		if q, err := units.ParseLiteral(t); err == nil && q.Type.Kind == units.Point {
			return t, ""
		}
	}
	return "20 °C", "the pull-in voltage of part " + p.ID + " is stated for a coil at 20 °C (the note gives no `ref T`)"
}
