package checks

import (
	"math"
	"strings"

	"guardband/eval"
	"guardband/eval/circuit"
	"guardband/eval/record"
)

// gateDrive asks that the gate of a transistor gets the voltage at which its
// resistance is stated, and no more than it bears.
var gateDrive = &eval.Check{
	Name: "gate-drive",
	Rule: "The gate-source voltage (`in use: V_GS = ...`, else what the circuit makes between gate and source) reaches, in one state at least, the one at which a row of R_DSon is stated, and stays within the limit of V_GS in all; one that an output drives stays below the noted threshold in one state. " +
		"The threshold voltage does not guarantee the resistance. A row at one voltage is used for higher ones too.",
	Source: "common practice; conditions of the part's own sheet",
	Run: on(func(c *board, b *eval.Check) {
		for _, m := range c.PlacedParts() {
			switch fet := m.Part.FactNamed("spec", "R_DSon", "R_DS_on", "R_DSON", "R_ON") != ""; {
			case fet && m.End("G", "GATE") != nil:
				gate(c, b, m)
			case m.IsTransistor() && m.End("G", "GATE") != nil:
				cl := c.Claim(b, m.Ref, "The gate of "+m.Label()+" gets the voltage at which its resistance is stated.", m.Entry)
				cl.Lacks("no fact", "no resistance is noted for part "+m.Part.ID, "note `spec R_DSon = max ... at V_GS >= ...`")
			case !m.Part.HasSupply() && m.Says("fet", "mosfet", "transistor", "npn", "pnp") && m.End("G", "GATE", "B",
				"BASE") == nil && !m.ByLight():
				cl := c.Claim(b, m.Ref, "The pins of the transistor "+m.Label()+" are known.", m.Entry)
				cl.Lacks("no fact", "the pin names of "+m.Ref+" do not say which is gate, source and drain, or base, emitter and collector",
					"name them G, S and D (B, E and C); note each transistor of a package of several as a part of its own")
			}
		}
	}),
}

func gate(c *board, b *eval.Check, m *circuit.Component) {
	cl := c.Claim(b, m.Ref, "The gate of "+m.Label()+" gets the voltage at which its resistance is stated.", m.Entry)
	g, s := m.End("G", "GATE"), m.End("S", "SOURCE")
	volts := ""
	if use := m.UseNamed("V_GS"); use != "" {
		volts = m.Ref + ".use." + use
	} else if g != nil && s != nil {
		volts = c.Difference(g, s)
	}
	if volts == "" {
		cl.Lacks("no value", "the gate-source voltage of "+m.Ref+" when it is on is not known", "state `in use: V_GS = ...` in its row")
		return
	}
	if limit := m.Part.FactNamed("absmax", "V_GS", "V_GSS"); limit != "" && !openEnded(c, cl, m, "absmax", limit, "") {
		askOf(c, cl, volts+" inside "+m.Ref+".absmax."+limit, free)
	}
	asks := gateRows(m.Part, volts)
	if len(asks) == 0 {
		cl.Lacks("no fact", "no row of the resistance of part "+m.Part.ID+" states its V_GS", "note `spec R_DSon = max ... at V_GS >= 2.5 V`")
		return
	}
	onSupply := g != nil && s != nil && g != s && c.IsRail(s) && c.IsRail(g) && !circuit.IsReturn(g)
	off, now := "", false
	if onSupply {
		off, now = c.OffIn(g)
	}
	if off != "" && !now {
		cl.Settle(record.Passed, "it is on in state `"+off+"`, in which "+g.Name+" is off: judged there")
	} else {
		askOn(c, cl, m, asks, g, onSupply && off == "")
	}
	if g != nil && s != nil && gateOff(c, m, "0 V") != "" {
		text := gateOff(c, m, c.Difference(g, s))
		off := func(k *eval.Criterion) {
			free(k)
			k.Once = "no state of the circuit turns " + m.Ref + " off"
		}
		r := c.ReachOf(g)
		byOutput := len(r.Drivers(circuit.Joint{Comp: m})) > 0
		if byOutput || len(r.Gates) > 0 && c.Judged(text, off) == record.Failed { // what a transistor leaks is seldom noted
			askOf(c, cl, text, off)
		}
	}
	for _, n := range []*circuit.Net{g, s} {
		if n != nil {
			presumeResting(c.ReachOf(n), cl)
		}
	}
	for _, f := range m.Part.FactOrder {
		if circuit.IsOnResistance(f.Name) {
			cl.Entries = append(cl.Entries, f.Rows...)
		}
	}
}

// askOn asks that the gate gets what a row of the resistance asks, in one state at
// least; unsaid says that it is on a supply that may be off.
func askOn(c *board, cl *eval.Claim, m *circuit.Component, asks []string, g *circuit.Net, unsaid bool) {
	askOf(c, cl, strings.Join(asks, " or "), func(k *eval.Criterion) {
		free(k)
		if k.Once = "no state of the circuit drives the gate of " + m.Ref + " so far"; len(asks) > 1 {
			k.Once = ""
		}
		if unsaid {
			k.Once, k.Unsure = "", &record.OpenPoint{Reason: "no fact", Text: "the gate of " + m.Ref +
				" is on the supply " + g.Name + "; what it gets while that is off is not worked out",
				Settle: "add a state to the design block in which " + g.Name + " is off, or state `in use: V_GS = ...` in its row"}
		}
	})
}

// gateOff spells that a gate stays below the least threshold of its transistor,
// "" where that is not noted.
func gateOff(c *board, m *circuit.Component, volts string) string {
	name := m.Part.FactNamed("spec", "V_GS(th)", "V_GSth", "V_GS_th", "V_TH")
	down, known := m.Channel()
	for _, e := range m.Part.RowsOf("spec", name) {
		switch a := circuit.ReadAsked(e.RHS.S); {
		case known && down && a.High != "" && a.Hi < 0:
			return volts + " >= " + a.High
		case known && !down && a.Low != "" && a.Lo > 0:
			return volts + " <= " + a.Low
		}
	}
	return ""
}

// free keeps a criterion to the states in which nothing is plugged in.
func free(k *eval.Criterion) {
	k.Among = func(x *eval.Drive) []string {
		if x.What == eval.APlug {
			return []string{"free"}
		}
		return nil
	}
}

// gateRows spells that the drive reaches the condition of a row of the
// resistance: upwards for a positive voltage, downwards for a negative one. Of
// several rows the easiest decides, as one row met is enough.
func gateRows(p *circuit.Part, drive string) []string {
	var inside []string
	best, easiest := "", math.Inf(1)
	for _, f := range p.FactOrder {
		if f.Section != "spec" || !circuit.IsOnResistance(f.Name) {
			continue
		}
		for _, e := range f.Rows {
			for _, k := range e.Conds {
				a := circuit.ReadAsked(k.Value.S)
				op := k.Op
				switch {
				case k.Name != "V_GS":
					continue
				case a.Nominal == "":
					inside = append(inside, drive+" inside "+strings.TrimSpace(k.Value.S))
					continue
				case op == "=" && a.Nom < 0:
					op = "<="
				case op == "=":
					op = ">="
				}
				if math.Abs(a.Nom) < easiest {
					best, easiest = drive+" "+op+" "+a.Nominal, math.Abs(a.Nom)
				}
			}
		}
	}
	if best != "" {
		return []string{best}
	}
	return inside
}
