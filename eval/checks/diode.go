package checks

import (
	"math/big"
	"slices"

	"guardband/eval"
	"guardband/eval/circuit"
	"guardband/eval/record"
)

// diodeStress asks that a diode bears its reverse voltage and its current.
var diodeStress = &eval.Check{
	Name:       "diode",
	Withstands: true,
	Rule: "The reverse voltage of each diode stays within V_R (V_RRM) and its current within I_F, both times the derating asked. A diode across a relay's coil or an inductor that a transistor switches sees the supply of the coil in reverse and takes over the current of the coil; " +
		"elsewhere the nets, `in use: V_R = ...; I_F = ...` or the circuit determine them, in every state of what drives it.",
	Source: "common practice",
	Run: on(func(c *board, b *eval.Check) {
		l := &unknowns{}
		for _, m := range c.Comps.List {
			switch {
			case m.NotFitted() || m.Sort() != "diode" && !isClamp(c, m):
			case m.Part == nil:
				l.refs = append(l.refs, m.Ref)
			default:
				diode(c, b, m)
			}
		}
		l.tell(c, b, "rating", "Each diode has its ratings stated.", "no ratings are known for ",
			"note it as a part with `absmax V_R` and `absmax I_F`")
	}),
}

// isClamp says that a part with notes is a suppressor or Zener diode of two
// ends; a suppressor, between nets whose voltage is stated, fuses, beads and
// switches passed.
func isClamp(c *board, m *circuit.Component) bool {
	a, b, ok := m.Ends()
	if m.Part == nil || !ok || m.Sort() != "Zener diode" && !m.IsSuppressor() {
		return false
	}
	return m.Sort() == "Zener diode" || statedNear(c, a) != nil && statedNear(c, b) != nil
}

func diode(c *board, b *eval.Check, m *circuit.Component) {
	if m.SeveralInOne() {
		c.Claim(b, m.Ref, "The diodes in "+m.Label()+" stay within their reverse voltage and current ratings.", m.Entry).Lacks("no fact",
			"more than two nets are on "+m.Ref+", and what is between which of its pins is not noted",
			"place each diode of the package as a part with pins A and K of its own")
		return
	}
	reverse, hasV := rated(m, circuit.Volt.Dim, "V_R", "V_RRM", "V_RM", "V_RWM")
	forward, hasI := rated(m, circuit.DimAmpere, "I_F", "I_FAV", "I_O")
	cl := c.Claim(b, m.Ref, "Diode "+m.Label()+" stays within its reverse voltage and current ratings.", m.Entry)
	d := &diodeUse{c: c, cl: cl, m: m, coil: coilAcross(c, m)}
	d.plus, d.minus, d.named = m.Poles()
	clamp := m.Sort() != "diode"
	switch {
	case clamp && !hasV && m.IsSuppressor():
		cl.Lacks("no fact", "no working voltage is noted for part "+m.Part.ID, "note `operating V_RWM = max ...`")
		return
	case clamp || hasV:
	case !hasI:
		cl.Lacks("no fact", "neither V_R nor I_F is noted for part "+m.Part.ID, "note `absmax V_R` and `absmax I_F`")
		return
	default:
		cl.Lacks("no fact", "no reverse voltage is noted for part "+m.Part.ID, "note `absmax V_R = max ...`")
	}
	k, _ := derating(c, cl, m, "diode")
	if hasV {
		d.reverse(k + reverse.text)
	}
	d.forward(hasI, k+forward.text, clamp)
}

// diodeUse is a diode while its claim is made.
type diodeUse struct {
	c           *board
	cl          *eval.Claim
	m           *circuit.Component
	coil        *circuit.Component // that it stands across
	plus, minus *circuit.Net       // anode and cathode
	named       bool               // the notes name both
}

// reverse asks that the diode bears what stands across it in reverse.
func (d *diodeUse) reverse(limit string) {
	c, m := d.c, d.m
	state := "state `in use: V_R = ...` in the row of " + m.Ref
	if use := m.UseNamed("V_R"); use != "" {
		c.Try(d.cl, m.Ref+".use."+use+" <= "+limit)
		return
	}
	switch across := voltageOn(c, m); {
	case across == "":
		d.cl.Lacks("no value", "the reverse voltage of "+m.Ref+" is not known", state)
	case !d.named || m.UseNamed("V", "V_DC", "V_AC") != "":
		c.Try(d.cl, "abs("+across+") <= "+limit)
	case d.stated():
		c.Try(d.cl, c.Difference(d.minus, d.plus)+" <= "+limit)
	default:
		if a, z := statedNear(c, d.plus), statedNear(c, d.minus); m.Sort() != "diode" && a != nil && z != nil {
			c.Try(d.cl, c.Difference(z, a)+" <= "+limit) // while nothing draws a current, what lies between drops nothing
		}
		c.Try(d.cl, m.Ref+".use.V_R <= "+limit)
	}
}

