package checks

import (
	"guardband/eval"
	"guardband/eval/circuit"
)

// capacitorVoltage asks that no capacitor sees more than its rated voltage.
var capacitorVoltage = &eval.Check{
	Name:       "capacitor-voltage",
	Withstands: true,
	Rule: "The highest voltage across each capacitor stays within its rated voltage times the derating asked. " +
		"One with a polarity (ends named + and -, P and N or A and K; electrolytic, tantalum, polymer; a note whose V_R has a min) gets it the right way round. " +
		"Where a net states no voltage it is worked out from the circuit, in every state of what drives it. The rating is the note's V_R, or an option of the row (16 V); `in use: V = ...` states what the capacitor sees where the circuit does not determine it.",
	Source: "common practice; IEC 60384-1 (rated voltage)",
	Run: on(func(c *board, b *eval.Check) {
		l := &unknowns{}
		for _, m := range c.Comps.List {
			if m.NotFitted() || m.Sort() != "capacitor" {
				continue
			}
			limit, ok := rated(m, circuit.Volt.Dim, ratedVolts...)
			if !ok {
				l.refs = append(l.refs, m.Ref)
				continue
			}
			turns := ""
			if oneWay(m) {
				turns = " and is the right way round"
			}
			cl := c.Claim(b, m.Ref, "Capacitor "+m.Ref+" stays within its rated voltage"+turns+".", m.Entry)
			ratedAt85(c, cl, m, limit)
			if across := mostOn(c, cl, m); across == "" {
				cl.Lacks("no value", "the two nets of "+m.Ref+" are not known", "state `in use: V = ...` in its row")
			} else if k, _ := derating(c, cl, m, "capacitor"); c.Try(cl, "abs("+across+") <= "+k+limit.text) && oneWay(m) {
				rightWayRound(c, cl, m)
			}
		}
		l.tell(c, b, "rating", "Each capacitor states its rated voltage.", "no rated voltage is known for ",
			"note `absmax V_R` of the part, or give the row a rating: `capacitor 100 nF, 16 V`")
	}),
}

// ratedVolts are the symbols of the trade for the rated voltage of a capacitor.
var ratedVolts = []string{"V_R", "V_RATED", "V_N", "V_DC", "V_AC", "V_C"}

// rightWayRound asks that a capacitor with a polarity sees no more in reverse
// than its note allows, else nothing.
func rightWayRound(c *board, cl *eval.Claim, m *circuit.Component) {
	least := reverseLimit(m)
	if least == "" {
		least = "0 V"
	}
	if use := m.UseNamed("V", "V_R", "V_DC", "V_AC"); use != "" {
		for _, k := range m.Row.InUse {
			if k.Name == use && k.Op != "<=" { // with an upper end alone nothing is said of the other
				c.Try(cl, m.Ref+".use."+use+" >= "+least)
			}
		}
		return
	}
	plus, minus, ok := m.Poles()
	if !ok {
		settle := "name its ends in the row, P the positive one: `P=... N=...`"
		if m.Part != nil {
			settle = "name its pins + and - (or P and N) in part " + m.Part.ID
		}
		cl.Lacks("no fact", m.Ref+" has a polarity, and which of its ends is the positive one is not noted", settle)
		return
	}
	c.Try(cl, c.Difference(plus, minus)+" >= "+least)
}

// ratedAt85 opens a claim where a capacitor whose voltage is rated up to 85 °C
// may be warmer (rated and category temperature of IEC 60384-1; that these makes
// end at 85 °C is common practice), and the note does not state it by temperature.
func ratedAt85(c *board, cl *eval.Claim, m *circuit.Component, limit rating) {
	around := around(c, m)
	if around == "" || !m.Says("tantalum", "film") || byTemperature(c, m, limit) || c.AtMost(around+" - 85 °C") {
		return
	}
	cl.Lacks("no fact", "it may be warmer than 85 °C, up to which the voltage of such a capacitor is usually rated",
		"note the rating by temperature: `absmax V_R = max 10 V at T_A <= 105 °C`")
}
