package checks

import (
	"fmt"
	"regexp"
	"strings"

	"guardband/eval"
	"guardband/eval/circuit"
	"guardband/eval/record"
)

// backPowering asks that no net feeds a part whose supply is off.
var backPowering = &eval.Check{
	Name:       "back-powering",
	Withstands: true,
	Rule: "Where a net joins a pin to a driver or pull-up on another supply, that supply cannot be up without the pin's own, or the pin tolerates it: " +
		"flagged tolerant, a limit that does not depend on its supply, or a series resistor that keeps the current within I_INJ. " +
		"Where `states:` say which supplies are up, each state is judged; how the supplies rise and fall between states is not.",
	Source: "common practice",
	Run: on(func(c *board, b *eval.Check) {
		eachExposed(c, func(p circuit.Joint, n *circuit.Net, subject string) {
			if !c.IsRail(n) {
				backPower(c, b, p, n, subject)
			}
		})
	}),
}

func backPower(c *board, b *eval.Check, p circuit.Joint, n *circuit.Net, subject string) {
	own := c.SupplyOf(p.Comp, p.Pin)
	if own == nil {
		return // a part of several supplies: input-above-supply names what is not known
	}
	r := c.ReachOf(n)
	from, unknown := bringersOf(c, p, n, r)
	var apart []bringer
	var together []string
	for _, f := range from {
		if f.supply == own || c.Needs(f.supply)[own] {
			continue
		}
		switch sure, unsaid, ok := c.ApartIn(f.supply, own); {
		case len(sure) == 0 && follows(c, own, c.Needs(f.supply), map[*circuit.Net]bool{}):
			together = append(together, own.Name+" is up whenever "+f.supply.Name+" is, as nothing can turn off what makes it")
		case ok && len(sure)+len(unsaid) == 0:
			together = append(together, togetherText(f.supply, own))
		default:
			apart = append(apart, f)
		}
	}
	if len(apart)+len(together) == 0 {
		return
	}
	cl := c.Claim(b, subject, "Net "+n.Name+" does not feed "+p.Comp.Label()+" through "+p.Pin.Row.Name+" while "+own.Name+" is off.", p.Pin.Entry)
	told := map[string]bool{}
	for _, u := range unknown {
		cl.LacksOnce(told, u.Reason, u.Text, u.Settle)
	}
	for _, t := range together {
		if !eval.SeenBefore(told, t) {
			cl.Settle(record.Passed, t)
		}
	}
	if len(apart) > 0 && p.Pin.Has("tolerant") {
		cl.Settle(record.Passed, p.Name()+" is noted as tolerant")
		return
	}
	for _, f := range apart {
		if !eval.SeenBefore(told, "by", f.output(), f.supply.Name) {
			fedWhileOff(c, cl, p, n, own, f, r, told)
		}
	}
}

// fedWhileOff asks that what is brought to a pin while its supply is off keeps
// inside what the limit of the pin leaves then, or the current into it does:
// broken where a state or a switch has the supply off, open where nobody says
// that it can be.
func fedWhileOff(c *board, cl *eval.Claim, p circuit.Joint, n, own *circuit.Net, f bringer, r *circuit.Reach, told map[string]bool) {
	limit, inj := pinLimit(c, p), injection(c, p)
	if f.driver.Comp != nil && r.Way(f.driver) == "" {
		inj = "" // nothing holds the current
	}
	inside := c.NetText(n) + " inside " + limit
	if limit != "" && hangsOnSupply(c, p) {
		inside = c.NetText(n) + " <= " + leftOf(c, p)
	}
	among := whileOff(c, own, f.supply, brought(r, p, f))
	why, sure, open := whyOff(c, p, own, f)
	switch {
	case limit == "" && inj == "":
	case sure || limit != "" && !hangsOnSupply(c, p),
		limit != "" && c.Judged(inside, func(k *eval.Criterion) { k.Among, k.Lone = among, &p }) == record.Passed,
		inj != "" && c.Judged(inj, func(k *eval.Criterion) { k.Among, k.Into = among, []circuit.Joint{p} }) == record.Passed:
		presumeResting(r, cl)
		if askBrought(c, cl, p, n, inside, inj, among); why != "" && !eval.SeenBefore(told, why) {
			cl.Out.Statement = strings.TrimSuffix(cl.Out.Statement, ".") + "; " + why + "."
		}
		return
	}
	cl.LacksOnce(told, open.Reason, open.Text, open.Settle)
}

