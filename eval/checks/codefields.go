package checks

import (
	"cmp"
	"fmt"
	"math"
	"regexp"
	"strings"

	"guardband/eval"
	"guardband/eval/circuit"
	"guardband/eval/record"
	"guardband/notebook"
	"guardband/units"
)

// This file compares what the fields of an order code mean, the package apart,
// with what the note of the part says.

// fieldFacts are the facts that a field of a usual name speaks of, the first
// that the part notes; usual words of ordering tables, common practice. The
// empty name holds for fields that name the main value of the part.
var fieldFacts = map[string][]string{
	"":         {"V_OUT", "V_O", "V_REG", "V_REF", "V_Z", "V_RWM", "V_R", "V_RRM", "V_RATED", "V_N", "C", "R", "L", "f", "I_N", "P"},
	"load":     {"C_L"},
	"capacity": {"CAP", "C"},
	"coil":     {"V_COIL"},
	"power":    {"P", "P_R", "P_OUT"},
	"esr":      {"ESR"},
}

// mainFields are names of fields that speak of the main value.
var mainFields = map[string]bool{"volts": true, "volt": true, "voltage": true, "value": true, "output": true,
	"rating": true, "frequency": true, "freq": true, "current": true, "amps": true}

// noted is how one fact compares with a figure of the code.
type noted struct {
	name, shown string
	agrees      bool // one of its rows is that figure
	apart       bool // each of its rows can be read, and lies elsewhere
}

// checkField compares one decoded field with the note.
func checkField(c *board, cl *eval.Claim, m *circuit.Component, d circuit.CodeField) {
	says := d.Field + " " + cmp.Or(d.Code, "(left out)") + " = " + d.Means
	a := circuit.ReadAsked(strings.TrimSpace(strings.TrimPrefix(strings.TrimSpace(d.Means), "±")))
	switch {
	case a.Ok && a.Dim == circuit.DimKelvin && a.Low != "" && a.High != "":
		checkGrade(c, cl, m, says, d.Means, a)
	case a.Ok && a.Nominal != "" && a.Dim.IsZero():
		checkTolerance(c, cl, m.Part, says, d, a)
	case a.Ok && a.Nominal != "":
		checkFigure(c, cl, m.Part, says, d, a)
	case !a.Ok:
		checkWord(c, cl, m, says, d)
	}
}

// checkGrade asks that the surroundings stay in a range of temperature that is
// bought, and that no more is noted.
func checkGrade(c *board, cl *eval.Claim, m *circuit.Component, says, text string, a circuit.Asked) {
	if around := around(c, m); around != "" {
		c.Try(cl, around+" inside "+strings.TrimSpace(text))
	} else {
		cl.Lacks("no value", says+", and the ambient temperature is not stated", "`ambient: -20 °C to 50 °C` in the design block")
	}
	name := m.Part.FactNamed("operating", "T_A", "T_AMB", "T_OP")
	for _, e := range m.Part.RowsOf("operating", name) {
		n := circuit.ReadAsked(e.RHS.S)
		if n.Ok && (n.Low != "" && n.Lo < a.Lo || n.High != "" && n.Hi > a.Hi) {
			cl.Settle(record.Failed, says+", but "+name+" is noted "+strings.TrimSpace(e.RHS.S))
		}
	}
}

