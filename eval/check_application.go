package eval

import (
	"fmt"
	"strings"

	"guardband/eval/formula"
	"guardband/eval/record"
	"guardband/notebook"
	"guardband/units"
)

// application asks that each need of an application circuit is met by a part
// of its own that stands between the nets of its pins.
var application = &builtin{
	name: "application",
	rule: "Between the nets of the two pins stands a part of the kind asked, one for each need. A range or a least value is for what is left in use: " +
		"value with tolerance, times the change over temperature (fact dC_T, or the class of the row), times what bias leaves (KEPT, or `retention 62 %`), times what age leaves (AGED). " +
		"One value alone is the nominal value drawn: at a supply pin up to ten times as much will do as well, elsewhere it is that value. The upper end of a regulator's output capacitance counts all that stands on the output.",
	source: "common practice; application circuit of the part's own sheet; EIA-198 (temperature classes)",
	run: func(c *compiler, b *builtin) {
		needs := c.needsOf()
		c.match(needs)
		count := map[string]int{}
		for _, n := range needs {
			if n.pin != nil {
				continue
			}
			id := n.m.ref + "." + n.row.A
			if count[id]++; count[id] > 1 {
				id = fmt.Sprintf("%s-%d", id, count[id])
			}
			c.needClaim(b, id, n)
		}
		c.decouplingClaims(needs)
	},
}

func (c *compiler) needClaim(b *builtin, id string, n *need) {
	text := strings.Join(strings.Fields(n.entry.Text.S), " ")
	if i := strings.IndexByte(text, '['); i > 0 {
		text = strings.TrimSpace(text[:i])
	}
	cl := c.builtClaim(b, id, "What the application circuit of "+n.m.label()+" asks for is placed: "+text+".", n.entry)
	switch {
	case n.bad != "":
		cl.lacks("no fact", n.bad, "join the pin, or name its net in the row")
	case n.a == n.b && (n.row.Kind == "link" || n.linked() != nil):
		cl.settle(record.Passed, "both pins stand on "+n.a.name+n.a.byLinks())
	case n.a == n.b:
		cl.settle(record.Failed, "both pins stand on "+n.a.name+", so nothing can stand between them")
	case n.met == nil && c.seriesBranch(n) != "":
		cl.lacks("no fact", c.seriesBranch(n)+", and whether that is as good as one between "+n.a.name+" and "+n.b.name+" is not worked out",
			"skip this check with the reason, such as the series resistance that the sheet asks for")
	case n.met == nil:
		cl.settle(record.Failed, fmt.Sprintf("no %s of its own that would do stands between %s and %s%s", n.row.Kind, n.a.name, n.b.name, c.whatStands(n)))
	default:
		cl.entries = append(cl.entries, n.met.entry)
		c.needMet(cl, n)
		if old := c.met[n.entry]; !strings.Contains(" "+old+" ", " "+n.met.ref+" ") {
			c.met[n.entry] = strings.TrimSpace(old + " " + n.met.ref)
		}
	}
}

