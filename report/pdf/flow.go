package pdf

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// span is a stretch of cleaned text in one style. A span whose text is "\n"
// ends the line.
type span struct {
	style
	text string
}

// frag is a piece of a span on a line.
type frag struct {
	span *span
	text string
	w    float64
}

// textLine is one line of a paragraph.
type textLine struct {
	frags     []frag
	w         float64
	asc, high float64
}

// sp makes a span; line ends in s become blanks.
func (p *page) sp(st style, s string) span { return span{st, oneSpace(p.g.clean(s))} }

// code makes a span in the monospaced face, sized to sit beside st.
func (p *page) code(st style, s string) span {
	return p.sp(st.with(mono).at(st.size*monoScale), s)
}

// oneSpace makes each run of blanks one blank; it keeps those at the ends,
// which part a span from its neighbours.
func oneSpace(s string) string {
	if !strings.Contains(s, "  ") {
		return s
	}
	var b strings.Builder
	last := false
	for _, r := range s {
		if r == ' ' && last {
			continue
		}
		last = r == ' '
		b.WriteRune(r)
	}
	return b.String()
}

// breaker fills lines of a width.
type breaker struct {
	p     *page
	width float64
	lines []textLine
	line  textLine
	word  []frag
	wordW float64
	blank *span // style of the blank owed before the word
}

// layout breaks spans into lines at most width wide. A word longer than a
// line is broken where it has a mark, else anywhere. It gives at least one
// line.
func (p *page) layout(spans []span, width float64) []textLine {
	b := breaker{p: p, width: max(width, 12)}
	for i := range spans {
		b.span(&spans[i])
	}
	b.flushWord()
	b.endLine()
	return b.lines
}

func (b *breaker) span(s *span) {
	if s.text == "\n" {
		b.flushWord()
		b.endLine()
		return
	}
	start := 0
	for i := 0; i < len(s.text); i++ {
		c := s.text[i]
		if c != ' ' && !(c == '-' && b.hyphen(s.text, i)) {
			continue
		}
		if c == ' ' {
			if b.glued(s.text, start, i) {
				continue
			}
			b.add(s, s.text[start:i])
			b.flushWord()
			b.blank = s
			start = i + 1
			continue
		}
		b.add(s, s.text[start:i+1])
		b.flushWord()
		start = i + 1
	}
	b.add(s, s.text[start:])
}

// hyphen tells a hyphen between letters, where a line may end.
func (b *breaker) hyphen(s string, i int) bool {
	if i < 2 || i+2 >= len(s) {
		return false
	}
	before, _ := utf8.DecodeLastRuneInString(s[:i])
	after, _ := utf8.DecodeRuneInString(s[i+1:])
	return unicode.IsLetter(before) && unicode.IsLetter(after)
}

// glued tells a blank between a number and its unit, where no line ends.
func (b *breaker) glued(s string, start, i int) bool {
	if i == start || s[i-1] < '0' || s[i-1] > '9' {
		return false
	}
	rest := s[i+1:]
	if j := strings.IndexByte(rest, ' '); j >= 0 {
		rest = rest[:j]
	}
	switch rest {
	case "", "to", "and", "of", "at", "or", "in", "is", "on", "by", "the", "for", "as", "if", "a":
		return false
	}
	r, _ := utf8.DecodeRuneInString(rest)
	return len(rest) <= 4 && (unicode.IsLetter(r) || r == '%' || r == '°')
}

func (b *breaker) add(s *span, text string) {
	if text == "" {
		return
	}
	w := b.p.g.stringWidth(s.face, s.size, text)
	b.word = append(b.word, frag{s, text, w})
	b.wordW += w
}

// flushWord moves the word to the line, or to the next.
func (b *breaker) flushWord() {
	if len(b.word) == 0 {
		return
	}
	gap := 0.0
	if b.blank != nil && len(b.line.frags) > 0 {
		gap = b.p.g.stringWidth(b.blank.face, b.blank.size, " ")
	}
	if b.line.w+gap+b.wordW > b.width && len(b.line.frags) > 0 {
		b.endLine()
		gap = 0
	}
	if gap > 0 {
		b.append(frag{b.blank, " ", gap})
	}
	for _, f := range b.word {
		if b.line.w+f.w <= b.width {
			b.append(f)
			continue
		}
		b.split(f)
	}
	b.word, b.wordW, b.blank = b.word[:0], 0, nil
}

