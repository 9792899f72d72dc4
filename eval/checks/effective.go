package checks

import (
	"math"
	"strings"

	"guardband/eval/circuit"
	"guardband/eval/record"
	"guardband/units"
)

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
func effectiveOf(c *board, m *circuit.Component) effective {
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
	class, known := dielectricOf(c, m)
	switch f := fact("dC_T", "ΔC_T", "TC_C"); {
	case f != "":
		e.low, e.high = e.low+" * (1 + "+f+")", e.high+" * (1 + "+f+")"
	case known:
		e.low, e.high, e.inside = e.low+" * "+class.Low, e.high+" * "+class.High, class.From+" to "+class.To
		e.presumed = class.Name + " keeps its capacitance within " + class.Low + " to " + class.High + " of it from " +
			class.From + " to " + class.To + ", the figures of EIA-198"
	default:
		missing("how far the capacitance of "+m.Ref+" goes with temperature is not known",
			"give the row its class (X7R, C0G), or note `spec dC_T = -15 % to 15 %`")
	}
	keep := func(f, option, of, settle string) {
		switch {
		case f != "":
			e.low, e.high = e.low+" * "+f, e.high+" * "+f
		case option != "":
			e.low += " * " + option
		case of != "" && !(known && class.Steady):
			missing("what "+of+" leaves of "+m.Ref+" is not known", settle)
		}
	}
	bias := "the voltage across it"
	if m.SteadyMake() {
		bias = ""
	}
	keep(fact("KEPT"), m.OptionNamed("retention", "keeps"), bias,
		"note `spec KEPT` from the bias curve of this very part, or give the row `retention 62 %`")
	keep(fact("AGED"), m.OptionNamed("aged"), "", "")
	return e
}

// dielectric is the class of a capacitor: an option of its row, else the
// meaning of a field of its order code.
func dielectricOf(c *board, m *circuit.Component) (circuit.Dielectric, bool) {
	for _, d := range circuit.Dielectrics {
		for _, o := range m.Row.Options {
			if strings.TrimSpace(o.S) == d.Name {
				return d, true
			}
		}
	}
	if m.Part != nil && len(m.Part.Orders) == 1 {
		got, _ := circuit.DecodedOf(m.Part, circuit.CodeOf(m))
		for _, f := range got {
			for _, d := range circuit.Dielectrics {
				if strings.TrimSpace(f.Means) == d.Name {
					return d, true
				}
			}
		}
	}
	return circuit.Dielectric{}, false
}

// sizes of a two-terminal part in floating point, to choose among parts; what
// is chosen is then proven with exact numbers.
type sizes struct {
	nominal, least, most float64
	known                bool
	bulk                 bool // made to store charge, not for high frequencies
}

func sizesOf(c *board, m *circuit.Component) sizes {
	k := c.ValueOf(m)
	if k == nil {
		return sizes{}
	}
	s := sizes{bulk: m.Says("electrolytic")}
	lo, a := k.At[0], k.Known[0]
	typ, b := k.At[1], k.Known[1]
	hi, d := k.At[2], k.Known[2]
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
	if class, ok := dielectricOf(c, m); ok && m.Sort() == "capacitor" {
		s.least *= losses[class.Low]
	}
	if q, err := units.ParseLiteral(m.OptionNamed("retention", "keeps")); err == nil {
		s.least *= units.Float(q.SI)
	}
	return s
}

// losses are the lower factors of the classes as numbers.
var losses = map[string]float64{"(1 - 0.3 %)": 0.997, "(1 - 15 %)": 0.85, "(1 - 22 %)": 0.78, "(1 - 33 %)": 0.67,
	"(1 - 82 %)": 0.18, "(1 - 56 %)": 0.44}
