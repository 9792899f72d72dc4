package eval

import (
	"math"
	"strings"

	"guardband/eval/circuit"
	"guardband/eval/record"
	"guardband/units"
)

// dielectric is one class of ceramic: how far its capacitance goes from the
// value at 25 °C between two temperatures, bias apart.
type dielectric struct {
	name      string
	low, high string // change, as factors of a formula
	from, to  string // temperatures
	steady    bool   // class 1: no loss with bias or age
}

// dielectrics by the codes of EIA-198 and IEC 60384-21/-22, from memory of the
// standards. Class 1 is given its 30 ppm/K over 100 K, rounded up.
var dielectrics = []dielectric{
	{"C0G", "(1 - 0.3 %)", "(1 + 0.3 %)", "-55 °C", "125 °C", true}, {"NP0", "(1 - 0.3 %)", "(1 + 0.3 %)", "-55 °C", "125 °C", true},
	{"X5R", "(1 - 15 %)", "(1 + 15 %)", "-55 °C", "85 °C", false}, {"X7R", "(1 - 15 %)", "(1 + 15 %)", "-55 °C", "125 °C", false}, {"X8R", "(1 - 15 %)", "(1 + 15 %)", "-55 °C", "150 °C", false},
	{"X5S", "(1 - 22 %)", "(1 + 22 %)", "-55 °C", "85 °C", false}, {"X6S", "(1 - 22 %)", "(1 + 22 %)", "-55 °C", "105 °C", false}, {"X7S", "(1 - 22 %)", "(1 + 22 %)", "-55 °C", "125 °C", false},
	{"X6T", "(1 - 33 %)", "(1 + 22 %)", "-55 °C", "105 °C", false}, {"X7T", "(1 - 33 %)", "(1 + 22 %)", "-55 °C", "125 °C", false},
	{"Y5V", "(1 - 82 %)", "(1 + 22 %)", "-30 °C", "85 °C", false}, {"Z5U", "(1 - 56 %)", "(1 + 22 %)", "10 °C", "85 °C", false},
}

// effective is what is left of a capacitor in use, as two formulas.
type effective struct {
	low, high string
	inside    string             // the temperatures the class holds for, "" without
	lacks     []record.OpenPoint // what is not known of the lower end
	presumed  string
}

// effectiveOf works out the formulas of capacitance: value with its tolerance,
// times the change over temperature (fact dC_T, or the class of the row),
// times what bias leaves (fact KEPT, or the option `retention 62 %`), times
// what age leaves (fact AGED, or the option `aged 90 %`).
func (c *compiler) effectiveOf(m *circuit.Component) effective {
	e := effective{low: m.Ref, high: m.Ref}
	missing := func(text, settle string) {
		e.lacks = append(e.lacks, record.OpenPoint{Reason: "no fact", Text: text, Settle: settle})
	}
	fact := func(names ...string) string {
		if m.Part == nil {
			return ""
		}
		if n := m.Part.FactNamed("spec", names...); n != "" {
			return m.Ref + "." + n
		}
		return ""
	}
	class, known := c.dielectricOf(m)
	switch f := fact("dC_T", "ΔC_T", "TC_C"); {
	case f != "":
		e.low, e.high = e.low+" * (1 + "+f+")", e.high+" * (1 + "+f+")"
	case known:
		e.low, e.high, e.inside = e.low+" * "+class.low, e.high+" * "+class.high, class.from+" to "+class.to
		e.presumed = class.name + " keeps its capacitance within " + class.low + " to " + class.high + " of it from " + class.from + " to " + class.to + ", the figures of EIA-198"
	default:
		missing("how far the capacitance of "+m.Ref+" goes with temperature is not known", "give the row its class (X7R, C0G), or note `spec dC_T = -15 % to 15 %`")
	}
	keep := func(f, option, of, settle string) {
		switch {
		case f != "":
			e.low, e.high = e.low+" * "+f, e.high+" * "+f
		case option != "":
			e.low += " * " + option
		case of != "" && !(known && class.steady):
			missing("what "+of+" leaves of "+m.Ref+" is not known", settle)
		}
	}
	bias := "the voltage across it"
	if m.SteadyMake() {
		bias = ""
	}
	keep(fact("KEPT"), m.OptionNamed("retention", "keeps"), bias, "note `spec KEPT` from the bias curve of this very part, or give the row `retention 62 %`")
	keep(fact("AGED"), m.OptionNamed("aged"), "", "")
	return e
}

// dielectric is the class of a capacitor: an option of its row, else the
// meaning of a field of its order code.
func (c *compiler) dielectricOf(m *circuit.Component) (dielectric, bool) {
	for _, d := range dielectrics {
		for _, o := range m.Row.Options {
			if strings.TrimSpace(o.S) == d.name {
				return d, true
			}
		}
	}
	if m.Part != nil && len(m.Part.Orders) == 1 {
		got, _ := c.decodedOf(m.Part, codeOf(m))
		for _, f := range got {
			for _, d := range dielectrics {
				if strings.TrimSpace(f.means) == d.name {
					return d, true
				}
			}
		}
	}
	return dielectric{}, false
}

// sizes of a two-terminal part in floating point, to choose among parts; what
// is chosen is then proven with exact numbers.
type sizes struct {
	nominal, least, most float64
	known                bool
	bulk                 bool // made to store charge, not for high frequencies
}

// roughColumns are columns in floating point, where they are numbers.
type roughColumns struct {
	at    [3]float64
	known [3]bool
}

// roughly gives the columns of a symbol that are numbers.
func (c *compiler) roughly(y *symbol) (k roughColumns) {
	c.lower(y)
	for i, v := range y.cols {
		if v == nil {
			continue
		}
		if r, ok := c.b.ConstOf(v.Reg); ok {
			k.at[i], k.known[i] = units.Float(r), true
		}
	}
	return k
}

func (c *compiler) sizesOf(m *circuit.Component) sizes {
	y := c.componentSymbol(m)
	if y == nil {
		return sizes{}
	}
	k := c.roughly(y)
	s := sizes{bulk: m.Says("electrolytic")}
	lo, a := k.at[0], k.known[0]
	typ, b := k.at[1], k.known[1]
	hi, d := k.at[2], k.known[2]
	switch {
	case b:
		s.nominal = typ
	case a && d:
		s.nominal = (lo + hi) / 2
	default:
		return s
	}
	s.known, s.least, s.most = true, math.Inf(-1), math.Inf(1)
	if a {
		s.least = lo
	}
	if d {
		s.most = hi
	}
	if class, ok := c.dielectricOf(m); ok && m.Sort() == "capacitor" {
		s.least *= losses[class.low]
	}
	if q, err := units.ParseLiteral(m.OptionNamed("retention", "keeps")); err == nil {
		s.least *= units.Float(q.SI)
	}
	return s
}

// losses are the lower factors of the classes as numbers.
var losses = map[string]float64{"(1 - 0.3 %)": 0.997, "(1 - 15 %)": 0.85, "(1 - 22 %)": 0.78, "(1 - 33 %)": 0.67, "(1 - 82 %)": 0.18, "(1 - 56 %)": 0.44}
