package checks

import (
	"strings"

	"slices"

	"guardband/eval"
	"guardband/eval/circuit"
	"guardband/eval/record"
)

// absoluteMaximum asks that whatever the notes state of a part's use lies
// inside its absolute maximum ratings.
var absoluteMaximum = &eval.Check{
	Name:       "absmax",
	Withstands: true,
	Rule:       "What a part is exposed to stays inside its absolute maximum ratings. Staying inside them does not permit operation there.",
	Source:     "JEDEC JESD99 (maximum rating); common practice",
	Run: on(func(c *board, b *eval.Check) {
		limitsOfUse(c, b, "absmax", "stays inside the absolute maximum rating")
		missingRatings(c, b)
		plainFuses(c, b)
	}),
}

// neededRatings are those that no part of a kind is safe to use without.
var neededRatings = []struct {
	of    func(*circuit.Component) bool
	names []string
}{
	{isField, []string{"V_DS", "V_DSS"}}, {isField, []string{"V_GS", "V_GSS"}},
	{isBipolar, []string{"V_CE", "V_CEO", "V_CES"}}, {isBipolar, []string{"I_C"}},
	{ofKind("Zener diode"), []string{"P", "P_D", "P_TOT", "P_V", "I_Z", "I_ZM", "I_K", "I_KA"}},
	{ofKind("fuse"), []string{"I", "I_N", "I_R", "I_RATED", "I_MAX", "I_HOLD", "I_H", "I_DC"}},
}

func isField(m *circuit.Component) bool   { return m.IsTransistor() && m.End("G", "GATE") != nil }
func isBipolar(m *circuit.Component) bool { return m.IsTransistor() && m.End("B", "BASE") != nil }

// missingRatings opens what nobody noted of such parts.
func missingRatings(c *board, b *eval.Check) {
	for _, m := range c.PlacedParts() {
		for _, r := range neededRatings {
			if _, option := m.Option(circuit.DimAmpere); !r.of(m) || circuit.LimitNamed(m.Part, r.names...) != "" ||
				m.Part.FactNamed("spec", r.names...) != "" || option && m.Sort() == "fuse" {
				continue
			}
			cl := c.Claim(b, m.Ref+"."+r.names[0], r.names[0]+" of "+m.Label()+" stays inside its rating.", m.Entry)
			cl.Lacks("no fact", "no rating of "+r.names[0]+" is noted for part "+m.Part.ID, "note `absmax "+r.names[0]+" = max ...`")
		}
	}
}

// plainFuses asks that fuses without a note, whose row states a rating, bear
// their current.
func plainFuses(c *board, b *eval.Check) {
	for _, m := range c.Comps.List {
		if m.Part != nil || m.Kind != "fuse" || m.NotFitted() {
			continue
		}
		most, rated := m.Option(circuit.DimAmpere)
		if a := circuit.ReadAsked(m.Row.Value.S); !rated && a.Ok && a.Dim == circuit.DimAmpere {
			most, rated = strings.TrimSpace(m.Row.Value.S), true
		}
		if through := useStress("I", false)(c, m); rated && len(through) > 0 {
			cl := c.Claim(b, m.Ref+".I", "The current of "+m.Ref+" stays inside the rating of its row.", m.Entry)
			c.Try(cl, through[0].text+" <= "+most)
		}
	}
}

// limitsOfUse makes a claim for each limit of a section whose subject the
// notes state: the voltage of a pin's net, the ambient temperature, a
// condition of use.
func limitsOfUse(c *board, b *eval.Check, section, says string) {
	for _, m := range c.PlacedParts() {
		done := map[string]bool{}
		for _, f := range m.Part.FactOrder {
			if f.Section != section || eval.SeenBefore(done, f.Name, selectorKey(f)) {
				continue
			}
			if len(f.Selectors) > 0 {
				limitOfPins(c, b, m, f, says)
				continue
			}
			limitOfUse(c, b, m, f, says, done)
		}
	}
}

func selectorKey(f *circuit.Fact) string {
	s := ""
	for _, x := range f.Selectors {
		s += x + ","
	}
	return s
}

