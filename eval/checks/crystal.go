package checks

import (
	"slices"
	"strings"

	"guardband/eval"
	"guardband/eval/circuit"
)

// crystal asks that a crystal sees the load it is made for, and that its
// oscillator starts.
var crystal = &eval.Check{
	Name: "crystal",
	Rule: "Load: the two capacitors in series plus the stray between the nodes (C_STRAY of the crystal's note, `in use: C_STRAY = ...` of its row, " +
		"a value C_STRAY, or C_STRAY of the oscillator's part) are within a tenth of C_L, or within its columns where it has any; " +
		"where its row states `in use: pull <= 20 ppm`, they pull it by no more. " +
		"A capacitor from node to node adds to the stray; a class of capacitor that goes with temperature counts at both its ends. " +
		"Gain: the transconductance of the oscillator (the fact of the joined part whose name starts with g_, or `in use: g_m = ...`) is at least " +
		"five times (C_1 + C_2)² / (C_1 · C_2) · ESR · (2πf)² · (C_0 + C_load)², which is 4 · ESR · ... for equal capacitors. " +
		"Drive: `in use: P_D = ...` within the drive level noted.",
	Source: "common practice (Pierce oscillator, negative-resistance analysis; factor of five)",
	Run: on(func(c *board, b *eval.Check) {
		for _, m := range c.PlacedParts() {
			if m.Part.Sort() != "crystal" && (m.Part.FactNamed("spec", "C_L") == "" || m.Part.FactNamed("spec", "ESR") == "") {
				continue
			}
			x := &oscillator{c: c, b: b, m: m}
			if x.one, x.two, x.ok = m.Ends(); !x.ok {
				continue // pin-map tells of pins without a net
			}
			x.load()
			x.gain()
			x.drive()
		}
	}),
}

// oscillator is one crystal with what stands around it.
type oscillator struct {
	c        *board
	b        *eval.Check
	m        *circuit.Component
	one, two *circuit.Net
	ok       bool
}

func (x *oscillator) fact(name string) string {
	if n := x.m.Part.FactNamed("spec", name); n != "" {
		return x.m.Ref + "." + n
	}
	return ""
}

// stray spells the stray capacitance between the two nodes.
func (x *oscillator) stray() string {
	if use := x.m.UseNamed("C_STRAY", "C_S"); use != "" {
		return x.m.Ref + ".use." + use
	}
	if f := x.fact("C_STRAY"); f != "" {
		return f
	}
	if x.c.Values.Given("C_STRAY") {
		return "C_STRAY"
	}
	for _, j := range x.one.Joined {
		if j.Pin != nil && j.Comp != x.m && isOn(j.Comp, x.two) {
			if f := j.Comp.Part.FactNamed("spec", "C_STRAY", "C_S"); f != "" {
				return j.Comp.Ref + "." + f
			}
		}
	}
	return ""
}

// capacitance spells what stands from one node to ground: one text, or its least
// and its most where a class of capacitor goes with temperature. These are
// corners: load and gain have their extremes there, the gain because it is a
// sum of products of powers and so convex in the logarithms.
func (x *oscillator) capacitance(n *circuit.Net) []string {
	var low, high []string
	for _, j := range n.Joined {
		m := j.Comp
		if m.NotFitted() || m.Sort() != "capacitor" {
			continue
		}
		if o := m.Opposite(n); o != nil && circuit.IsGround(o.Name) {
			e := effective{low: m.Ref, high: m.Ref}
			if d, ok := dielectricOf(x.c, m); ok && !d.Steady {
				e = effectiveOf(x.c, m)
			}
			low, high = append(low, e.low), append(high, e.high)
		}
	}
	spell := func(l []string) string {
		if len(l) == 1 && !strings.Contains(l[0], " ") {
			return l[0]
		}
		return "(" + strings.Join(l, " + ") + ")"
	}
	switch {
	case len(low) == 0:
		return nil
	case slices.Equal(low, high):
		return []string{spell(low)}
	}
	return []string{spell(low), spell(high)}
}

// seen is the load of the crystal at one corner of the capacitors at its nodes.
type seen struct{ a, b, between string }

// load spells the load, the capacitors in series and what is between the nodes.
func (s seen) load() string { return "1 / (1 / " + s.a + " + 1 / " + s.b + ") + " + s.between }

// seen lists the corners of the load that the crystal sees; what is missing for
// it opens the claim.
func (x *oscillator) seen(cl *eval.Claim) (out []seen) {
	a, b, s := x.capacitance(x.one), x.capacitance(x.two), x.stray()
	for _, n := range []struct {
		text []string
		at   *circuit.Net
	}{{a, x.one}, {b, x.two}} {
		if n.text == nil {
			cl.Lacks("no value", "there is no capacitor from "+n.at.Name+" to ground",
				"place it, or skip this check with the reason (capacitors inside the oscillator)")
		}
	}
	if s == "" {
		cl.Lacks("no value", "the stray capacitance between the nodes of "+x.m.Ref+" is not stated",
			"state `in use: C_STRAY = ...` in its row, or a value C_STRAY")
		return nil
	}
	for _, m := range x.c.View().Between[circuit.PairOf(x.one, x.two)] {
		if m.Sort() == "capacitor" {
			s += " + " + m.Ref
		}
	}
	for _, one := range a {
		for _, two := range b {
			out = append(out, seen{one, two, s})
		}
	}
	return out
}

