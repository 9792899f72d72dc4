package html

import (
	"strings"

	"guardband/eval/record"
	"guardband/report/draw"
)

// maxMath is the depth below which a formula is cut with an ellipsis.
const maxMath = 60

// formula sets m in running elements that break over lines as text does:
// fractions one over the other, exponents raised, signs that a reader or a
// copy needs between them.
func (p *page) formula(m *record.Math, class markup) {
	if m != nil {
		p.raw(markup(`<div class="`), class, markup(`">`))
		p.math(m, 0)
		p.raw(markup(`</div>`))
	}
}

// hard keeps the spaces of a number and its unit.
func hard(s string) string { return strings.ReplaceAll(s, " ", "\u00a0") }

// args writes the arguments with a word or sign between them.
func (p *page) args(m *record.Math, depth int, between func(i int) string) {
	for i := range m.Args {
		if i > 0 {
			p.raw(between(i - 1))
		}
		p.math(&m.Args[i], depth+1)
	}
}

func comma(int) string { return ", " }

func spaced(sign string) string { return " " + draw.Sign(sign) + "\u00a0" }

func (p *page) math(m *record.Math, depth int) {
	if depth > maxMath {
		p.raw("…")
		return
	}
	arg := func(i int) {
		if i < len(m.Args) {
			p.math(&m.Args[i], depth+1)
		}
	}
	fenced := func(open, shut string) {
		p.raw(open)
		p.args(m, depth, comma)
		p.raw(shut)
	}
	worded := func(before ...string) {
		for i := range m.Args {
			if i < len(before) {
				p.raw(before[i])
			}
			arg(i)
		}
	}
	switch m.Op {
	case "name":
		p.name(m.Text)
	case "row":
		p.args(m, depth, func(int) string { return spaced(m.Text) })
	case "chain":
		p.args(m, depth, func(i int) string {
			return spaced(strings.Join(m.Signs[min(i, len(m.Signs)):min(i+1, len(m.Signs))], ""))
		})
	case "fraction":
		p.raw(markup(`<span class="fr"><span>`))
		arg(0)
		p.raw(markup(`</span><span class="us"> / </span><span>`))
		arg(1)
		p.raw(markup(`</span></span>`))
	case "power":
		arg(0)
		p.raw(markup(`<span class="us">^</span><sup>`))
		arg(1)
		p.raw(markup(`</sup>`))
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
		p.name(m.Text)
		fenced("(", ")")
	case "if":
		worded("if ", " then ", " else ")
	case "inside":
		word := m.Text
		if word == "" {
			word = "inside"
		}
		worded("", " "+word+" ", " to ")
	case "range":
		worded("", " to ")
	default:
		p.raw(hard(m.Text))
	}
}

// name writes a name with italic symbol and subscript.
func (p *page) name(name string) {
	n := draw.SplitName(name)
	p.raw(markup(`<span class="n">`), n.Path)
	if n.Italic {
		p.raw(markup(`<i>`), n.Base, markup(`</i>`))
	} else {
		p.text(n.Base)
	}
	if n.Sub != "" {
		p.raw(markup(`<span class="us">_</span><sub>`), n.Sub, markup(`</sub>`))
	}
	p.raw(markup(`</span>`))
}
