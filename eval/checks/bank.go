package checks

import (
	"fmt"
	"math"
	"strings"

	"guardband/eval"
	"guardband/eval/circuit"
	"guardband/units"
)

// This file judges a quantity that capacitors side by side have together: a
// least series resistance asked of one of them is asked of all.

// beside are the other capacitors between the nets of a need.
func beside(c *board, n *need) []*circuit.Component {
	var out []*circuit.Component
	for _, m := range c.View().Between[circuit.PairOf(n.a, n.b)] {
		if m != n.met && m.Sort() == "capacitor" && !m.Open() {
			out = append(out, m)
		}
	}
	return out
}

// askedBank judges the least ESR of capacitors side by side; it says whether
// there are several. What the loop sees depends on the frequency: as currents
// through resistance and capacitance lie at most 90° apart, it is never more
// than the largest of them and never less than all in parallel. In between it
// is open.
func askedBank(c *board, cl *eval.Claim, n *need, name string, a circuit.Asked) bool {
	others := beside(c, n)
	if len(others) == 0 || a.Lo <= 0 {
		return false
	}
	var refs, texts []string
	conductance, most := 0.0, 0.0
	for _, m := range append([]*circuit.Component{n.met}, others...) {
		text, lo, hi := seriesResistance(c, m, name)
		if lo <= 0 && hi >= a.Lo {
			cl.Lacks("no fact", fmt.Sprintf("the %s of %s, in parallel with %s, has no stated minimum, and in parallel they have less than either",
				name, m.Ref, n.met.Ref),
				"give both its ends (`"+name+" 0.1 Ω to 0.5 Ω`), or skip this check with what the sheet says of capacitors in parallel")
			return true
		}
		refs, texts = append(refs, m.Ref), append(texts, text)
		conductance += 1 / lo
		most = math.Max(most, hi)
	}
	list := "([" + strings.Join(texts, ", ") + "])"
	switch {
	case 1 >= conductance*a.Lo:
		c.Try(cl, "parallel"+list+" >= "+a.Low)
	case most < a.Lo:
		c.Try(cl, "max"+list+" >= "+a.Low)
	default:
		ohms := func(f float64) string {
			return units.FormatFloat(f, units.Type{Dim: circuit.DimOhm}, units.Style{Digits: 3})
		}
		cl.Lacks("no fact", fmt.Sprintf("%s are in parallel, so their %s is between %s and %s depending on frequency; required is %s",
			strings.Join(refs, ", "), name,
			ohms(1/conductance), ohms(most), a.Words()), "skip this check with what the sheet says of capacitors in parallel, or with a measurement")
	}
	return true
}

// seriesResistance names the ESR of a capacitor, with its ends; one value alone
// in a row is the largest.
func seriesResistance(c *board, m *circuit.Component, name string) (text string, lo, hi float64) {
	hi = math.Inf(1)
	r := c.Option(m, name)
	if m.Part != nil {
		if f := m.Part.FactNamed("spec", name); f != "" {
			name = f
			r = c.Fact(m, "spec", f, "")
		}
	}
	if !r.IsNumber(circuit.DimOhm) {
		return "", 0, hi
	}
	if r.Known[2] {
		hi = r.At[2]
	}
	if r.Known[0] && (m.Part != nil || circuit.ReadAsked(m.OptionNamed(name)).Nominal == "") {
		lo = r.At[0]
	}
	return m.Ref + "." + name, lo, hi
}

// seriesBranch says that a capacitor reaches the other net of a need through a
// resistor alone, so that it may be the one asked for.
func seriesBranch(c *board, n *need) string {
	if n.row.Kind != "capacitor" {
		return ""
	}
	for _, way := range [][2]*circuit.Net{{n.a, n.b}, {n.b, n.a}} {
		for _, j := range way[0].Joined {
			if j.Comp.Sort() != "capacitor" {
				continue
			}
			mid := j.Comp.Opposite(way[0])
			if mid == nil || mid == way[1] || len(mid.Joined) != 2 {
				continue
			}
			if r := series(mid, j.Comp); r != nil && r.Opposite(mid) == way[1] {
				return j.Comp.Ref + " reaches " + way[1].Name + " through " + r.Ref
			}
		}
	}
	return ""
}