// split breaks a piece that is longer than what is left of the line.
func (b *breaker) split(f frag) {
	rest := f.text
	for rest != "" {
		n := b.cut(f.span, rest, b.width-b.line.w)
		if n == 0 {
			if len(b.line.frags) > 0 {
				b.endLine()
				continue
			}
			_, n = utf8.DecodeRuneInString(rest)
		}
		b.append(frag{f.span, rest[:n], b.p.g.stringWidth(f.span.face, f.span.size, rest[:n])})
		if rest = rest[n:]; rest != "" {
			b.endLine()
		}
	}
}

// cut is how many bytes of s fit in w, up to a mark in its second half if
// there is one.
func (b *breaker) cut(s *span, text string, w float64) int {
	at, mark, blank, sum := 0, 0, 0, 0.0
	for i, r := range text {
		sum += b.p.g.stringWidth(s.face, s.size, string(r))
		if sum > w {
			break
		}
		at = i + utf8.RuneLen(r)
		if strings.ContainsRune("-_./\\,:;=&?)", r) {
			mark = at
		}
		if r == ' ' {
			blank = at
		}
	}
	if at < len(text) && blank > 0 {
		return blank
	}
	if at < len(text) && mark > at/2 {
		return mark
	}
	return at
}

// append puts a piece on the line, joined with the one before where both are
// of one span.
func (b *breaker) append(f frag) {
	n := len(b.line.frags)
	if n > 0 && b.line.frags[n-1].span.style == f.span.style {
		b.line.frags[n-1].text += f.text
		b.line.frags[n-1].w += f.w
	} else {
		b.line.frags = append(b.line.frags, f)
	}
	b.line.w += f.w
	b.line.asc = max(b.line.asc, f.span.ascent())
	b.line.high = max(b.line.high, f.span.leading())
}

func (b *breaker) endLine() {
	if b.line.high == 0 {
		b.line.asc, b.line.high = tiny().ascent(), tiny().leading()
	}
	b.lines = append(b.lines, b.line)
	b.line = textLine{}
	b.blank = nil
}

func height(ls []textLine) float64 {
	h := 0.0
	for _, l := range ls {
		h += l.high
	}
	return h
}

// drawLines sets lines from x and the top y.
func (p *page) drawLines(ls []textLine, x, y float64) {
	for _, l := range ls {
		at := x
		for i := range l.frags {
			at = p.text(at, y+l.asc, l.frags[i].span.style, l.frags[i].text)
		}
		y += l.high
	}
}

// para sets a paragraph in the column. Its first two and last two lines stay
// together.
func (p *page) para(spans ...span) {
	ls := p.layout(spans, p.w)
	n := len(ls)
	for i, l := range ls {
		need := l.high
		if i == 0 && n > 1 || i == n-2 {
			need += ls[i+1].high
		}
		if i == 0 && n == 3 {
			need += ls[2].high
		}
		p.ready(need)
		p.drawLines(ls[i:i+1], p.x, p.y)
		p.y += l.high
	}
}

// keepPara is para for text that must stand with what follows it.
func (p *page) keepPara(spans ...span) {
	ls := p.layout(spans, p.w)
	x := p.x
	p.keep(height(ls), func() { p.drawLines(ls, x, p.y) })
}

// beside sets a label in a narrow column and a paragraph beside it.
func (p *page) beside(label []span, width float64, spans ...span) {
	ls := p.layout(spans, p.w-width)
	head := p.layout(label, width-4)
	for i := 0; i < len(ls) || i < len(head); i++ {
		h := small().leading()
		if i < len(ls) {
			h = ls[i].high
		}
		need := h
		if i == 0 && len(ls) > 1 {
			need += ls[1].high
		}
		p.ready(need)
		if i < len(head) {
			asc := head[i].asc
			if i < len(ls) {
				asc = ls[i].asc
			}
			head[i].asc = asc // one baseline for both columns
			p.drawLines(head[i:i+1], p.x, p.y)
		}
		if i < len(ls) {
			p.drawLines(ls[i:i+1], p.x+width, p.y)
		}
		p.y += h
	}
}
