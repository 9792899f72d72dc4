package sheet

import (
	"strings"
	"unicode"
)

// span is a stretch of a page's words in which a quote was found.
type span struct {
	words []place
	boxes []Box // one per line
}

// place names a word of a page.
type place struct{ line, word int }

// longWord is the number of letters from which case is ignored: "INPUT" is
// "Input", but mW is not MW and iq not IQ.
const longWord = 4

// findQuote gives every place of the page where the quoted words stand.
func findQuote(p *Page, text *folded, quote *folded) []span {
	if quote.text == "" {
		return nil
	}
	var found []span
	for from := 0; from <= len(text.text)-len(quote.text); {
		i := strings.Index(text.text[from:], quote.text)
		if i < 0 {
			break
		}
		at := from + i
		first, last := int(text.start[at]), int(text.start[at+len(quote.text)-1])
		if accepts(text.units, first, last, quote.units) {
			found = append(found, newSpan(p, text.units[first:last+1]))
			from = at + len(quote.text)
			continue
		}
		from = at + 1
		for from < len(text.text) && text.text[from]&0xC0 == 0x80 {
			from++
		}
	}
	if found == nil {
		found = findInBlocks(p, quote)
	}
	return found
}

// accepts checks case and borders of a match.
func accepts(text []unit, first, last int, quote []unit) bool {
	if last-first+1 != len(quote) || !caseAgrees(text[first:last+1], quote) {
		return false
	}
	if first > 0 && !text[first].first && clashes(text[first-1].r, text[first].r, len(quote)) {
		return false
	}
	if last+1 < len(text) && !text[last+1].first {
		next := text[last+1].r
		if unicode.IsLetter(text[last].r) && unicode.IsDigit(next) {
			return true // a footnote mark glued to the word
		}
		if next == '.' || next == ',' {
			return !(unicode.IsDigit(text[last].r) && last+2 < len(text) && unicode.IsDigit(text[last+2].r))
		}
		return !clashes(text[last].r, next, len(quote))
	}
	return true
}

// clashes says whether two neighbouring runes make one word or number, so that
// a match must not end between them. Long quotes may stand inside a word, since
// some files lose their blanks.
func clashes(a, b rune, length int) bool {
	digit := func(r rune) bool { return unicode.IsDigit(r) }
	switch {
	case digit(a) && digit(b), (a == '.' || a == ',' || a == '-') && digit(b):
		return true
	case unicode.IsLetter(a) && unicode.IsLetter(b):
		return length < 2*longWord
	case unicode.IsLetter(a) && digit(b):
		return true
	}
	return false
}

// caseAgrees ignores case in words of longWord letters and more only.
func caseAgrees(text, quote []unit) bool {
	for i := range quote {
		if text[i].r == quote[i].r {
			continue
		}
		lo, hi := i, i
		for lo > 0 && unicode.IsLetter(quote[lo-1].r) && !quote[lo].first {
			lo--
		}
		for hi+1 < len(quote) && unicode.IsLetter(quote[hi+1].r) && !quote[hi+1].first {
			hi++
		}
		if hi-lo+1 < longWord {
			return false
		}
	}
	return true
}

// newSpan collects the words of a match and their boxes, cut to the share of
// the word that matched, joined line by line.
func newSpan(p *Page, units []unit) span {
	var s span
	for i := 0; i < len(units); {
		j := i
		for j+1 < len(units) && units[j+1].line == units[i].line && units[j+1].word == units[i].word {
			j++
		}
		s.add(p, place{int(units[i].line), int(units[i].word)}, float64(units[i].from), float64(units[j].to))
		i = j + 1
	}
	return s
}

func (s *span) add(p *Page, at place, from, to float64) {
	w := p.Lines[at.line].Words[at.word]
	b := cut(w, from, to)
	n := len(s.words)
	if n > 0 && s.words[n-1].line == at.line {
		last := &s.boxes[len(s.boxes)-1]
		*last = last.rect().union(b.rect()).box(p.Number)
	} else {
		s.boxes = append(s.boxes, b)
	}
	s.words = append(s.words, at)
}

// cut takes a share of a word along its direction of reading.
func cut(w Word, from, to float64) Box {
	b := w.Box
	dx, dy := b.X1-b.X0, b.Y1-b.Y0
	switch w.Turn {
	case 0:
		b.X0, b.X1 = b.X0+from*dx, b.X0+to*dx
	case 1:
		b.Y0, b.Y1 = b.Y0+from*dy, b.Y0+to*dy
	case 2:
		b.X0, b.X1 = b.X1-to*dx, b.X1-from*dx
	case 3:
		b.Y0, b.Y1 = b.Y1-to*dy, b.Y1-from*dy
	}
	return b
}

// maxSteps bounds the search of one page for one quote, which a hostile page
// could otherwise make exponential.
const maxSteps = 20_000

// findInBlocks looks for a quote whose words run on in the next line of a
// table cell while other cells stand between in the order of the content.
func findInBlocks(p *Page, quote *folded) []span {
	g := newGrid(p)
	g.steps = maxSteps
	var found []span
	for r, row := range g.rows {
		for i, w := range row.words {
			if s, ok := g.follow(r, i, w.r.x0, quote.units, span{}); ok {
				found = append(found, s)
			}
		}
	}
	return found
}

// follow matches word i of row r against the beginning of rest and goes on to
// the right or to the line below that starts at the same place.
func (g *grid) follow(r, i int, left float64, rest []unit, s span) (span, bool) {
	if g.steps--; g.steps < 0 {
		return s, false
	}
	w := g.rows[r].words[i]
	text := foldQuote(w.text).units
	n := 0
	for n < len(text) && n < len(rest) && text[n].r == rest[n].r {
		n++
	}
	if n == 0 || n < len(text) && (n < len(rest) || !onlyMarks(text[n-1].r, text[n:])) {
		return s, false
	}
	t := span{words: append([]place(nil), s.words...), boxes: append([]Box(nil), s.boxes...)}
	t.add(g.page, w.at, 0, 1)
	if rest = rest[n:]; len(rest) == 0 {
		return t, true
	}
	if i+1 < len(g.rows[r].words) && g.rows[r].words[i+1].r.x0-w.r.x1 < 2*emOf(w.size) {
		if u, ok := g.follow(r, i+1, left, rest, t); ok {
			return u, true
		}
	}
	for below := r + 1; below < len(g.rows) && g.rows[below].y0-w.r.y1 < 1.2*emOf(w.size); below++ {
		for k, v := range g.rows[below].words {
			if v.r.x0 > left-0.5*emOf(v.size) && v.r.x0 < left+1.2*emOf(v.size) {
				if u, ok := g.follow(below, k, left, rest, t); ok {
					return u, true
				}
			}
		}
	}
	return s, false
}

// onlyMarks says whether what is left of a word behind a rune is punctuation or
// a footnote mark, and not the rest of a number or word.
func onlyMarks(behind rune, units []unit) bool {
	for i, u := range units {
		prev := behind
		if i > 0 {
			prev = units[i-1].r
		}
		if unicode.IsLetter(u.r) || unicode.IsDigit(u.r) && (unicode.IsDigit(behind) || prev == '.' || prev == ',') {
			return false
		}
	}
	return true
}
