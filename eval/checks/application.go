package checks

import (
	"fmt"
	"strings"

	"guardband/eval"
	"guardband/eval/circuit"
	"guardband/eval/record"
	"guardband/notebook"
	"guardband/units"
)

// application asks that each need of an application circuit is met by a part
// of its own that stands between the nets of its pins.
var application = &eval.Check{
	Name: "application",
	Rule: "Between the nets of the two pins is a part of the kind required, one for each requirement. A range or a least value is for what is left in use: " +
		"value with tolerance, times the change over temperature (fact dC_T, or the class of the row), times what bias leaves (KEPT, or `retention 62 %`), times what age leaves (AGED). " +
		"One value alone is the nominal value drawn: at a supply pin up to ten times as much will do as well, elsewhere it is that value. The upper end of a regulator's output capacitance counts everything on the output.",
	Source: "common practice; application circuit of the part's own sheet; EIA-198 (temperature classes)",
	Run: on(func(c *board, b *eval.Check) {
		needs := needsOf(c)
		match(c, needs)
		count := map[string]int{}
		for _, n := range needs {
			if n.pin != nil {
				continue
			}
			id := n.m.Ref + "." + n.row.A
			if count[id]++; count[id] > 1 {
				id = fmt.Sprintf("%s-%d", id, count[id])
			}
			needClaim(c, b, id, n)
		}
		decouplingClaims(c, needs)
	}),
}

func needClaim(c *board, b *eval.Check, id string, n *need) {
	text := strings.Join(strings.Fields(n.entry.Text.S), " ")
	if i := strings.IndexByte(text, '['); i > 0 {
		text = strings.TrimSpace(text[:i])
	}
	cl := c.Claim(b, id, "The external part required by "+n.m.Label()+" is fitted: "+text+".", n.entry)
	switch {
	case n.bad != "":
		cl.Lacks("no fact", n.bad, "join the pin, or name its net in the row")
	case n.a == n.b && (n.row.Kind == "link" || n.linked() != nil):
		cl.Settle(record.Passed, "both pins are on "+n.a.Name+n.a.ByLinks())
	case n.a == n.b:
		cl.Settle(record.Failed, "both pins are on "+n.a.Name+", so nothing can be between them")
	case n.met == nil && seriesBranch(c, n) != "":
		cl.Lacks("no fact", seriesBranch(c, n)+", and whether that is as good as one between "+n.a.Name+" and "+n.b.Name+" is not worked out",
			"skip this check with the reason, such as the series resistance that the sheet requires")
	case n.met == nil:
		cl.Settle(record.Failed, fmt.Sprintf("there is no suitable %s of its own between %s and %s%s", n.row.Kind,
			n.a.Name, n.b.Name, whatStands(c, n)))
	default:
		cl.Entries = append(cl.Entries, n.met.Entry)
		needMet(c, cl, n)
		c.Meet(n.entry, n.met.Ref)
	}
}

// whatStands says which parts of the kind do stand there.
func whatStands(c *board, n *need) string {
	var l []string
	for _, m := range c.View().Between[circuit.PairOf(n.a, n.b)] {
		if !kindFits(n.row.Kind, m.Sort()) {
			continue
		}
		s := m.Ref
		if t := strings.TrimSpace(m.Row.Value.S); t != "" {
			s += " " + t
		}
		if o := c.View().Claimed[m]; o != nil {
			s += " (serves " + o.Ref + ")"
		} else if z := sizesOf(c, m); n.decouples() && !n.ask.Ok && z.known && z.nominal < leastDecoupling {
			s += " (below 1 nF, decouples nothing)"
		}
		if l = append(l, s); len(l) == 6 {
			l = append(l, "...")
			break
		}
	}
	if len(l) == 0 {
		return ""
	}
	return "; there are " + strings.Join(l, ", ")
}

// needMet proves that the part chosen is what the row asks for.
func needMet(c *board, cl *eval.Claim, n *need) {
	m := n.met
	for i, x := range n.row.Needs {
		a := circuit.ReadAsked(x.Value.S)
		switch {
		case x.Value.Empty() && n.decouples():
			decoupled(c, cl, n)
		case x.Value.Empty():
			cl.Settle(record.Passed, m.Ref+" is between "+n.a.Name+" and "+n.b.Name)
		case !a.Ok:
			askedWord(c, cl, m, strings.TrimSpace(x.Value.S))
		case x.Name != "" && !isValueName(x.Name):
			askedFact(c, cl, n, x, a)
		case i > 0 || a.Dim == circuit.Volt.Dim:
			askedRating(c, cl, m, a)
		default:
			askedValue(c, cl, n, a)
		}
	}
	switch {
	case len(n.row.Needs) > 0:
	case n.decouples():
		decoupled(c, cl, n)
	default:
		cl.Settle(record.Passed, m.Ref+" is between "+n.a.Name+" and "+n.b.Name)
	}
}