// checkFigure compares a quantity of a code with the fact it speaks of.
func checkFigure(c *board, cl *eval.Claim, p *circuit.Part, says string, d circuit.CodeField, a circuit.Asked) {
	if f := fieldFact(p, d.Field, a.Dim); f != nil {
		switch n := comparedWith(f, a); {
		case n.agrees:
			cl.Settle(record.Passed, says+", as "+n.name+" is noted")
		case n.apart:
			cl.Settle(record.Failed, says+", but "+n.name+" is noted "+n.shown)
		default:
			cl.Lacks("no fact", says+", and whether "+n.name+", noted "+n.shown+", is that is not known", "note "+n.name+" with its nominal value")
		}
		return
	}
	any := false
	for _, f := range p.FactOrder {
		of, n := speaksOf(f, a.Dim), comparedWith(f, a)
		if any = any || of; of && n.agrees {
			cl.Settle(record.Passed, says+", as "+n.name+" is noted")
			return
		}
	}
	for _, n := range titleNumbers(p.Title) {
		if q, err := units.ParseLiteral(n); err == nil && q.Type.Dim == a.Dim {
			if any = true; near(units.Float(q.SI), a.Nom) {
				return
			}
		}
	}
	if any {
		cl.Lacks("no fact", says+", and no fact of the part in "+circuit.UnitOf(a.Nominal)+" is that",
			"name the field after the fact it speaks of (`field V_OUT: ...`), and note that fact")
	}
}

// checkTolerance compares a tolerance of a code with the spread of the main
// value: what is noted may be more, as over temperature, but not less.
func checkTolerance(c *board, cl *eval.Claim, p *circuit.Part, says string, d circuit.CodeField, a circuit.Asked) {
	word := strings.ToLower(d.Field)
	if !strings.HasPrefix(word, "tol") && word != "accuracy" && word != "precision" {
		return
	}
	name := p.FactNamed("spec", fieldFacts[""]...)
	for _, e := range p.RowsOf("spec", name) {
		n := circuit.ReadAsked(e.RHS.S)
		shown := strings.TrimSpace(e.RHS.S)
		switch centre := (n.Lo + n.Hi) / 2; {
		case n.Ok && n.Nominal != "":
			cl.Lacks("no fact", says+", and "+name+" is noted "+shown+" alone", "note it with its tolerance: `spec "+
				name+" = "+shown+" ± "+a.Nominal+"`")
		case !n.Ok || n.Low == "" || n.High == "" || centre == 0:
		case (n.Hi-n.Lo)/2 < math.Abs(centre)*a.Nom*(1-1e-6):
			cl.Settle(record.Failed, says+", but "+name+" is noted "+shown)
		default:
			cl.Settle(record.Passed, says+", as "+name+" is noted")
		}
	}
}

var counted = regexp.MustCompile(`^(\d+) (pins|pads|contacts|ways|leads|terminals|poles)$`)

// checkWord compares a meaning in words with a class of ceramic, the count of
// pins, or the title.
func checkWord(c *board, cl *eval.Claim, m *circuit.Component, says string, d circuit.CodeField) {
	title, means := strings.ToLower(m.Part.Title), strings.TrimSpace(d.Means)
	for _, k := range circuit.Dielectrics {
		if k.Name == means && m.Sort() == "capacitor" {
			checkClass(c, cl, m, says, k)
			return
		}
	}
	if x := counted.FindStringSubmatch(means); x != nil {
		have := 0
		for _, q := range m.Pins() {
			if q.Row.Type != "thermal pad" {
				have += len(q.Row.Numbers)
			}
		}
		pads, known := circuit.PackagePads(circuit.LandPattern(m))
		if n := fmt.Sprint(have); have > 0 && n != x[1] && !(known && fmt.Sprint(pads) == x[1]) && !strings.Contains(title, means) {
			cl.Lacks("no fact", says+", and "+n+" are noted", "note the pins of the version that is bought, or skip this check with the reason")
		}
		return
	}
	if len(means) < 4 || hasWords(title, means) {
		return
	}
	for _, o := range circuit.OptionsOf(m.Part)[d.Field] {
		if other := strings.TrimSpace(o.Means); len(other) > 3 && other != means && hasWords(title, other) {
			cl.Lacks("no fact", says+", and the title says "+other, "order the one that is noted, or note the one that is ordered")
		}
	}
}