// whatStands says which parts of the kind do stand there.
func (c *compiler) whatStands(n *need) string {
	var l []string
	for _, m := range c.board().between[pairOf(n.a, n.b)] {
		if !kindFits(n.row.Kind, m.sort()) {
			continue
		}
		s := m.ref
		if t := strings.TrimSpace(m.row.Value.S); t != "" {
			s += " " + t
		}
		if o := c.board().claimed[m]; o != nil {
			s += " (serves " + o.ref + ")"
		} else if z := c.sizesOf(m); n.decouples() && !n.ask.ok && z.known && z.nominal < leastDecoupling {
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
func (c *compiler) needMet(cl *claim, n *need) {
	m := n.met
	for i, x := range n.row.Needs {
		a := readAsked(x.Value.S)
		switch {
		case x.Value.Empty() && n.decouples():
			c.decoupled(cl, n)
		case x.Value.Empty():
			cl.settle(record.Passed, m.ref+" stands between "+n.a.name+" and "+n.b.name)
		case !a.ok:
			c.askedWord(cl, m, strings.TrimSpace(x.Value.S))
		case x.Name != "" && !isValueName(x.Name):
			c.askedFact(cl, n, x, a)
		case i > 0 || a.dim == volt.Dim:
			c.askedRating(cl, m, a)
		default:
			c.askedValue(cl, n, a)
		}
	}
	switch {
	case len(n.row.Needs) > 0:
	case n.decouples():
		c.decoupled(cl, n)
	default:
		cl.settle(record.Passed, m.ref+" stands between "+n.a.name+" and "+n.b.name)
	}
}

func isValueName(s string) bool { return s == "C" || s == "R" || s == "L" }

// askedWord compares a class or another word with the options of the row.
func (c *compiler) askedWord(cl *claim, m *component, word string) {
	for _, o := range m.row.Options {
		if strings.TrimSpace(o.S) == word {
			cl.settle(record.Passed, m.ref+" is "+word)
			return
		}
	}
	cl.lacks("no fact", "whether "+m.ref+" is `"+word+"` is not stated", "give the row of "+m.ref+" the option `"+word+"`")
}

// askedFact compares a further quantity, such as ESR, with a fact of the part
// or an option of its row ("ESR 5 mΩ" is its largest).
func (c *compiler) askedFact(cl *claim, n *need, x notebook.Need, a asked) {
	m := n.met
	if m.sort() == "capacitor" && x.Name == "ESR" && c.askedBank(cl, n, x.Name, a) {
		if a.low, a.lo = "", 0; a.high == "" {
			return
		}
	}
	if m.part != nil {
		if f := m.part.factNamed("spec", x.Name); f != "" {
			c.askWithin(cl, m.ref+"."+f, m.ref+"."+f, a)
			return
		}
	}
	o := readAsked(m.optionNamed(x.Name))
	switch {
	case !o.ok || o.dim != a.dim:
		cl.lacks("no fact", x.Name+" of "+m.ref+" is not stated", "note it in the part, or give the row the option `"+x.Name+" max ...`")
		return
	case a.nominal != "":
		cl.lacks("no fact", "whether "+x.Name+" "+a.nominal+" is the most or the least that may be is not noted", "write `"+x.Name+" max ...` or `min ...` in the application circuit")
		return
	case o.nominal != "":
		o.high, o.hi = o.nominal, o.nom
	}
	v := worse(o.atMost(a), o.atLeast(a))
	switch says := x.Name + " of " + m.ref + " is " + m.optionNamed(x.Name); v {
	case record.Open:
		cl.lacks("no fact", says+", asked is "+a.words(), "give both of its ends: `"+x.Name+" 0.1 Ω to 0.5 Ω`, in its unit")
	case record.Failed:
		cl.settle(v, says+", asked is "+a.words())
	default:
		cl.settle(v, says+", as asked")
	}
}

// atMost compares what is stated with the most that is asked for.
func (o asked) atMost(a asked) record.Verdict {
	switch {
	case a.high == "", o.high != "" && o.hi <= a.hi:
		return record.Passed
	case o.high != "", o.low != "" && o.lo > a.hi:
		return record.Failed
	}
	return record.Open
}

// atLeast compares what is stated with the least that is asked for.
func (o asked) atLeast(a asked) record.Verdict {
	switch {
	case a.low == "" || a.lo <= 0, o.low != "" && o.lo >= a.lo:
		return record.Passed
	case o.low != "", o.high != "" && o.hi < a.lo:
		return record.Failed
	}
	return record.Open
}

func (a asked) words() string {
	switch {
	case a.low == "":
		return "at most " + a.high
	case a.high == "":
		return "at least " + a.low
	}
	return a.low + " to " + a.high
}

// askedRating compares a rated voltage.
func (c *compiler) askedRating(cl *claim, m *component, a asked) {
	r, ok := m.rated(a.dim, "V_R", "V_RATED", "V_DC", "V_RRM", "V_LIM")
	if !ok {
		cl.lacks("no fact", "the rated voltage of "+m.ref+" is not stated", "note `absmax V_R`, or give the row a rating")
		return
	}
	least, text := a.lo, a.low
	if a.nominal != "" {
		least, text = a.nom, a.nominal
	}
	if q, err := units.ParseLiteral(r.text); err == nil { // an option of the row
		v := record.Passed
		if units.Float(q.SI) < least {
			v = record.Failed
		}
		cl.settle(v, m.ref+" is rated "+r.text+", asked is "+text)
		return
	}
	c.try(cl, r.text+" >= "+text)
}

// askedValue compares the value itself.
func (c *compiler) askedValue(cl *claim, n *need, a asked) {
	m := n.met
	if a.nominal != "" {
		c.askedNominal(cl, n, a)
		return
	}
	low, high := m.ref, m.ref
	if m.sort() == "capacitor" {
		e := c.effectiveOf(m)
		low, high = e.low, e.high
		if a.low != "" {
			cl.out.Open = append(cl.out.Open, e.lacks...)
			if len(e.lacks) > 0 {
				cl.plain = worse(cl.plain, record.Open)
			}
		}
		if e.presumed != "" {
			cl.presume(e.presumed)
		}
		c.classHolds(cl, m, e)
	}
	if a.low != "" {
		c.try(cl, low+" >= "+a.low)
	}
	if a.high == "" {
		return
	}
	if m.sort() == "capacitor" && n.onOutput() {
		high = c.sumOf(cl, n, high)
	}
	c.try(cl, high+" <= "+a.high)
}

// askedNominal compares the nominal value with the one drawn.
func (c *compiler) askedNominal(cl *claim, n *need, a asked) {
	s := c.sizesOf(n.met)
	text := n.met.valueText()
	switch {
	case !s.known:
		cl.lacks("no fact", "the value of "+n.met.ref+" is not stated", "give its row a value")
	case n.suits(s) == 2 && s.nominal > a.nom*(1+1e-9):
		cl.settle(record.Passed, n.met.ref+" ("+text+") is at least the "+a.nominal+" drawn")
	case n.suits(s) == 2:
		cl.settle(record.Passed, n.met.ref+" ("+text+") is the "+a.nominal+" drawn")
	case n.suits(s) == 1:
		cl.lacks("no fact", n.met.ref+" is "+text+", more than ten times the "+a.nominal+" drawn, and whether it is as good at high frequencies is not known",
			"place the "+a.nominal+", or write `capacitor min "+a.nominal+"` in the application circuit where the sheet lets it be more")
	default:
		cl.settle(record.Failed, n.met.ref+" is "+text+", drawn is "+a.nominal)
	}
}

// valueText is the value of a row as typed, of a part with notes its title.
func (m *component) valueText() string {
	if m.part != nil {
		return m.part.title
	}
	return strings.TrimSpace(m.row.Value.S)
}

// classHolds asks that the surroundings stay where the class of the capacitor
// is stated.
func (c *compiler) classHolds(cl *claim, m *component, e effective) {
	if e.inside == "" {
		return
	}
	if use := m.useNamed("T_A"); use != "" {
		c.try(cl, m.ref+".use."+use+" inside "+e.inside)
	} else if c.ambient() != nil {
		c.try(cl, "ambient inside "+e.inside)
	} else {
		cl.lacks("no value", "the temperature round the board is not stated", "`ambient: -20 °C to 50 °C` in the design block")
	}
}

// onOutput says that a need stands at a supply output.
func (n *need) onOutput() bool {
	for _, name := range []string{n.row.A, n.row.B} {
		for _, q := range n.m.part.pinsNamed(name) {
			if q.row.Type == "supply output" {
				return true
			}
		}
	}
	return false
}

// sumOf adds every capacitor between the nets of a need to the one chosen. One
// of unknown size opens the claim.
func (c *compiler) sumOf(cl *claim, n *need, first string) string {
	sum := first
	for _, m := range c.board().between[pairOf(n.a, n.b)] {
		switch {
		case m == n.met || m.sort() != "capacitor":
		case c.farads(m):
			sum += " + " + c.effectiveOf(m).high
		default:
			cl.lacks("no value", "the capacitance of "+m.ref+", which stands there too, is not stated", "give its row a value, or note `spec C` of its part")
		}
	}
	return sum
}

// farads says that the capacitance of a component is a known quantity.
func (c *compiler) farads(m *component) bool {
	y := c.componentSymbol(m)
	if y == nil {
		return false
	}
	c.lower(y)
	return y.val.Class == formula.Number && y.val.Type.Dim == dimFarad
}

func (c *compiler) askWithin(cl *claim, low, high string, a asked) {
	switch {
	case a.low != "" && a.high != "":
		c.try(cl, low+" inside "+a.low+" to "+a.high)
	case a.low != "":
		c.try(cl, low+" >= "+a.low)
	case a.high != "":
		c.try(cl, high+" <= "+a.high)
	case a.nominal != "":
		c.try(cl, low+" == "+a.nominal)
	}
}
