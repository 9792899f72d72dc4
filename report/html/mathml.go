package html

import (
	"strings"
	"unicode/utf8"

	"guardband/eval/record"
	"guardband/report/draw"
)

// maxMath is the depth below which a formula is cut with an ellipsis; browsers
// give up on far less than a hostile formula can have.
const maxMath = 60

// formula writes m as MathML Core. It is written in pieces at its outer
// comparisons and sums, so that a long formula breaks over lines.
func (p *page) formula(m *record.Math, class markup) {
	if m == nil {
		return
	}
	p.raw(markup(`<div class="`), class, markup(`"`))
	if widest(m, 0) > narrowest {
		p.raw(markup(` tabindex="0" role="group" aria-label="Formula"`))
	}
	p.raw(markup(`>`))
	p.pieces(m, "", 0)
	p.raw(markup(`</div>`))
}

// narrowest is the room for a formula on a phone in CSS pixels; a piece that is
// wider scrolls, and must be reached by keyboard.
const narrowest = 290

// widest is the width of the widest piece that pieces writes.
func widest(m *record.Math, depth int) float64 {
	if depth < 4 && len(m.Args) > 0 && (m.Op == "chain" || m.Op == "row" && breaks[m.Text]) {
		w := 0.0
		for i := range m.Args {
			w = max(w, widest(&m.Args[i], depth+1))
		}
		return w
	}
	return draw.Formula(m, draw.Plain{}, 15).W
}

// breaks are the signs at which a line may break.
var breaks = map[string]bool{
	"<": true, "<=": true, ">": true, ">=": true, "==": true, "!=": true, "≤": true, "≥": true, "=": true,
	"+": true, "-": true, "−": true, "and": true, "or": true,
}

// pieces writes m after sign, opened at its outer signs.
func (p *page) pieces(m *record.Math, sign string, depth int) {
	switch {
	case m.Op == "row" && breaks[m.Text] && depth < 4 && len(m.Args) > 0:
		p.pieces(&m.Args[0], sign, depth+1)
		for i := range m.Args[1:] {
			p.pieces(&m.Args[i+1], m.Text, depth+1)
		}
	case m.Op == "chain" && len(m.Args) > 0 && depth < 4:
		p.pieces(&m.Args[0], sign, depth+1)
		for i := range m.Args[1:] {
			s := ""
			if i < len(m.Signs) {
				s = m.Signs[i]
			}
			p.pieces(&m.Args[i+1], s, depth+1)
		}
	default:
		p.raw(markup(`<math>`))
		p.leading(sign)
		p.math(m, 0)
		p.raw(markup(`</math> `))
	}
}

// leading writes the sign that a piece begins with; the blank between the
// pieces is the space before it.
func (p *page) leading(s string) {
	switch s {
	case "":
	case "and", "or":
		p.raw(markup(`<mtext>`), s, markup(`</mtext><mspace width=".3em"></mspace>`))
	default:
		p.raw(markup(`<mo form="infix" lspace="0" rspace=".3em" stretchy="false">`), draw.Sign(s), markup(`</mo>`))
	}
}

// sign writes an operator with its spaces.
func (p *page) sign(s string) {
	switch s {
	case "":
	case "*", "·":
		p.raw(markup(`<mo lspace=".22em" rspace=".22em">·</mo>`))
	case "and", "or", "in", "inside", "not inside", "to":
		p.raw(markup(`<mspace width=".35em"></mspace><mtext>`), s, markup(`</mtext><mspace width=".35em"></mspace>`))
	default:
		p.raw(markup(`<mo form="infix" lspace=".25em" rspace=".25em" stretchy="false">`), draw.Sign(s), markup(`</mo>`))
	}
}

func (p *page) mtext(s string) { p.raw(markup(`<mtext>`), hard(s), markup(`</mtext>`)) }

// hard keeps the blanks of a number and its unit.
func hard(s string) string { return strings.ReplaceAll(s, " ", "\u00a0") }

func (p *page) args(m *record.Math, depth int, between func(i int)) {
	for i := range m.Args {
		if i > 0 {
			between(i - 1)
		}
		p.math(&m.Args[i], depth+1)
	}
}

