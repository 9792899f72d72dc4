package eval

import (
	"slices"
	"strings"

	"guardband/eval/bound"
	"guardband/eval/network"
	"guardband/eval/record"
)

// inputAboveSupply asks that what reaches a pin from another supply stays
// inside the pin's own limits.
var inputAboveSupply = &builtin{
	name: "input-above-supply",
	rule: "What the circuit brings to a logic or analog pin while the pin itself takes nothing, by drivers, pull-ups, dividers, diodes and switches, stays inside the pin's limit " +
		"(absmax of the pin, V_PIN, V_I or V_IO); else the current into the pin stays inside I_INJ, which the sentence then says, and the sum of such currents of a part inside its own limit and below what its supply surely takes. " +
		"Asked where another supply reaches the pin, or the limit does not rise with the pin's own.",
	source: "JEDEC JESD99 (maximum rating); Kirchhoff's laws; common practice",
	run: func(c *compiler, b *builtin) {
		var pushed []joint
		c.eachExposed(func(p joint, n *net, subject string) {
			if len(pushed) > 0 && pushed[0].comp != p.comp {
				c.injectedSum(b, pushed)
				pushed = nil
			}
			if c.inputVoltage(b, p, n, subject) {
				pushed = append(pushed, p)
			}
		})
		if len(pushed) > 0 {
			c.injectedSum(b, pushed)
		}
	},
}

// eachExposed visits the pins that can be harmed by a foreign supply: logic and
// analog pins of parts that have a supply, on a signal net.
func (c *compiler) eachExposed(visit func(p joint, n *net, subject string)) {
	for _, m := range c.placedParts() {
		if !m.part.hasSupply() {
			continue
		}
		names := subjects(m)
		for _, q := range m.part.pins {
			n := m.pinNets[q]
			if n == nil || isReturn(n) || !isExposed(q) || !q.reads() && m.makesVoltage() {
				continue
			}
			visit(joint{comp: m, pin: q}, n, names[q])
		}
	}
}

func isExposed(q *pin) bool {
	switch q.row.Type {
	case "analog", "analog input", "analog output", "clock":
		return true
	}
	return q.reads() || q.drives()
}

// bringer is something that brings the voltage of a supply to a pin.
type bringer struct {
	from   string // in words
	supply *net
	driver joint // the output that does, none for what always does
}

// bringersOf are what brings the voltage of a supply other than a pin's own to it;
// unknown says what is not known of others that may.
func (c *compiler) bringersOf(p joint, n *net, r *reach) (out []bringer, unknown []record.OpenPoint) {
	own := c.supplyOf(p.comp, p.pin)
	if c.isRail(n) {
		if n != own && c.voltageKnown(n) {
			out = append(out, bringer{from: n.name, supply: n})
		}
		return out, nil
	}
	rail := func(far *net, by string) {
		if far != nil && !isReturn(far) && far != own && c.isRail(far) {
			out = append(out, bringer{from: by, supply: far})
		}
	}
	for k, far := range r.rails {
		rail(far, r.ends[k].ref)
	}
	for _, m := range r.buttons {
		one, two, _ := m.ends()
		rail(one, m.ref)
		rail(two, m.ref)
	}
	for _, d := range r.pins() {
		switch s := c.supplyOf(d.comp, d.pin); {
		case d.comp == p.comp || !d.pin.brings() || !d.comp.part.hasSupply() || d.pin.onlyPullsLow() || s != nil && s == own:
		case s == nil:
			unknown = append(unknown, record.OpenPoint{Reason: "no value", Text: "it is not known which supply " + d.name() + " is fed from", Settle: "name the supply in the pin's row"})
		default:
			out = append(out, bringer{from: d.name(), supply: s, driver: d})
		}
	}
	return out, unknown
}

// output names the output that brings it, "" for what always does.
func (s bringer) output() string {
	if s.driver.comp == nil {
		return ""
	}
	return s.driver.name()
}

// brought are the states in which a source brings its voltage to a pin: one
// output is high, or what always does; others are in any, those that can only
// pull low have let go. Nothing is plugged in.
func (r *reach) brought(p joint, s bringer) func(*drive) []string {
	outputs := 0
	for _, j := range r.pins() {
		if j.pin.drives() && !j.pin.onlyPullsLow() {
			outputs++
		}
	}
	return func(x *drive) []string {
		switch {
		case x.what == anOutput && (x.at == p || x.at == s.driver):
			if x.at == p && x.has("off") {
				return []string{"off"}
			}
			return []string{"high"}
		case x.what == anOutput && (outputs > 4 || x.at.pin.onlyPullsLow()) && x.has("off"):
			return []string{"off"}
		case x.what == aPlug:
			return []string{"free"}
		case x.what == aSwitch && x.comp.sort() == "switch": // pressed now and then
			return []string{"open", "closed"}
		}
		return nil
	}
}

