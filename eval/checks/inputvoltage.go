package checks

import (
	"slices"
	"strings"

	"guardband/eval"
	"guardband/eval/circuit"
	"guardband/eval/record"
)

// inputAboveSupply asks that what reaches a pin from another supply stays
// inside the pin's own limits.
var inputAboveSupply = &eval.Check{
	Name:       "input-above-supply",
	Withstands: true,
	Rule: "What the circuit applies to a logic or analog pin while the pin itself draws nothing, by drivers, pull-ups, dividers, diodes and switches, stays inside the pin's limit " +
		"(absmax of the pin, V_PIN, V_I or V_IO); else the current into the pin stays inside I_INJ, which the sentence then says, and the sum of such currents of a part inside its own limit and below what its supply surely takes. " +
		"Asked where another supply reaches the pin, or the limit does not rise with the pin's own.",
	Source: "JEDEC JESD99 (maximum rating); Kirchhoff's laws; common practice",
	Run: on(func(c *board, b *eval.Check) {
		var pushed []circuit.Joint
		eachExposed(c, func(p circuit.Joint, n *circuit.Net, subject string) {
			if len(pushed) > 0 && pushed[0].Comp != p.Comp {
				injectedSum(c, b, pushed)
				pushed = nil
			}
			if inputVoltage(c, b, p, n, subject) {
				pushed = append(pushed, p)
			}
		})
		if len(pushed) > 0 {
			injectedSum(c, b, pushed)
		}
		for _, m := range c.PlacedParts() {
			sparePins(c, m)
		}
	}),
}

// eachExposed visits the pins that can be harmed by a foreign supply: logic and
// analog pins of parts that have a supply, on a signal net.
func eachExposed(c *board, visit func(p circuit.Joint, n *circuit.Net, subject string)) {
	for _, m := range c.PlacedParts() {
		if !m.Part.HasSupply() {
			continue
		}
		names := subjects(m)
		for _, q := range m.Pins() {
			n := m.PinNets[q]
			if n == nil || circuit.IsReturn(n) || !isExposed(q) || !q.AsNoted().Reads() && !q.IsFeedback() && m.MakesVoltage() {
				continue
			}
			visit(circuit.Joint{Comp: m, Pin: q}, n, names[q])
		}
	}
}

func isExposed(q *circuit.Pin) bool {
	switch q.Row.Type {
	case "analog", "analog input", "analog output", "clock":
		return true
	}
	return q.Reads() || q.Drives()
}

// bringer is something that brings the voltage of a supply to a pin.
type bringer struct {
	from   string // in words
	supply *circuit.Net
	driver circuit.Joint // the output that does, none for what always does
}

// bringersOf are what brings the voltage of a supply other than a pin's own to it;
// unknown says what is not known of others that may.
func bringersOf(c *board, p circuit.Joint, n *circuit.Net, r *circuit.Reach) (out []bringer, unknown []record.OpenPoint) {
	own := c.SupplyOf(p.Comp, p.Pin)
	if c.IsRail(n) {
		if n != own && c.VoltageKnown(n) {
			out = append(out, bringer{from: n.Name, supply: n})
		}
		return out, nil
	}
	rail := func(far *circuit.Net, by string) {
		if far != nil && !circuit.IsReturn(far) && far != own && c.IsRail(far) {
			out = append(out, bringer{from: by, supply: far})
		}
	}
	for k, far := range r.Rails {
		rail(far, r.Ends[k].Ref)
	}
	for _, m := range r.Buttons {
		one, two, _ := m.Ends()
		rail(one, m.Ref)
		rail(two, m.Ref)
	}
	for _, d := range r.Pins() {
		switch s := c.SupplyOf(d.Comp, d.Pin); {
		case d.Comp == p.Comp || !d.Pin.Brings() || !d.Comp.Part.HasSupply() || d.Pin.OnlyPullsLow() || s != nil && s == own:
		case s == nil:
			unknown = append(unknown, record.OpenPoint{Reason: "no value", Text: "it is not known which supply " +
				d.Name() + " is fed from", Settle: "name the supply in the pin's row"})
		default:
			out = append(out, bringer{from: d.Name(), supply: s, driver: d})
		}
	}
	return out, unknown
}

// output names the output that brings it, "" for what always does.
func (s bringer) output() string {
	if s.driver.Comp == nil {
		return ""
	}
	return s.driver.Name()
}

// brought are the states in which a source brings its voltage to a pin: one
// output is high, or what always does; others are in any, those that can only
// pull low have let go. Nothing is plugged in.
func brought(r *circuit.Reach, p circuit.Joint, s bringer) func(*eval.Drive) []string {
	outputs := 0
	for _, j := range r.Pins() {
		if j.Pin.Drives() && !j.Pin.OnlyPullsLow() {
			outputs++
		}
	}
	return func(x *eval.Drive) []string {
		switch {
		case x.What == eval.AnOutput && (x.At == p || x.At == s.driver):
			if x.At == p && x.Has("off") {
				return []string{"off"}
			}
			return []string{"high"}
		case x.What == eval.AnOutput && (outputs > 4 || x.At.Pin.OnlyPullsLow()) && x.Has("off"):
			return []string{"off"}
		case x.What == eval.APlug:
			return []string{"free"}
		case x.What == eval.ASwitch && x.Comp.Sort() == "switch": // pressed now and then
			return []string{"open", "closed"}
		}
		return nil
	}
}