func (p *page) comma(int) { p.raw(markup(`<mo separator="true">,</mo>`)) }

// group writes argument i as one row.
func (p *page) group(m *record.Math, i, depth int) {
	p.raw(markup(`<mrow>`))
	if i < len(m.Args) {
		p.math(&m.Args[i], depth+1)
	}
	p.raw(markup(`</mrow>`))
}

func (p *page) fenced(open, shut markup, inside func()) {
	p.raw(markup(`<mrow><mo fence="true" form="prefix">`), open, markup(`</mo>`))
	inside()
	p.raw(markup(`<mo fence="true" form="postfix">`), shut, markup(`</mo></mrow>`))
}

func (p *page) math(m *record.Math, depth int) {
	if depth > maxMath {
		p.raw(markup(`<mtext>…</mtext>`))
		return
	}
	switch m.Op {
	case "name":
		p.mathName(m.Text)
	case "number": // no mtext: MathML counts it as a space, and drops the operators' own
		p.raw(markup(`<mn>`), hard(m.Text), markup(`</mn>`))
	case "row":
		p.args(m, depth, func(int) { p.sign(m.Text) })
	case "chain":
		p.args(m, depth, func(i int) {
			if i < len(m.Signs) {
				p.sign(m.Signs[i])
			}
		})
	case "fraction":
		p.raw(markup(`<mfrac>`))
		p.group(m, 0, depth)
		p.group(m, 1, depth)
		p.raw(markup(`</mfrac>`))
	case "power":
		p.raw(markup(`<msup>`))
		p.group(m, 0, depth)
		p.group(m, 1, depth)
		p.raw(markup(`</msup>`))
	case "root":
		p.mathRoot(m, depth)
	case "neg":
		p.raw(markup(`<mo form="prefix" rspace="0">−</mo>`))
		p.args(m, depth, p.comma)
	case "not":
		p.sign("not")
		p.args(m, depth, p.comma)
	case "paren":
		p.fenced("(", ")", func() { p.args(m, depth, p.comma) })
	case "list":
		p.fenced("[", "]", func() { p.args(m, depth, p.comma) })
	case "call":
		if m.Text == "sqrt" && len(m.Args) == 1 {
			p.mathRoot(m, depth)
			return
		}
		p.mathName(m.Text)
		p.fenced("(", ")", func() { p.args(m, depth, p.comma) })
	case "if":
		p.worded(m, depth, "if ", " then ", " else ")
	case "inside":
		sign := m.Text
		if sign == "" {
			sign = "inside"
		}
		p.worded(m, depth, "", " "+sign+" ", " to ")
	case "range":
		p.worded(m, depth, "", " to ")
	default:
		p.mtext(m.Text)
	}
}

// worded writes the arguments with a word before each.
func (p *page) worded(m *record.Math, depth int, before ...string) {
	for i := range m.Args {
		if i < len(before) && before[i] != "" {
			p.mtext(before[i])
		}
		p.math(&m.Args[i], depth+1)
	}
}

func (p *page) mathRoot(m *record.Math, depth int) {
	if len(m.Args) > 1 {
		p.raw(markup(`<mroot>`))
		p.group(m, 0, depth)
		p.group(m, 1, depth)
		p.raw(markup(`</mroot>`))
		return
	}
	p.raw(markup(`<msqrt>`))
	p.args(m, depth, p.comma)
	p.raw(markup(`</msqrt>`))
}

func (p *page) mathName(name string) {
	n := draw.SplitName(name)
	if n.Path != "" {
		p.raw(markup(`<mtext class="np">`), n.Path, markup(`</mtext>`))
	}
	base := func() {
		if n.Italic && utf8.RuneCountInString(n.Base) == 1 {
			p.raw(markup(`<mi mathvariant="normal">`), n.Base, markup(`</mi>`))
			return
		}
		p.raw(markup(`<mi>`), hard(n.Base), markup(`</mi>`))
	}
	if n.Sub == "" {
		base()
		return
	}
	p.raw(markup(`<msub>`))
	base()
	p.mtext(n.Sub)
	p.raw(markup(`</msub>`))
}

// name writes a name in running text, with italic symbol and subscript.
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