func (x *oscillator) load() {
	cl := x.c.Claim(x.b, x.m.Ref+".load", "Crystal "+x.m.Label()+" sees the load capacitance it is made for.", x.m.Entry)
	want := x.fact("C_L")
	if want == "" {
		cl.Lacks("no fact", "no load capacitance is noted for part "+x.m.Part.ID, "note `spec C_L = ...`")
		return
	}
	pull, cm, c0 := circuit.StatedOf(x.m, "pull"), x.fact("C_m"), x.fact("C_0")
	if pull != "" && (cm == "" || c0 == "") {
		cl.Lacks("no fact", "how far the load pulls "+x.m.Ref+" is not known", "note `spec C_m = ...` and `spec C_0 = ...` of part "+x.m.Part.ID)
		return
	}
	for _, s := range x.seen(cl) {
		if pull != "" {
			x.c.Try(cl, cm+" / 2 * abs(1 / ("+c0+" + "+s.load()+") - 1 / ("+c0+" + "+want+")) <= "+pull)
			continue
		}
		x.c.Try(cl, "abs("+s.load()+" - "+want+") <= 0.1 * "+want)
	}
}

func (x *oscillator) gain() {
	cl := x.c.Claim(x.b, x.m.Ref+".gain", "The oscillator of crystal "+x.m.Label()+
		" has five times the transconductance it needs to start.", x.m.Entry)
	gm, why := x.transconductance()
	if gm == "" {
		cl.Lacks("no fact", why, "note the transconductance of the oscillator (`spec g_m = min ...`), or state `in use: g_m = U1.g_m` in the row of "+x.m.Ref)
	}
	var f [3]string
	for i, n := range []string{"ESR", "f", "C_0"} {
		if f[i] = x.fact(n); f[i] == "" {
			cl.Lacks("no fact", "no "+n+" is noted for part "+x.m.Part.ID, "note `spec "+n+" = ...`")
		}
	}
	sees := x.seen(cl)
	if gm == "" || f[0] == "" || f[1] == "" || f[2] == "" {
		return
	}
	for _, s := range sees {
		share := "(" + s.a + " + " + s.b + ")^2 / (" + s.a + " * " + s.b + ")"
		x.c.Try(cl, gm+" >= 5 * "+share+" * "+f[0]+" * (2 * pi * "+f[1]+")^2 * ("+f[2]+" + "+s.load()+")^2")
	}
}

// transconductance finds that of the part both nodes lead to.
func (x *oscillator) transconductance() (text, why string) {
	if use := x.m.UseNamed("g_m"); use != "" {
		return x.m.Ref + ".use." + use, ""
	}
	for _, j := range x.one.Joined {
		if j.Pin == nil || j.Comp == x.m || !isOn(j.Comp, x.two) {
			continue
		}
		var found []string
		for _, f := range j.Comp.Part.FactOrder {
			if f.Section == "spec" && strings.HasPrefix(f.Name, "g_") && (len(found) == 0 || found[len(found)-1] != f.Name) {
				found = append(found, f.Name)
			}
		}
		switch len(found) {
		case 0:
			return "", "no transconductance is noted for part " + j.Comp.Part.ID
		case 1:
			return j.Comp.Ref + "." + found[0], ""
		default:
			return "", "part " + j.Comp.Part.ID + " notes several transconductances: " + strings.Join(found, ", ")
		}
	}
	return "", "no part is on both nodes of " + x.m.Ref
}

// isOn says that a part has a pin on a net.
func isOn(m *circuit.Component, n *circuit.Net) bool {
	return slices.ContainsFunc(n.Joined, func(j circuit.Joint) bool { return j.Comp == m })
}

func (x *oscillator) drive() {
	for _, section := range []string{"operating", "absmax"} {
		n := x.m.Part.FactNamed(section, "P_D", "DL", "P_DRIVE")
		if n == "" {
			continue
		}
		if x.m.UseNamed(n) != "" {
			return // judged with the limits of use
		}
		cl := x.c.Claim(x.b, x.m.Ref+".drive", "The drive of crystal "+x.m.Label()+" stays within its drive level.", x.m.Entry)
		cl.Lacks("no value", "the power in "+x.m.Ref+" is not stated",
			"measure the current through it and state `in use: "+n+" = ...` in its row, or skip this check with the reason")
		return
	}
}