// checkClass compares a class of ceramic with the row of the board and with the
// surroundings it holds for.
func checkClass(c *board, cl *eval.Claim, m *circuit.Component, says string, k circuit.Dielectric) {
	for _, o := range m.Row.Options {
		for _, other := range circuit.Dielectrics {
			if t := strings.TrimSpace(o.S); t == other.Name && t != k.Name {
				cl.Settle(record.Failed, says+", but the row of "+m.Ref+" says "+t)
			}
		}
	}
	if around := around(c, m); around != "" {
		c.Try(cl, around+" inside "+k.From+" to "+k.To)
	}
}

// fieldFact is the fact that a field speaks of, nil where its name does not
// tell: a fact of that name, or one that fields of that name usually mean.
func fieldFact(p *circuit.Part, field string, dim units.Dim) *circuit.Fact {
	word := strings.ToLower(field)
	names := append([]string{field}, fieldFacts[word]...)
	if mainFields[word] {
		names = append(names, fieldFacts[""]...)
	}
	for _, n := range names {
		for _, f := range p.FactOrder {
			if circuit.SameSymbol(f.Name, n) && len(f.Selectors) == 0 && speaksOf(f, dim) {
				return f
			}
		}
	}
	return nil
}

// speaksOf says that a row of a fact is a quantity of a dimension.
func speaksOf(f *circuit.Fact, dim units.Dim) bool {
	for _, e := range f.Rows {
		if a := circuit.ReadAsked(e.RHS.S); a.Ok && a.Dim == dim {
			return true
		}
	}
	return false
}

// comparedWith compares the rows of a fact with a figure.
func comparedWith(f *circuit.Fact, a circuit.Asked) noted {
	n := noted{name: f.Name, apart: true}
	var shown []string
	for _, e := range f.Rows {
		text := strings.TrimSpace(e.RHS.S)
		shown = append(shown, text)
		agrees, apart := rowAgainst(e, a, f.Section == "spec")
		n.agrees, n.apart = n.agrees || agrees, n.apart && apart
	}
	n.shown = circuit.SomeOf(shown, 2)
	return n
}

// rowAgainst compares one row with a figure: its nominal value, else the range
// it is in; of a limit one of its ends.
func rowAgainst(e *notebook.Entry, a circuit.Asked, spec bool) (agrees, apart bool) {
	n := circuit.ReadAsked(e.RHS.S)
	if !n.Ok || n.Dim != a.Dim {
		return false, false
	}
	parts, _ := units.Split(e.RHS.S)
	inside := n.Low != "" && n.High != "" && n.Lo <= a.Nom && a.Nom <= n.Hi
	for _, l := range []units.Leaf{parts.Typ, parts.Centre} {
		if l.Present() {
			q, err := units.ParseLiteral(strings.TrimSpace(e.RHS.S[l.Off:l.End]))
			if err == nil {
				agrees = near(units.Float(q.SI), a.Nom)
				return agrees, !agrees && !inside
			}
		}
	}
	agrees = n.Nominal != "" && near(n.Nom, a.Nom) || n.Low != "" && near(n.Lo, a.Nom) || n.High != "" &&
		near(n.Hi, a.Nom) || spec && inside
	return agrees, !agrees && !inside
}

func near(a, b float64) bool { return math.Abs(a-b) <= 1e-6*math.Max(math.Abs(a), math.Abs(b)) }

var titled = regexp.MustCompile(`[0-9][0-9.]* ?[A-Za-zµΩ°%]+`)

// titleNumbers are what reads like quantities in a title.
func titleNumbers(title string) []string { return titled.FindAllString(title, -1) }

// hasWords says that a text holds others as whole words.
func hasWords(text, words string) bool {
	fold := func(s string) string {
		return " " + strings.Join(strings.FieldsFunc(strings.ToLower(s),
			func(r rune) bool { return r == ' ' || r == ',' || r == ';' || r == '(' || r == ')' }), " ") + " "
	}
	return strings.Contains(fold(text), fold(words))
}