// inputVoltage judges one pin; it says whether a current into the pin has to
// keep inside a limit.
func (c *compiler) inputVoltage(b *builtin, p joint, n *net, subject string) (injected bool) {
	if _, own := p.comp.limitFor("absmax", p.pin); own && c.isRail(n) {
		return false // absmax judges it
	}
	r := c.reachOf(n)
	from, unknown := c.bringersOf(p, n, r)
	limit := c.pinLimit(p)
	if own := c.supplyOf(p.comp, p.pin); c.reachedBy(own, p, n, r) && limit != "" &&
		c.judged(c.netText(own)+" inside "+limit, func(*criterion) {}) != record.Passed {
		from = append(from, bringer{from: own.name, supply: own})
	}
	if len(from)+len(unknown) == 0 {
		return false
	}
	cl := c.builtClaim(b, subject, "Nothing on "+n.name+" exceeds what pin "+p.pin.row.Name+" of "+p.comp.label()+" withstands.", p.pin.entry)
	asked := map[string]bool{}
	for _, u := range unknown {
		cl.lacksOnce(asked, u.Reason, u.Text, u.Settle)
	}
	r.resting(cl)
	for _, names := range [][]string{injectionNames, injectionSums} { // what stays inside its voltage pushes nothing
		if name := p.comp.part.factFor("absmax", p.pin, names...); name != "" && limit != "" {
			def, _ := p.comp.part.choose("absmax", name, p.pin.row.Name)
			cl.entries = append(cl.entries, def.rows[0])
		}
	}
	for _, s := range from {
		inj := c.injection(p)
		if s.driver.comp != nil && r.way(s.driver) == "" || c.isRail(n) {
			inj = "" // nothing holds the current
		}
		switch among := r.brought(p, s); {
		case limit == "" && inj == "":
			cl.lacksOnce(asked, "no fact", "the voltage that "+p.name()+" withstands is not noted; "+s.from+" brings that of "+s.supply.name, "note `absmax V_PIN = ...` from the maximum ratings of part "+p.comp.part.id)
		case !seenBefore(asked, "by", s.output()):
			injected = c.askBrought(cl, p, n, c.netText(n)+" inside "+limit, inj, among) || injected
		}
	}
	return injected
}

// reachedBy says that a pin's own supply is brought to it.
func (c *compiler) reachedBy(own *net, p joint, n *net, r *reach) bool {
	if own == nil || !c.voltageKnown(own) || c.isRail(n) {
		return own == n && own != nil && c.voltageKnown(own)
	}
	return slices.Contains(r.rails, own) || slices.ContainsFunc(r.pins(), func(d joint) bool {
		return d.comp != p.comp && d.pin.brings() && !d.pin.onlyPullsLow() && c.supplyOf(d.comp, d.pin) == own
	})
}

// askBrought asks that what is brought to a pin keeps inside its limit, or, by
// another text, that the current into it does; it says whether it asks for the
// second. What breaks both breaks the claim.
func (c *compiler) askBrought(cl *claim, p joint, n *net, inside, inj string, among func(*drive) []string) bool {
	set := func(k *criterion) { k.among, k.lone = among, &p }
	push := func(k *criterion) { k.among, k.into = among, []joint{p} }
	switch {
	case inj == "" || c.judged(inside, set) == record.Passed:
		c.askOf(cl, inside, set)
		return false
	case strings.HasSuffix(inside, " "), c.judged(inj, push) == record.Passed:
		c.askOf(cl, inj, push)
		cl.presume(onRating + ", I_INJ of " + p.comp.label() + ": its sheet promises that the part survives it, and nothing more")
	default:
		c.askOf(cl, inside+" and "+inj, push)
	}
	return true
}

// askOf adds a criterion with what it asks the network about.
func (c *compiler) askOf(cl *claim, text string, set func(*criterion)) {
	if c.try(cl, text) {
		set(cl.crit[len(cl.crit)-1])
	}
}

// judged tells at once what a text comes to.
func (c *compiler) judged(text string, set func(*criterion)) record.Verdict {
	cl := &claim{}
	if c.askOf(cl, text, set); len(cl.crit) == 0 {
		return record.Open
	}
	k := cl.crit[0]
	if len(c.askedIn(k.comp.Reg)) > 0 {
		if c.askCriterion(cl, k); k.told != nil {
			return map[network.Verdict]record.Verdict{network.Passed: record.Passed, network.Failed: record.Failed,
				network.Undecided: record.Open}[k.told.j.Verdict]
		}
	}
	p := c.b.Extract(k.comp.Reg)
	switch bound.Decide(p, 0, c.gather(p), bound.Options{Boxes: 400}).Outcome {
	case bound.Proven:
		return record.Passed
	case bound.Broken:
		return record.Failed
	}
	return record.Open
}