func isValueName(s string) bool { return s == "C" || s == "R" || s == "L" }

// askedWord compares a class or another word with the options of the row.
func askedWord(c *board, cl *eval.Claim, m *circuit.Component, word string) {
	for _, o := range m.Row.Options {
		if strings.TrimSpace(o.S) == word {
			cl.Settle(record.Passed, m.Ref+" is "+word)
			return
		}
	}
	cl.Lacks("no fact", "whether "+m.Ref+" is `"+word+"` is not stated", "give the row of "+m.Ref+" the option `"+word+"`")
}

// askedFact compares a further quantity, such as ESR, with a fact of the part
// or an option of its row ("ESR 5 mΩ" is its largest).
func askedFact(c *board, cl *eval.Claim, n *need, x notebook.Need, a circuit.Asked) {
	m := n.met
	if m.Sort() == "capacitor" && x.Name == "ESR" && askedBank(c, cl, n, x.Name, a) {
		if a.Low, a.Lo = "", 0; a.High == "" {
			return
		}
	}
	if m.Part != nil {
		if f := m.Part.FactNamed("spec", x.Name); f != "" {
			askWithin(c, cl, m.Ref+"."+f, m.Ref+"."+f, a)
			return
		}
	}
	o := circuit.ReadAsked(m.OptionNamed(x.Name))
	switch {
	case !o.Ok || o.Dim != a.Dim:
		cl.Lacks("no fact", x.Name+" of "+m.Ref+" is not stated", "note it in the part, or give the row the option `"+x.Name+" max ...`")
		return
	case a.Nominal != "":
		cl.Lacks("no fact", "whether "+x.Name+" "+a.Nominal+" is the most or the least that may be is not noted",
			"write `"+x.Name+" max ...` or `min ...` in the application circuit")
		return
	case o.Nominal != "":
		o.High, o.Hi = o.Nominal, o.Nom
	}
	v := figureAtMost(o, a)
	if w := figureAtLeast(o, a); w == record.Failed || v == record.Passed {
		v = w
	}
	switch says := x.Name + " of " + m.Ref + " is " + m.OptionNamed(x.Name); v {
	case record.Open:
		cl.Lacks("no fact", says+", asked is "+a.Words(), "give both of its ends: `"+x.Name+" 0.1 Ω to 0.5 Ω`, in its unit")
	case record.Failed:
		cl.Settle(v, says+", asked is "+a.Words())
	default:
		cl.Settle(v, says+", as asked")
	}
}

// figureAtMost compares what is stated with the most that is asked for.
func figureAtMost(o circuit.Asked, a circuit.Asked) record.Verdict {
	switch {
	case a.High == "", o.High != "" && o.Hi <= a.Hi:
		return record.Passed
	case o.High != "", o.Low != "" && o.Lo > a.Hi:
		return record.Failed
	}
	return record.Open
}

// figureAtLeast compares what is stated with the least that is asked for.
func figureAtLeast(o circuit.Asked, a circuit.Asked) record.Verdict {
	switch {
	case a.Low == "" || a.Lo <= 0, o.Low != "" && o.Lo >= a.Lo:
		return record.Passed
	case o.Low != "", o.High != "" && o.Hi < a.Lo:
		return record.Failed
	}
	return record.Open
}

// askedRating compares a rated voltage.
func askedRating(c *board, cl *eval.Claim, m *circuit.Component, a circuit.Asked) {
	r, ok := rated(m, a.Dim, "V_R", "V_RATED", "V_DC", "V_RRM", "V_LIM")
	if !ok {
		cl.Lacks("no fact", "the rated voltage of "+m.Ref+" is not stated", "note `absmax V_R`, or give the row a rating")
		return
	}
	least, text := a.Lo, a.Low
	if a.Nominal != "" {
		least, text = a.Nom, a.Nominal
	}
	if q, err := units.ParseLiteral(r.text); err == nil { // an option of the row
		v := record.Passed
		if units.Float(q.SI) < least {
			v = record.Failed
		}
		cl.Settle(v, m.Ref+" is rated "+r.text+", asked is "+text)
		return
	}
	c.Try(cl, r.text+" >= "+text)
}

