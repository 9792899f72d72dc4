package eval

import (
	"math/big"

	"guardband/eval/bound"
	"guardband/eval/formula"
	"guardband/eval/record"
)

// diodeStress asks that a diode bears its reverse voltage and its current.
var diodeStress = &builtin{
	name: "diode",
	rule: "The reverse voltage of each diode stays within V_R (V_RRM) and its current within I_F, both times the derating asked. A diode across a relay's coil or an inductor that a transistor switches sees the supply of the coil in reverse and takes over the current of the coil; " +
		"elsewhere the nets, `in use: V_R = ...; I_F = ...` or the circuit tell, in every state of what drives it.",
	source: "common practice",
	run: func(c *compiler, b *builtin) {
		l := &unknowns{}
		for _, m := range c.comps.list {
			switch {
			case m.notFitted() || m.sort() != "diode" && !c.isClamp(m):
			case m.part == nil:
				l.refs = append(l.refs, m.ref)
			default:
				c.diode(b, m)
			}
		}
		l.tell(c, b, "rating", "Each diode states what it may bear.", "no ratings are known of ", "note it as a part with `absmax V_R` and `absmax I_F`")
	},
}

// isClamp says that a part with notes is a suppressor or Zener diode of two
// ends; a suppressor, between nets whose voltage is stated.
func (c *compiler) isClamp(m *component) bool {
	a, b, ok := m.ends()
	if m.part == nil || !ok || m.sort() != "Zener diode" && m.part.factNamed("operating", "V_RWM") == "" && m.part.factNamed("absmax", "V_RWM") == "" {
		return false
	}
	return m.sort() == "Zener diode" || c.voltageStated(a) && c.voltageStated(b)
}

func (c *compiler) diode(b *builtin, m *component) {
	reverse, hasV := m.rated(volt.Dim, "V_R", "V_RRM", "V_RM", "V_RWM")
	forward, hasI := m.rated(currentDim, "I_F", "I_FAV", "I_O")
	cl := c.builtClaim(b, m.ref, "Diode "+m.label()+" bears its reverse voltage and its current.", m.entry)
	d := &diodeUse{c: c, cl: cl, m: m, coil: c.coilAcross(m)}
	d.plus, d.minus, d.named = m.poles()
	clamp := m.sort() != "diode"
	if !hasV && !hasI && !clamp {
		cl.lacks("no fact", "neither V_R nor I_F is noted for part "+m.part.id, "note `absmax V_R` and `absmax I_F`")
		return
	}
	k, _ := c.derating(m, "diode")
	if hasV {
		d.reverse(k + reverse.text)
	}
	d.forward(hasI, k+forward.text, clamp)
}

// diodeUse is a diode while its claim is made.
type diodeUse struct {
	c           *compiler
	cl          *claim
	m           *component
	coil        *component // that it stands across
	plus, minus *net       // anode and cathode
	named       bool       // the notes name both
}

// reverse asks that the diode bears what stands across it in reverse.
func (d *diodeUse) reverse(limit string) {
	c, m := d.c, d.m
	state := "state `in use: V_R = ...` in the row of " + m.ref
	if use := m.useNamed("V_R"); use != "" {
		c.try(d.cl, m.ref+".use."+use+" <= "+limit)
		return
	}
	switch across := c.voltageOn(m); {
	case across == "":
		d.cl.lacks("no value", "the reverse voltage of "+m.ref+" is not known", state)
	case !d.named || m.useNamed("V", "V_DC", "V_AC") != "":
		c.try(d.cl, "abs("+across+") <= "+limit)
	case d.stated():
		c.try(d.cl, c.difference(d.minus, d.plus)+" <= "+limit)
	default:
		c.try(d.cl, m.ref+".use.V_R <= "+limit)
	}
}

// stated says that both nets of the diode have a stated voltage.
func (d *diodeUse) stated() bool {
	return d.named && d.c.voltageStated(d.plus) && d.c.voltageStated(d.minus)
}