// limitName is the symbol of the absolute limit of a pin's voltage: its own,
// else the one the sheet gives for pins in general; "" where none is noted.
func (c *compiler) limitName(p joint) string {
	if name, ok := p.comp.limitFor("absmax", p.pin); ok {
		return name
	}
	return p.comp.part.factFor("absmax", p.pin, "V_PIN", "V_I", "V_IO", "V_INPUT")
}

// pinLimit names that limit in a formula.
func (c *compiler) pinLimit(p joint) string {
	if name := c.limitName(p); name != "" {
		return factText(p.comp, "absmax", name, p.pin.row.Name)
	}
	return ""
}

// injection asks that the current into a pin keeps inside the limit noted, ""
// where none is. A clamp whose own voltage is not noted is taken to have none,
// which only makes the current larger.
func (c *compiler) injection(p joint) string {
	y, limit := c.pinFact(p.comp, "absmax", p.pin, dimAmpere, injectionNames...)
	switch {
	case y == nil || y.cols[2] == nil || len(p.comp.part.pinsNamed(p.pin.row.Name)) != 1:
		return ""
	case pushes(p.pin):
		return c.pushedInto(p) + " <= " + limit + ".max"
	case y.cols[0] == nil:
		return "abs(" + c.pushedInto(p) + ") <= " + limit + ".max"
	}
	return c.pushedInto(p) + " inside " + limit
}

// The trade's symbols for the current into the clamps of a pin, and of all pins
// together; common practice.
var (
	injectionNames = []string{"I_INJ", "I_IK", "I_CLAMP"}
	injectionSums  = []string{"I_INJ_TOTAL", "I_INJ_SUM", "I_INJ_TOT", "I_INJ_ALL", "ΣI_INJ", "I_IK_TOTAL", "I_CLAMP_TOTAL"}
)

// pushedInto names the current into a pin.
func (c *compiler) pushedInto(p joint) string {
	name := p.pin.row.Name
	if !isName(name) {
		name = `"` + name + `"`
	}
	return p.comp.ref + ".use.I_INJ(" + name + ")"
}

// injectedSum asks that the currents into the pins of a part keep inside the
// limit of their sum, and that its supply takes what they bring.
func (c *compiler) injectedSum(b *builtin, pins []joint) {
	m := pins[0].comp
	cl := c.builtClaim(b, m.ref, "The currents pushed into pins of "+m.label()+" are no more in total than it and its supply take.", m.entry)
	var sum []string
	up := map[*net][]string{}
	for _, p := range pins {
		cl.entries = append(cl.entries, p.pin.entry)
		sum = append(sum, "abs("+c.pushedInto(p)+")")
		if s := c.supplyOf(m, p.pin); s != nil {
			up[s] = append(up[s], "max(0 A, "+c.pushedInto(p)+")")
		}
	}
	free := func(x *drive) []string {
		switch {
		case x.what == aPlug:
			return []string{"free"}
		case x.what == anOutput && x.at.comp == m && x.has("off"):
			return []string{"off"}
		}
		return nil
	}
	all := func(k *criterion) { k.among, k.into = free, pins }
	inside := func(text string) string { // else a clamp conducts that may not
		if c.judged(text, all) != record.Passed {
			for _, p := range pins {
				if limit := c.pinLimit(p); limit != "" {
					text += " and " + c.netText(m.pinNets[p.pin]) + " inside " + limit
				}
			}
		}
		return text
	}
	if limit := m.part.factNamed("absmax", injectionSums...); limit != "" {
		c.askOf(cl, inside(strings.Join(sum, " + ")+" <= "+m.ref+".absmax."+limit+".max"), all)
	} else if len(pins) > 1 {
		cl.presume("no limit is noted of the sum of the currents pushed into " + m.label())
	}
	for _, s := range c.nets.list {
		if up[s] == nil {
			continue
		}
		least := ""
		for _, j := range s.pinsOf() {
			if name := j.comp.part.factNamed("spec", "I_DD", "I_CC", "I_VDD", "I_SUPPLY"); j.pin.row.Type == "supply" && name != "" {
				if y, _ := c.fact(j.comp, "spec", name, ""); y != nil && y.cols[0] != nil && !strings.Contains(least, j.comp.ref+".") {
					least += " + " + j.comp.ref + "." + name + ".min"
				}
			}
		}
		if least == "" {
			cl.lacks("no fact", "what "+s.name+" surely takes is not noted, so what is pushed into pins of "+m.ref+" may lift it", "note `spec I_DD = min ..., max ...` of a part on "+s.name+", or skip this check with the reason why it is not lifted")
			continue
		}
		c.askOf(cl, inside(strings.Join(up[s], " + ")+" <= "+strings.TrimPrefix(least, " + ")), all)
	}
}
