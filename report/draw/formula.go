package draw

import (
	"cmp"

	"guardband/eval/record"
)

// Proportions of a formula, in parts of the size. They follow the usual
// constants of mathematical fonts (the MATH table of OpenType names them:
// axis height, fraction rule, script scale); the figures are common practice.
const (
	axis        = 0.31  // height of the minus sign's bar, where fractions hang
	ruleStroke  = 0.055 // fraction and root rules
	fractionGap = 0.16
	scriptScale = 0.72
	minSize     = 0.5 // scripts of scripts never get smaller than this part of the outer size
	maxDepth    = 200 // deeper formulas are cut and say so
)

// Formula typesets m at size. Fractions, roots, powers and subscripts are
// built of the backend's own faces; brackets that must grow are drawn. A nil
// formula is an empty picture.
func Formula(m *record.Math, metrics Metrics, size float64) Picture {
	if m == nil {
		return Picture{}
	}
	l := layout{m: metrics, smallest: size * minSize}
	return l.math(m, size, 0)
}

// Name typesets a name the way Formula does: V_OUT with its subscript.
func Name(name string, metrics Metrics, size float64) Picture {
	l := layout{m: metrics, smallest: size * minSize}
	return l.name(name, size)
}

type layout struct {
	m        Metrics
	smallest float64
}

func (l layout) text(font Font, size float64, s string) Picture {
	a, d := l.m.Ascent(font, size), l.m.Descent(font, size)
	return Picture{
		W: l.m.Width(font, size, s), H: a + d, Base: a,
		Ops: []Op{{Kind: OpText, X: 0, Y: a, Size: size, Font: font, Text: s}},
	}
}

func (l layout) script(size float64) float64 { return max(size*scriptScale, l.smallest) }

// row sets pictures side by side on one baseline.
func row(ps ...Picture) Picture {
	var q Picture
	depth := 0.0
	for _, p := range ps {
		q.Base = max(q.Base, p.Base)
		depth = max(depth, p.Depth())
	}
	q.H = q.Base + depth
	for _, p := range ps {
		q.place(p, q.W, q.Base-p.Base)
		q.W += p.W
	}
	return q
}

func gap(w float64) Picture { return Picture{W: w} }

// Signs as they are set, from the spelling of the notebook.
var setSigns = map[string]string{
	"*": "·", "-": "−", "<=": "≤", ">=": "≥", "!=": "≠", "==": "=", "&&": "and", "||": "or",
}

// Sign is how an operator is set: "<=" as "≤".
func Sign(op string) string {
	if s, ok := setSigns[op]; ok {
		return s
	}
	return op
}

func (l layout) sign(op string, size float64) Picture {
	pad := size * 0.22
	if op == "*" || op == "·" {
		pad = size * 0.1
	}
	return row(gap(pad), l.text(Regular, size, Sign(op)), gap(pad))
}

func (l layout) math(m *record.Math, size float64, depth int) Picture {
	if depth > maxDepth {
		return l.text(Regular, size, "…")
	}
	arg := func(i int) Picture {
		if i >= len(m.Args) {
			return Picture{}
		}
		return l.math(&m.Args[i], size, depth+1)
	}
	words := func(s string) Picture { return l.text(Regular, size, s) }
	switch m.Op {
	case "name":
		return l.name(m.Text, size)
	case "row":
		return l.list(m, size, depth, func(int) Picture { return l.sign(m.Text, size) })
	case "chain":
		return l.list(m, size, depth, func(i int) Picture {
			if i < len(m.Signs) {
				return l.sign(m.Signs[i], size)
			}
			return gap(size * 0.3)
		})
	case "fraction":
		return l.fraction(arg(0), arg(1), size)
	case "power":
		if len(m.Args) > 1 {
			return l.power(arg(0), l.math(&m.Args[1], l.script(size), depth+1), size)
		}
		return arg(0)
	case "root":
		return l.root(arg(0), size)
	case "neg":
		return row(words("−"), arg(0))
	case "not":
		return row(words("not "), arg(0))
	case "paren":
		return l.bracket(arg(0), '(', ')', size)
	case "list":
		return l.bracket(l.commas(m, size, depth), '[', ']', size)
	case "call":
		return row(l.name(m.Text, size), l.bracket(l.commas(m, size, depth), '(', ')', size))
	case "if":
		return row(words("if "), arg(0), words(" then "), arg(1), words(" else "), arg(2))
	case "inside":
		if len(m.Args) < 3 { // a limit by its name, or a range as one argument
			return row(arg(0), gap(size*0.3), words(cmp.Or(m.Text, "inside")), gap(size*0.3), arg(1))
		}
		return row(arg(0), gap(size*0.3), words(cmp.Or(m.Text, "inside")), gap(size*0.3), arg(1), words(" to "), arg(2))
	case "range":
		return row(arg(0), words(" to "), arg(1))
	}
	return words(m.Text)
}

func (l layout) list(m *record.Math, size float64, depth int, between func(int) Picture) Picture {
	var ps []Picture
	for i := range m.Args {
		if i > 0 {
			ps = append(ps, between(i-1))
		}
		ps = append(ps, l.math(&m.Args[i], size, depth+1))
	}
	return row(ps...)
}

func (l layout) commas(m *record.Math, size float64, depth int) Picture {
	return l.list(m, size, depth, func(int) Picture { return l.text(Regular, size, ", ") })
}