// forward asks that the diode blocks where it should, and bears its current
// where it conducts.
func (d *diodeUse) forward(hasI bool, limit string, clamp bool) {
	c, m := d.c, d.m
	use := m.useNamed("I_F")
	if use != "" && hasI {
		c.try(d.cl, m.ref+".use."+use+" <= "+limit)
	}
	if !d.named {
		if !(clamp && m.part.factNamed("operating", "V_RWN") != "") && (use == "" || m.useNamed("V_R") == "") {
			d.cl.lacks("no fact", "which end of "+m.ref+" is the anode is not noted", "name its pins A and K in part "+m.part.id)
		}
		return
	}
	if d.coil != nil {
		d.takesOver(use, hasI, limit)
		return
	}
	switch {
	case d.stated():
		d.blocksOrConducts(use, hasI)
	case use != "":
	case !hasI && clamp:
		c.try(d.cl, m.ref+".use.V_R >= 0 V")
	case !hasI:
		d.cl.lacks("no fact", "no rated current is noted for part "+m.part.id, "note `absmax I_F = max ...`")
	default:
		c.try(d.cl, m.ref+".use.I_F <= "+limit)
	}
}

// takesOver asks of a diode across a coil that it bears what flows while the
// coil has its supply, and the current of the coil when it is switched off.
func (d *diodeUse) takesOver(use string, hasI bool, limit string) {
	if c := d.c; c.voltageStated(d.plus) && !isReturn(d.plus) && !c.voltageStated(d.minus) { // what switches pulls its cathode low
		c.try(d.cl, c.netText(d.plus)+" <= 0 V")
	}
	if hasI && use == "" {
		d.c.try(d.cl, d.m.ref+".use.I_F <= "+limit)
		d.c.try(d.cl, "abs("+d.coil.ref+".use.I) <= "+limit)
	}
}

func (d *diodeUse) currentUnknown() {
	d.cl.lacks("no value", "the current through "+d.m.ref+" is not known", "state `in use: I_F = ...` in its row")
}

// mostForward is the forward voltage, in volts, that no single junction exceeds
// (common practice), for diodes that note none.
var mostForward = big.NewRat(2, 1)

// blocksOrConducts judges a diode between nets. Where it blocks whatever the
// nets do, no current need be known; where the nets put more across it in its
// forward direction than it can have, it stands the wrong way round.
func (d *diodeUse) blocksOrConducts(use string, hasI bool) {
	c, m := d.c, d.m
	most, limit := d.forwardVoltage()
	across := c.difference(d.plus, d.minus)
	lo, hi := c.between(pair{d.plus, d.minus})
	switch {
	case hi != nil && hi.Sign() <= 0:
		c.try(d.cl, across+" <= 0 V")
	case lo != nil && lo.Cmp(most) > 0:
		if c.try(d.cl, across+" <= "+limit) && limit == "0 V" {
			d.cl.crit[len(d.cl.crit)-1].unsure = &record.OpenPoint{Reason: "no fact", Text: "the nets of " + m.ref + " put their voltage across it in its forward direction, and no forward voltage is noted for part " + m.part.id, Settle: "turn it round, or note `spec V_F = max ...`"}
		}
	case use == "":
		d.currentUnknown()
	case !hasI:
		d.cl.lacks("no fact", "no rated current is noted for part "+m.part.id, "note `absmax I_F = max ...`")
	}
}

// forwardVoltage is the most that the note gives the diode forward, and its
// name; 0 V where it gives none.
func (d *diodeUse) forwardVoltage() (most *big.Rat, limit string) {
	name := d.m.part.factNamed("spec", "V_F")
	if y, _ := d.c.fact(d.m, "spec", name, ""); name != "" && y != nil {
		d.c.lower(y)
		if y.val.Class == formula.Number {
			p := d.c.b.Extract(y.val.Reg)
			if e := bound.Range(p, 0, d.c.gather(p), bound.Options{Boxes: 200}); !e.Empty && !e.Hi.Unbounded {
				return endRat(e.Hi), d.m.ref + "." + name
			}
		}
	}
	return mostForward, "0 V"
}

// coilAcross is the relay whose coil a diode stands across, nil without one.
func (c *compiler) coilAcross(m *component) *component {
	a, b, ok := m.ends()
	if !ok {
		return nil
	}
	for _, j := range a.joined {
		if j.pin != nil && j.comp != m && j.comp.on(b) && j.comp.part.factNamed("spec", "R_COIL", "R_C") != "" {
			return j.comp
		}
	}
	return nil
}
