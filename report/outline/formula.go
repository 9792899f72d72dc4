package outline

import (
	"cmp"
	"strings"

	"guardband/eval/record"
)

// Signs as they are set, from the spelling of the notebook.
var setSigns = map[string]string{
	"*": "·", "-": "−", "<=": "≤", ">=": "≥", "!=": "≠", "==": "=", "&&": "and", "||": "or",
}

// sign is how an operator is set: "<=" as "≤".
func sign(op string) string { return cmp.Or(setSigns[op], op) }

// mathText is a formula on its way to running text.
type mathText struct {
	out   Text
	style Style
}

// MathText sets m as running text with signs that a reader or a copy needs.
// Marks in it let a form set fractions one over the other.
func MathText(m *record.Math) Text {
	if m == nil {
		return nil
	}
	var f mathText
	f.set(m, 0)
	return f.out
}

func (f *mathText) put(style Style, s string) {
	f.out = append(f.out, Span{Text: s, Style: style | f.style})
}

func (f *mathText) set(m *record.Math, depth int) {
	if depth > maxDepth {
		f.put(0, "…")
		return
	}
	arg := func(i int) {
		if i < len(m.Args) {
			f.set(&m.Args[i], depth+1)
		}
	}
	between := func(word func(i int) string) {
		for i := range m.Args {
			if i > 0 {
				f.put(0, word(i-1))
			}
			arg(i)
		}
	}
	fenced := func(open, shut string) {
		f.put(0, open)
		between(func(int) string { return ", " })
		f.put(0, shut)
	}
	worded := func(before ...string) {
		for i := range m.Args {
			if i < len(before) && before[i] != "" {
				f.put(0, before[i])
			}
			arg(i)
		}
	}
	spaced := func(op string) string { return " " + sign(op) + "\u00a0" }
	switch m.Op {
	case "name":
		f.put(Name, m.Text)
	case "row":
		between(func(int) string { return spaced(m.Text) })
	case "chain":
		between(func(i int) string {
			return spaced(strings.Join(m.Signs[min(i, len(m.Signs)):min(i+1, len(m.Signs))], ""))
		})
	case "fraction":
		f.put(Over, "")
		f.part(m, 0, depth, false)
		f.put(Under, " / ")
		f.part(m, 1, depth, true)
		f.put(Whole, "")
	case "power":
		f.part(m, 0, depth, true)
		f.put(Up, "^")
		outer := f.style
		f.style |= Exponent
		f.part(m, 1, depth, true)
		f.style = outer
		f.put(Down, "")
	case "root":
		fenced("√(", ")")
	case "neg":
		worded("−")
	case "not":
		worded("not ")
	case "paren":
		fenced("(", ")")
	case "list":
		fenced("[", "]")
	case "call":
		f.put(Name, m.Text)
		fenced("(", ")")
	case "if":
		worded("if ", " then ", " else ")
	case "inside": // with a limit by its name, or a range as one argument or two
		worded("", " "+cmp.Or(m.Text, "inside")+" ", " to ")
	case "range":
		worded("", " to ")
	default:
		f.put(0, strings.ReplaceAll(m.Text, " ", "\u00a0")) // a number keeps its unit
	}
}

// part sets an argument of a fraction or a power, in brackets for a form that
// sets it on one line and would bind it otherwise; tight is what binds closer
// than a product.
func (f *mathText) part(m *record.Math, i, depth int, tight bool) {
	if i >= len(m.Args) {
		return
	}
	a := &m.Args[i]
	loose := false
	switch a.Op {
	case "chain", "if", "inside", "range":
		loose = true
	case "row":
		loose = tight || sign(a.Text) != "·"
	case "fraction":
		loose = tight
	case "number":
		loose = strings.Contains(a.Text, " to ")
	}
	if loose {
		f.put(Flat, "(")
	}
	f.set(a, depth+1)
	if loose {
		f.put(Flat, ")")
	}
}