// statedNear is a net with a stated voltage that fuses, beads and the like join
// to a net, or the net itself; nil without one.
func statedNear(c *board, n *circuit.Net) *circuit.Net {
	line := lineOf(c, n)
	if i := slices.IndexFunc(line, c.VoltageStated); i >= 0 {
		return line[i]
	}
	return nil
}

// stated says that both nets of the diode have a stated voltage.
func (d *diodeUse) stated() bool {
	return d.named && d.c.VoltageStated(d.plus) && d.c.VoltageStated(d.minus)
}

// forward asks that the diode blocks where it should, and bears its current
// where it conducts.
func (d *diodeUse) forward(hasI bool, limit string, clamp bool) {
	c, m := d.c, d.m
	use := m.UseNamed("I_F")
	if use != "" && hasI {
		c.Try(d.cl, m.Ref+".use."+use+" <= "+limit)
	}
	if !d.named {
		if !(clamp && m.Part.FactNamed("operating", "V_RWN") != "") && (use == "" || m.UseNamed("V_R") == "") {
			d.cl.Lacks("no fact", "which end of "+m.Ref+" is the anode is not noted", "name its pins A and K in part "+m.Part.ID)
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
		c.Try(d.cl, m.Ref+".use.V_R >= 0 V")
	case !hasI:
		d.cl.Lacks("no fact", "no rated current is noted for part "+m.Part.ID, "note `absmax I_F = max ...`")
	default:
		c.Try(d.cl, m.Ref+".use.I_F <= "+limit)
	}
}

// takesOver asks of a diode across a coil that it bears what flows while the
// coil has its supply, and the current of the coil when it is switched off.
func (d *diodeUse) takesOver(use string, hasI bool, limit string) {
	c := d.c
	if c.VoltageStated(d.plus) && !circuit.IsReturn(d.plus) && !c.VoltageStated(d.minus) { // what switches pulls its cathode low
		c.Try(d.cl, c.NetText(d.plus)+" <= 0 V")
	}
	switch {
	case !hasI:
		d.cl.Lacks("no fact", "no rated current is noted for part "+d.m.Part.ID+", which takes over that of "+d.coil.Ref,
			"note `absmax I_F = max ...`")
	case use == "":
		c.Try(d.cl, d.m.Ref+".use.I_F <= "+limit)
		c.Try(d.cl, "abs("+d.coil.Ref+".use.I) <= "+limit)
	}
}

func (d *diodeUse) currentUnknown() {
	d.cl.Lacks("no value", "the current through "+d.m.Ref+" is not known", "state `in use: I_F = ...` in its row")
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
	across := c.Difference(d.plus, d.minus)
	lo, hi := c.Between(d.plus, d.minus)
	switch {
	case hi != nil && hi.Sign() <= 0:
		c.Try(d.cl, across+" <= 0 V")
	case lo != nil && lo.Cmp(most) > 0:
		if c.Try(d.cl, across+" <= "+limit) && limit == "0 V" {
			d.cl.Crit[len(d.cl.Crit)-1].Unsure = &record.OpenPoint{Reason: "no fact", Text: "the nets of " + m.Ref +
				" put their voltage across it in its forward direction, and no forward voltage is noted for part " +
				m.Part.ID, Settle: "turn it round, or note `spec V_F = max ...`"}
		}
	case use == "":
		d.currentUnknown()
	case !hasI:
		d.cl.Lacks("no fact", "no rated current is noted for part "+m.Part.ID, "note `absmax I_F = max ...`")
	}
}

// forwardVoltage is the most that the note gives the diode forward, and its
// name; 0 V where it gives none.
func (d *diodeUse) forwardVoltage() (most *big.Rat, limit string) {
	name := d.m.Part.FactNamed("spec", "V_F")
	if y := d.c.Fact(d.m, "spec", name, ""); name != "" && y != nil && y.IsNumber(y.Type.Dim) {
		if _, hi := d.c.Ends(y); hi != nil {
			return hi, d.m.Ref + "." + name
		}
	}
	return mostForward, "0 V"
}

// coilAcross is the relay whose coil a diode stands across, nil without one.
func coilAcross(c *board, m *circuit.Component) *circuit.Component {
	a, b, ok := m.Ends()
	if !ok {
		return nil
	}
	for _, j := range a.Joined {
		if j.Pin != nil && j.Comp != m && isOn(j.Comp, b) && j.Comp.Part.FactNamed("spec", "R_COIL", "R_C") != "" {
			return j.Comp
		}
	}
	return nil
}
