package eval

import (
	"fmt"
	"strings"
)

// backPowering asks that no net feeds a part whose supply is off.
var backPowering = &builtin{
	name: "back-powering",
	rule: "Where a net joins a pin to a driver or pull-up on another supply, that supply cannot be up without the pin's own, or the pin tolerates it: " +
		"flagged tolerant, a limit that does not hang on its supply, or a series resistor that holds the current inside I_INJ. " +
		"Where `states:` say which supplies are up, each state is judged; how the supplies rise and fall between states is not.",
	source: "common practice",
	run: func(c *compiler, b *builtin) {
		c.eachExposed(func(p joint, n *net, subject string) {
			if !c.isRail(n) {
				c.backPower(b, p, n, subject)
			}
		})
	},
}

func (c *compiler) backPower(b *builtin, p joint, n *net, subject string) {
	own := c.supplyOf(p.comp, p.pin)
	if own == nil {
		return // a part of several supplies: input-above-supply names what is not known
	}
	fs, unknown := c.foreigners(p, n)
	var apart []foreign
	var together []string
	for _, f := range fs {
		if f.supply == own || c.needs(f.supply)[own] {
			continue
		}
		switch sure, unsaid, ok := c.apartIn(f.supply, own); {
		case len(sure) == 0 && c.follows(own, c.needs(f.supply), map[*net]bool{}):
			together = append(together, own.name+" is up whenever "+f.supply.name+" is, as nothing can turn off what makes it")
		case ok && len(sure)+len(unsaid) == 0:
			together = append(together, togetherText(f.supply, own))
		default:
			apart = append(apart, f)
		}
	}
	if len(apart)+len(together) == 0 {
		return
	}
	cl := c.builtClaim(b, subject, "Net "+n.name+" does not feed "+p.comp.label()+" through "+p.pin.row.Name+" while "+own.name+" is off.", p.pin.entry)
	told := map[string]bool{}
	for _, u := range unknown {
		cl.lacksOnce(told, u.Reason, u.Text, u.Settle)
	}
	for _, t := range together {
		if !seenBefore(told, t) {
			cl.settle(Passed, t)
		}
	}
	if len(apart) == 0 {
		return
	}
	if p.pin.has("tolerant") {
		cl.settle(Passed, p.name()+" is noted as tolerant")
		return
	}
	limit := c.pinLimit(p)
	asked := map[string]bool{}
	for _, f := range apart {
		inj := c.offCurrent(p, f)
		switch {
		case limit != "" && !c.hangsOnSupply(p):
			if t := f.level + " inside " + limit; !seenBefore(asked, t) {
				c.ask(cl, t)
			}
		case inj != "":
			if !seenBefore(asked, inj) {
				c.ask(cl, inj)
			}
		default:
			c.fedWhileOff(cl, p, own, f, asked)
		}
	}
}

// fedWhileOff is the verdict where nothing tolerates the voltage: broken where
// a state or a switch has the supply off, open where nobody says that it can be.
func (c *compiler) fedWhileOff(cl *claim, p joint, own *net, f foreign, asked map[string]bool) {
	sure, unsaid, stated := c.apartIn(f.supply, own)
	by := c.switchedBy(own)
	why := "nothing in the circuit says that " + own.name + " is up whenever " + f.supply.name + " is"
	settle := "note an `absmax` of the pin that does not hang on its supply, flag the pin `tolerant`, or skip this with the reason why the supplies rise together"
	switch {
	case len(sure) > 0:
		why = "in state " + strings.Join(sure, ", ") + " " + own.name + " is down and " + f.supply.name + " is up"
		if c.hangsOnSupply(p) {
			if !seenBefore(asked, f.from, why) {
				cl.settle(Failed, fmt.Sprintf("%s; %s brings its voltage to %s, whose limit falls with %s", why, f.from, p.name(), own.name))
			}
			return
		}
	case by != "" && c.hangsOnSupply(p):
		if !seenBefore(asked, f.from) {
			cl.settle(Failed, fmt.Sprintf("%s turns %s off while %s brings the voltage of %s to %s, whose limit falls with its supply", by, own.name, f.from, f.supply.name, p.name()))
		}
		return
	case stated && len(unsaid) > 0:
		why, settle = c.unsaidText(f.supply, own, unsaid[0]), c.unsaidHint(f.supply, own, unsaid[0])+"; or "+settle
	case by != "":
		why = by + " turns " + own.name + " off while " + f.supply.name + " stays up"
	}
	cl.lacksOnce(asked, "no fact", why+"; it is not noted that "+p.name()+" bears the voltage of "+f.supply.name+" then", settle)
}

// hangsOnSupply says that the limit of a pin is a formula, which falls with
// the supply it names.
func (c *compiler) hangsOnSupply(p joint) bool {
	if name, ok := p.comp.limitFor("absmax", p.pin); ok {
		return c.isFormula(p, name)
	}
	for _, s := range []string{"V_PIN", "V_I", "V_IO", "V_INPUT"} {
		for _, f := range p.comp.part.factOrder {
			if f.section == "absmax" && sameSymbol(f.name, s) {
				return c.isFormula(p, f.name)
			}
		}
	}
	return false
}

func (c *compiler) isFormula(p joint, name string) bool {
	y, _ := c.fact(p.comp, "absmax", name, p.pin.row.Name)
	return y != nil && len(y.deps) > 0
}

// offCurrent is the current through a series resistor into a part whose supply
// stands at 0 V.
func (c *compiler) offCurrent(p joint, f foreign) string {
	y, limit := c.pinFact(p.comp, "absmax", p.pin, dimAmpere, "I_INJ", "I_IK", "I_CLAMP")
	if f.series == "" || y == nil || y.cols[2] == nil {
		return ""
	}
	return f.level + " / " + f.series + " <= " + limit + ".max"
}