// askedValue compares the value itself.
func askedValue(c *board, cl *eval.Claim, n *need, a circuit.Asked) {
	m := n.met
	if a.Nominal != "" {
		askedNominal(c, cl, n, a)
		return
	}
	low, high := m.Ref, m.Ref
	if m.Sort() == "capacitor" {
		e := effectiveOf(c, m)
		low, high = e.low, e.high
		if a.Low != "" {
			for _, p := range e.lacks {
				cl.Lacks(p.Reason, p.Text, p.Settle)
			}
		}
		if e.presumed != "" {
			cl.Presume(e.presumed)
		}
		classHolds(c, cl, m, e)
	}
	if a.Low != "" {
		c.Try(cl, low+" >= "+a.Low)
	}
	if a.High == "" {
		return
	}
	if m.Sort() == "capacitor" && n.onOutput() {
		high = sumOf(c, cl, n, high)
	}
	c.Try(cl, high+" <= "+a.High)
}

// askedNominal compares the nominal value with the one drawn.
func askedNominal(c *board, cl *eval.Claim, n *need, a circuit.Asked) {
	s := sizesOf(c, n.met)
	text := valueText(n.met)
	switch {
	case !s.known:
		cl.Lacks("no fact", "the value of "+n.met.Ref+" is not stated", "give its row a value")
	case n.suits(s) == 2 && s.nominal > a.Nom*(1+1e-9):
		cl.Settle(record.Passed, n.met.Ref+" ("+text+") is at least the "+a.Nominal+" drawn")
	case n.suits(s) == 2:
		cl.Settle(record.Passed, n.met.Ref+" ("+text+") is the "+a.Nominal+" drawn")
	case n.suits(s) == 1:
		cl.Lacks("no fact", n.met.Ref+" is "+text+", more than ten times the "+a.Nominal+
			" drawn, and whether it is as good at high frequencies is not known",
			"place the "+a.Nominal+", or write `capacitor min "+a.Nominal+"` in the application circuit where the sheet lets it be more")
	default:
		cl.Settle(record.Failed, n.met.Ref+" is "+text+", drawn is "+a.Nominal)
	}
}

// valueText is the value of a row as typed, of a part with notes its title.
func valueText(m *circuit.Component) string {
	if m.Part != nil {
		return m.Part.Title
	}
	return strings.TrimSpace(m.Row.Value.S)
}

// classHolds asks that the surroundings stay where the class of the capacitor
// is stated.
func classHolds(c *board, cl *eval.Claim, m *circuit.Component, e effective) {
	if e.inside == "" {
		return
	}
	if use := m.UseNamed("T_A"); use != "" {
		c.Try(cl, m.Ref+".use."+use+" inside "+e.inside)
	} else if c.Ambient() {
		c.Try(cl, "ambient inside "+e.inside)
	} else {
		cl.Lacks("no value", "the ambient temperature is not stated", "`ambient: -20 °C to 50 °C` in the design block")
	}
}

// onOutput says that a need stands at a supply output.
func (n *need) onOutput() bool {
	for _, name := range []string{n.row.A, n.row.B} {
		for _, q := range n.m.PinsNamed(name) {
			if q.Row.Type == "supply output" {
				return true
			}
		}
	}
	return false
}

// sumOf adds every capacitor between the nets of a need to the one chosen. One
// of unknown size opens the claim.
func sumOf(c *board, cl *eval.Claim, n *need, first string) string {
	sum := first
	for _, m := range c.View().Between[circuit.PairOf(n.a, n.b)] {
		switch {
		case m == n.met || m.Sort() != "capacitor":
		case farads(c, m):
			sum += " + " + effectiveOf(c, m).high
		default:
			cl.Lacks("no value", "the capacitance of "+m.Ref+", which is there too, is not stated",
				"give its row a value, or note `spec C` of its part")
		}
	}
	return sum
}

// farads says that the capacitance of a component is a known quantity.
func farads(c *board, m *circuit.Component) bool {
	return c.ValueOf(m).IsNumber(circuit.DimFarad)
}

func askWithin(c *board, cl *eval.Claim, low, high string, a circuit.Asked) {
	switch {
	case a.Low != "" && a.High != "":
		c.Try(cl, low+" inside "+a.Low+" to "+a.High)
	case a.Low != "":
		c.Try(cl, low+" >= "+a.Low)
	case a.High != "":
		c.Try(cl, high+" <= "+a.High)
	case a.Nominal != "":
		c.Try(cl, low+" == "+a.Nominal)
	}
}