// inputVoltage judges one pin; it says whether a current into the pin has to
// keep inside a limit.
func inputVoltage(c *board, b *eval.Check, p circuit.Joint, n *circuit.Net, subject string) (injected bool) {
	if _, own := p.Comp.LimitFor("absmax", p.Pin); own && c.IsRail(n) {
		return false // absmax judges it
	}
	r := c.ReachOf(n)
	from, unknown := bringersOf(c, p, n, r)
	limit := pinLimit(c, p)
	if own := c.SupplyOf(p.Comp, p.Pin); reachedBy(c, own, p, n, r) && limit != "" &&
		c.Judged(c.NetText(own)+" inside "+limit, func(*eval.Criterion) {}) != record.Passed {
		from = append(from, bringer{from: own.Name, supply: own})
	}
	if len(from)+len(unknown) == 0 {
		return false
	}
	cl := c.Claim(b, subject, "Nothing on "+n.Name+" exceeds what pin "+p.Pin.Row.Name+" of "+p.Comp.Label()+" withstands.", p.Pin.Entry)
	asked := map[string]bool{}
	for _, u := range unknown {
		cl.LacksOnce(asked, u.Reason, u.Text, u.Settle)
	}
	presumeResting(r, cl)
	for _, names := range [][]string{injectionNames, injectionSums} { // what stays inside its voltage pushes nothing
		if name := p.Comp.Part.FactFor("absmax", p.Pin, names...); name != "" && limit != "" {
			def, _ := p.Comp.Part.Choose("absmax", name, p.Pin.Row.Name)
			cl.Entries = append(cl.Entries, def.Rows[0])
		}
	}
	for _, s := range from {
		inj := injection(c, p)
		if s.driver.Comp != nil && r.Way(s.driver) == "" || c.IsRail(n) {
			inj = "" // nothing holds the current
		}
		switch among := brought(r, p, s); {
		case limit == "" && inj == "":
			cl.LacksOnce(asked, "no fact", "the voltage that "+p.Name()+" withstands is not noted; "+s.from+
				" drives that of "+s.supply.Name, "note `absmax V_PIN = ...` from the maximum ratings of part "+p.Comp.Part.ID)
		case !eval.SeenBefore(asked, "by", s.output()):
			injected = askBrought(c, cl, p, n, c.NetText(n)+" inside "+limit, inj, among) || injected
		}
	}
	return injected
}

// reachedBy says that a pin's own supply is brought to it.
func reachedBy(c *board, own *circuit.Net, p circuit.Joint, n *circuit.Net, r *circuit.Reach) bool {
	if own == nil || !c.VoltageKnown(own) || c.IsRail(n) {
		return own == n && own != nil && c.VoltageKnown(own)
	}
	return slices.Contains(r.Rails, own) || slices.ContainsFunc(r.Pins(), func(d circuit.Joint) bool {
		return d.Comp != p.Comp && d.Pin.Brings() && !d.Pin.OnlyPullsLow() && c.SupplyOf(d.Comp, d.Pin) == own
	})
}

// askBrought asks that what is brought to a pin keeps inside its limit, or, by
// another text, that the current into it does; it says whether it asks for the
// second. What breaks both breaks the claim.
func askBrought(c *board, cl *eval.Claim, p circuit.Joint, n *circuit.Net, inside, inj string, among func(*eval.Drive) []string) bool {
	set := func(k *eval.Criterion) { k.Among, k.Lone = among, &p }
	push := func(k *eval.Criterion) { k.Among, k.Into = among, []circuit.Joint{p} }
	switch {
	case inj == "" || c.Judged(inside, set) == record.Passed:
		askOf(c, cl, inside, set)
		return false
	case strings.HasSuffix(inside, " "), c.Judged(inj, push) == record.Passed:
		askOf(c, cl, inj, push)
		cl.Presume(eval.OnRating + ", I_INJ of " + p.Comp.Label() + ": its sheet promises that the part survives it, and nothing more")
	default:
		askOf(c, cl, inside+" and "+inj, push)
	}
	return true
}

// askOf adds a criterion with what it asks the network about.
func askOf(c *board, cl *eval.Claim, text string, set func(*eval.Criterion)) {
	if c.Try(cl, text) {
		set(cl.Crit[len(cl.Crit)-1])
	}
}

