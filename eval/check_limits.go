package eval

import (
	"fmt"
	"strings"

	"guardband/eval/circuit"
	"guardband/eval/record"
)

// LimitCoverage asks that no noted limit is forgotten: a limit that nothing
// judges says as little as one that nobody noted.
var LimitCoverage = &Check{
	Name: "limits",
	Rule: "Each limit noted of a placed part (`operating`, `absmax`) is judged by a claim, or skipped by its name " +
		"with a reason (`skip limits.U1.f_CLK: ...`, or of a type `skip limits.TQG8.f_CLK: ...`). " +
		"A limit without an end limits nothing and is not counted. A limit judged at one pin is not thereby judged at each. " +
		"So is one of which the circuit alone shows that nothing comes near it: of pins that nothing but the " +
		"part's own supply reaches, of inputs where none is read, of a charging current where nothing charges.",
	Source: "common practice",
	Run: on(func(c *compiler, b *Check) {
		x := &limitJudges{c: c, judged: map[limit]bool{}}
		x.gather()
		if x.noted() == 0 {
			return
		}
		cl := c.Claim(b, "", "Every noted limit of a placed part is judged by a claim, or skipped with a reason.", nil)
		x.tell(cl)
		c.limits = [2]int{x.count, x.open}
	}),
}

// limit is one noted of a placed part.
type limit struct {
	m   *circuit.Component
	def *circuit.Fact
}

// limitJudges is which limits of which placed parts the claims judge.
type limitJudges struct {
	c                    *compiler
	judged               map[limit]bool
	count, open, skipped int
}

// gather finds the limits that the claims made so far rest on.
func (x *limitJudges) gather() {
	c := x.c
	of := map[*symbol]limit{}
	for k, y := range c.facts {
		if k.comp != nil && k.comp.Part != nil && (k.section == "operating" || k.section == "absmax") {
			if def, _ := k.comp.Part.Choose(k.section, k.name, k.pin); def != nil {
				of[y] = limit{k.comp, def}
			}
		}
	}
	for _, cl := range c.claims {
		for _, y := range closure(cl.uses) {
			if l, ok := of[y]; ok {
				x.judged[l] = true
			}
		}
		if cl.check == nil {
			continue
		}
		_, subject, _ := strings.Cut(cl.id, ".")
		ref, _, _ := strings.Cut(subject, ".")
		m, ok := c.Comps.Get(ref)
		if !ok || m.Part == nil {
			continue
		}
		for _, e := range cl.Entries { // one that is open without a formula names the limit by its row
			for _, f := range m.Part.FactOrder {
				if f.Section != "spec" && f.Rows[0] == e {
					x.judged[limit{m, f}] = true
				}
			}
		}
	}
}

// Spares notes that nothing on the board comes near a limit of a placed part.
func (c *compiler) Spares(m *circuit.Component, f *circuit.Fact, why string) {
	c.spared[limit{m, f}] = why
}

// limitsOf are the limits of a placed part that have an end.
func limitsOf(m *circuit.Component) []*circuit.Fact {
	var out []*circuit.Fact
	for _, f := range m.Part.FactOrder {
		if f.Section != "spec" && !circuit.Endless(f) {
			out = append(out, f)
		}
	}
	return out
}

func (x *limitJudges) noted() int {
	for _, m := range x.c.PlacedParts() {
		x.count += len(limitsOf(m))
	}
	return x.count
}

// tell lists what nothing judges, once a part.
func (x *limitJudges) tell(cl *Claim) {
	for _, m := range x.c.PlacedParts() {
		var missing []string
		for _, f := range limitsOf(m) {
			name := m.Ref + "." + f.Section + "." + f.Name
			switch s := x.c.limitSkip(m, f.Name); {
			case x.judged[limit{m, f}]:
			case s != nil && s.waiver != nil:
				x.skipped++
				cl.Settle(record.Passed, name+" is waived until "+s.waiver.Until+": "+s.waiver.Reason)
			case s != nil:
				x.skipped++
				cl.Settle(record.Passed, name+" is skipped: "+s.reason)
			case x.c.spared[limit{m, f}] != "":
				cl.Settle(record.Passed, name+": "+x.c.spared[limit{m, f}])
			default:
				missing = append(missing, f.Section+" "+f.Name)
			}
		}
		if len(missing) > 0 {
			x.open += len(missing)
			first := strings.Fields(missing[0])[1]
			cl.Lacks("no claim", m.Label()+": "+strings.Join(missing, ", "), "claim it (`"+m.Ref+"."+
				missing[0][:strings.IndexByte(missing[0], ' ')]+"."+first+"` in a criterion), state the use (`in use: "+first+
				" = ...`), or `skip limits."+m.Ref+"."+first+": reason`")
		}
	}
	if judged := x.count - x.open - x.skipped; judged > 0 {
		cl.Settle(record.Passed, fmt.Sprintf("%d of %d noted limits are judged by claims", judged, x.count))
	}
}

// limitSkip is the skip of a limit of a placed part, by its designator or its
// type; a waiver counts until its day.
func (c *compiler) limitSkip(m *circuit.Component, name string) *skip {
	for _, of := range []string{m.Ref, m.Part.ID} {
		s := c.skips["limits."+of+"."+name]
		if s == nil {
			continue
		}
		s.used = true
		if s.waiver == nil || c.opt.On == "" || c.opt.On <= s.waiver.Until {
			return s
		}
	}
	return nil
}