// ambientNames are those that sheets give the temperature of operation, besides
// T_A; a part is stored at no less.
var ambientNames = []string{"T_OPR", "T_OP", "T_OPER", "T_AMB", "T_a", "T_STG", "T_STORAGE"}

// limitOfUse judges a limit of the part as a whole.
func limitOfUse(c *board, b *eval.Check, m *circuit.Component, f *circuit.Fact, says string, done map[string]bool) {
	pins := 0
	for _, q := range m.Pins() {
		if name, ok := m.LimitFor(f.Section, q); !ok || name != f.Name {
			continue
		}
		pins++
		n := m.PinNets[q]
		supply, conditions := q.Row.Type == "supply", b.Name == "conditions"
		brought := conditions && isExposed(q) && !q.Drives() && n != nil && fedFrom(c, n)
		if n == nil || !c.VoltageKnown(n) && !(supply && c.VoltageTold(n)) && !brought ||
			conditions && supply || eval.SeenBefore(done, f.Name, "net", n.Name) {
			continue
		}
		cl := c.Claim(b, subjects(m)[q], "The voltage at "+q.Row.Name+" of "+m.Label()+" "+says+".", f.Rows[0])
		if c.VoltageKnown(n) || supply {
			askPin(c, cl, n, m, f.Section, f.Name, q.Row.Name)
		} else {
			askFed(c, cl, n, circuit.Joint{Comp: m, Pin: q}, f.Section, f.Name)
		}
	}
	if pins > 0 {
		return
	}
	y, use := c.Use(m, f.Name)
	if y == nil && slices.ContainsFunc(ambientNames, func(s string) bool { return circuit.SameSymbol(s, f.Name) }) {
		y, use = c.Use(m, "T_A")
	}
	if limit := c.FactText(m, f.Section, f.Name, ""); y == nil && circuit.SameSymbol(f.Name, "T_J") && around(c, m) != "" &&
		c.Judged(around(c, m)+" <= "+limit+".max", func(*eval.Criterion) {}) == record.Failed { // a junction is no colder
		c.Try(c.Claim(b, m.Ref+"."+f.Name, f.Name+" of "+m.Label()+" "+says+".", f.Rows[0]), around(c, m)+" <= "+limit+".max")
		return
	}
	if y == nil {
		limitOfStress(c, b, m, f, says)
		return
	}
	cl := c.Claim(b, m.Ref+"."+f.Name, f.Name+" of "+m.Label()+" "+says+".", f.Rows[0])
	askInside(c, cl, use, m, f.Section, f.Name, "")
	if stressOf(c, m, f.Name) != nil {
		if k, _ := derating(c, cl, m, ratedKind(m)); k != "" {
			c.Try(cl, "abs("+use+") <= "+k+c.FactText(m, f.Section, f.Name, "")+".max")
		}
	}
	if all := toldOf(c, m, f.Name); use != "ambient" { // the wider of both
		for _, t := range all {
			if t.text == "ambient" {
				askInside(c, cl, t.text, m, f.Section, f.Name, "")
			} else if peak := c.ToldLoad(m, f.Name); peak != "" && circuit.StatedOf(m, f.Name) != peak {
				askInside(c, cl, peak, m, f.Section, f.Name, "")
			}
		}
	}
}

// limitOfPins judges a limit of a pin group at every pin it speaks of.
func limitOfPins(c *board, b *eval.Check, m *circuit.Component, f *circuit.Fact, says string) {
	names := subjects(m)
	for _, q := range m.Pins() {
		n := m.PinNets[q]
		if n == nil || !c.VoltageKnown(n) {
			continue
		}
		if def, _ := m.Part.Choose(f.Section, f.Name, q.Row.Name); def != f {
			continue
		}
		cl := c.Claim(b, names[q], "The voltage at "+q.Row.Name+" of "+m.Label()+" "+says+".", f.Rows[0])
		askPin(c, cl, n, m, f.Section, f.Name, q.Row.Name)
	}
}