// limitName is the symbol of the absolute limit of a pin's voltage: its own,
// else the one the sheet gives for pins in general; "" where none is noted.
func limitName(c *board, p circuit.Joint) string {
	if name, ok := p.Comp.LimitFor("absmax", p.Pin); ok {
		return name
	}
	return p.Comp.Part.FactFor("absmax", p.Pin, anyPin...)
}

// anyPin are the symbols of the trade for a limit of pins in general.
var anyPin = []string{"V_PIN", "V_I", "V_IO", "V_INPUT"}

// pinLimit names that limit in a formula.
func pinLimit(c *board, p circuit.Joint) string {
	if name := limitName(c, p); name != "" {
		return c.FactText(p.Comp, "absmax", name, p.Pin.Row.Name)
	}
	return ""
}

// injection asks that the current into a pin keeps inside the limit noted, ""
// where none is. A clamp whose own voltage is not noted is taken to have none,
// which only makes the current larger.
func injection(c *board, p circuit.Joint) string {
	y, limit := c.PinFact(p.Comp, "absmax", p.Pin, circuit.DimAmpere, injectionNames...)
	switch {
	case y == nil || !y.Stated[2] || len(p.Comp.PinsNamed(p.Pin.Row.Name)) != 1:
		return ""
	case circuit.Pushes(p.Pin.AsNoted()):
		return pushedInto(c, p) + " <= " + limit + ".max"
	case !y.Stated[0]:
		return "abs(" + pushedInto(c, p) + ") <= " + limit + ".max"
	}
	return pushedInto(c, p) + " inside " + limit
}

// The trade's symbols for the current into the clamps of a pin, and of all pins
// together; common practice.
var (
	injectionNames = []string{"I_INJ", "I_IK", "I_CLAMP"}
	injectionSums  = []string{"I_INJ_TOTAL", "I_INJ_SUM", "I_INJ_TOT", "I_INJ_ALL", "ΣI_INJ", "I_IK_TOTAL", "I_CLAMP_TOTAL"}
)

// pushedInto names the current into a pin.
func pushedInto(c *board, p circuit.Joint) string {
	name := p.Pin.Row.Name
	if !c.Values.IsName(name) {
		name = `"` + name + `"`
	}
	return p.Comp.Ref + ".use.I_INJ(" + name + ")"
}

// injectedSum asks that the currents into the pins of a part keep inside the
// limit of their sum, and that its supply takes what they bring.
func injectedSum(c *board, b *eval.Check, pins []circuit.Joint) {
	m := pins[0].Comp
	cl := c.Claim(b, m.Ref, "The currents pushed into pins of "+m.Label()+" are no more in total than it and its supply take.", m.Entry)
	var sum []string
	up := map[*circuit.Net][]string{}
	for _, p := range pins {
		cl.Entries = append(cl.Entries, p.Pin.Entry)
		sum = append(sum, "abs("+pushedInto(c, p)+")")
		if s := c.SupplyOf(m, p.Pin); s != nil {
			up[s] = append(up[s], "max(0 A, "+pushedInto(c, p)+")")
		}
	}
	free := func(x *eval.Drive) []string {
		switch {
		case x.What == eval.APlug:
			return []string{"free"}
		case x.What == eval.AnOutput && x.At.Comp == m && x.Has("off"):
			return []string{"off"}
		}
		return nil
	}
	all := func(k *eval.Criterion) { k.Among, k.Into = free, pins }
	inside := func(text string) string { // else a clamp conducts that may not
		if c.Judged(text, all) != record.Passed {
			for _, p := range pins {
				if limit := pinLimit(c, p); limit != "" {
					text += " and " + c.NetText(m.PinNets[p.Pin]) + " inside " + limit
				}
			}
		}
		return text
	}
	if limit := m.Part.FactNamed("absmax", injectionSums...); limit != "" {
		askOf(c, cl, inside(strings.Join(sum, " + ")+" <= "+m.Ref+".absmax."+limit+".max"), all)
	} else if len(pins) > 1 {
		cl.Presume("no limit is noted of the sum of the currents pushed into " + m.Label())
	}
	for _, s := range c.Nets.List {
		if up[s] == nil {
			continue
		}
		least := ""
		for _, j := range s.PinsOf() {
			if name := j.Comp.Part.FactNamed("spec", circuit.SupplyCurrents...); j.Pin.Row.Type == "supply" && name != "" {
				if y := c.Fact(j.Comp, "spec", name, ""); y != nil && y.Stated[0] && !strings.Contains(least, j.Comp.Ref+".") {
					least += " + " + j.Comp.Ref + "." + name + ".min"
				}
			}
		}
		if least == "" {
			cl.Lacks("no fact", "what "+s.Name+" surely takes is not noted, so what is pushed into pins of "+m.Ref+
				" may lift it", "note `spec I_DD = min ..., max ...` of a part on "+s.Name+
				", or skip this check with the reason why it is not lifted")
			continue
		}
		askOf(c, cl, inside(strings.Join(up[s], " + ")+" <= "+strings.TrimPrefix(least, " + ")), all)
	}
}