// leftOf spells what is left of the upper limit of a pin, a formula of its
// supply, while the supply is at 0 V.
func leftOf(c *board, p circuit.Joint) string {
	name := limitName(c, p)
	def, _ := p.Comp.Part.Choose("absmax", name, p.Pin.Row.Name)
	text := strings.TrimSpace(def.Rows[0].RHS.S)
	if k := strings.LastIndex(text, " to "); k >= 0 {
		text = text[k+4:]
	}
	text = strings.TrimPrefix(text, "max ")
	return supplyName.ReplaceAllStringFunc(text, func(w string) string {
		for _, q := range p.Comp.Pins() {
			if q.Row.Type == "supply" && circuit.MentionsName(w, q.Obeys(), q.Row.Name, "V_"+q.Row.Name) {
				return "0 V"
			}
		}
		return w
	})
}

// supplyName is a name in the formula of a limit.
var supplyName = regexp.MustCompile(`[\pL][\pL\d_]*`)

// whileOff are states in which one supply is at 0 V and another is up; what
// needs the first is down with it. Whatever else may lift the first is asked at
// the pins by which it does.
func whileOff(c *board, dead, live *circuit.Net, others func(*eval.Drive) []string) func(*eval.Drive) []string {
	return func(x *eval.Drive) []string {
		switch {
		case x.What != eval.ASupply:
			return others(x)
		case x.Net == dead || x.Net != live && c.Needs(x.Net)[dead]:
			return []string{"down"}
		}
		return []string{"on"}
	}
}

// whyOff words why a supply is off while another is up; sure says that a state
// or a switch has it so. Else the open point says what is not known.
func whyOff(c *board, p circuit.Joint, own *circuit.Net, f bringer) (why string, sure bool, open record.OpenPoint) {
	in, unsaid, stated := c.ApartIn(f.supply, own)
	by := c.SwitchedBy(own)
	open = record.OpenPoint{Reason: "no fact",
		Settle: "note an `absmax` of the pin that does not hang on its supply, flag the pin `tolerant`, or skip this with the reason why the supplies rise together"}
	text := "nothing in the circuit shows that " + own.Name + " is up whenever " + f.supply.Name + " is"
	switch {
	case len(in) > 0:
		why = "in state " + strings.Join(in, ", ") + " " + own.Name + " is down and " + f.supply.Name + " is up"
		text = why
	case stated && len(unsaid) > 0 && (by == "" || !hangsOnSupply(c, p)):
		said, hint := c.Unsaid(f.supply, own, unsaid[0])
		text, open.Settle = said, hint+"; or "+open.Settle
	case by != "":
		why = by + " turns " + own.Name + " off while " + f.supply.Name + " stays up"
		text = why
	}
	open.Text = text + "; it is not noted that " + p.Name() + " withstands the voltage of " + f.supply.Name + " then"
	return why, why != "", open
}

// hangsOnSupply says that the limit of a pin is a formula, which falls with
// the supply it names.
func hangsOnSupply(c *board, p circuit.Joint) bool {
	name := limitName(c, p)
	if name == "" {
		return false
	}
	y := c.Fact(p.Comp, "absmax", name, p.Pin.Row.Name)
	return y != nil && y.Made
}

// togetherText words why two supplies are never apart.
func togetherText(live, dead *circuit.Net) string {
	return fmt.Sprintf("in every state %s is up or %s is down", dead.Name, live.Name)
}
