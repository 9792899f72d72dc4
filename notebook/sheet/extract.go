package sheet

import (
	"math"
	"sort"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Shares of the type size that decide how glyphs make words. Glyph boxes are
// tight, so a gap holds the side bearings of both neighbours.
const (
	capShare  = 0.72 // height of capitals and digits of common text faces
	lowShare  = 0.54 // height of small letters without ascenders
	tallShare = 1.10 // height of brackets and the like
	fuseGap   = 0.10 // below it neighbours are one word although a blank stands between
	splitGap  = 0.60 // above it neighbours are two words although no blank stands between
	maxBack   = 0.60 // a glyph this far back begins a new word
	minHeight = 0.5  // points; flatter boxes (dashes, dots) say nothing about the size
)

// piece is a word in the making.
type piece struct {
	text  strings.Builder
	shown rect
	up    rect
	size  float64 // largest estimate so far
	sure  bool    // size comes from letters or digits of known height
	base  float64 // where its last letter or digit stands
	above bool    // raised behind a word: a power or the mark of a note
	turn  uint8
	char  int // its characters in the engine's count, from the first
	last  int // to the last
}

// buildPage makes words and lines of the glyphs of a page.
func buildPage(number int, f frame, glyphs []glyph) Page {
	w, h := f.size()
	p := Page{Number: number, Width: round(w), Height: round(h)}
	var line []*piece
	flush := func() {
		if l, ok := finishLine(number, line); ok {
			p.Lines = append(p.Lines, l)
		}
		line = nil
	}
	var cur *piece
	for _, g := range glyphs {
		switch g.kind {
		case lineEnd:
			cur = nil
			flush()
			continue
		case hyphenEnd:
			if cur != nil {
				cur.text.WriteByte('-')
			}
			continue
		case blank:
			cur = nil
			continue
		}
		if len(line) > 0 && !sameLine(line[len(line)-1], g) {
			cur = nil
			flush()
		}
		if raised := cur != nil && cur.raises(g); cur == nil || raised || !joins(cur, g) {
			cur = &piece{shown: g.shown, up: g.up, turn: g.turn, above: raised, char: g.char}
			line = append(line, cur)
		}
		cur.add(g)
	}
	flush()
	return p
}

func (p *piece) add(g glyph) {
	p.text.WriteString(g.text)
	p.last = g.char
	if _, sure := g.size(); sure {
		p.base = g.up.y1
	}
	p.shown, p.up = p.shown.union(g.shown), p.up.union(g.up)
	size, sure := g.size()
	switch {
	case size == 0, p.sure && !sure:
	case sure && !p.sure:
		p.size, p.sure = size, true
	default:
		p.size = math.Max(p.size, size)
	}
}

// raises says whether a glyph stands raised and small behind a word that ends in
// a digit or bracket or is longer than a unit: it is no part of the number or
// word. The other way round, what goes on behind raised type is apart from it.
func (p *piece) raises(g glyph) bool {
	size, sure := g.size()
	if p.above {
		return sure && size > 1.2*p.size
	}
	r, _ := utf8.DecodeRuneInString(g.text)
	s := p.text.String()
	last, _ := utf8.DecodeLastRuneInString(s)
	behind := unicode.IsDigit(last) || last == ')' || len(s) >= 3 && unicode.IsLetter(last) && !strings.ContainsAny(s, "/·")
	switch {
	case !behind || !p.sure || g.turn != p.turn:
		return false
	case unicode.IsDigit(r):
		return size < 0.8*p.size && g.up.y1 < p.base-0.12*p.size
	case r == '-' || r == '−' || r == '–':
		return unicode.IsDigit(last) && (g.up.y0+g.up.y1)/2 < p.base-0.5*p.size
	}
	return false
}

// size estimates the size of the type from the height of one glyph; 0 if it
// says nothing. Estimates from brackets, descenders and marks are not sure.
func (g glyph) size() (size float64, sure bool) {
	height := g.up.y1 - g.up.y0
	if height <= minHeight {
		return 0, false
	}
	r, _ := utf8.DecodeRuneInString(g.text)
	switch {
	case strings.ContainsRune("acemnorsuvwxz", r):
		return height / lowShare, true
	case strings.ContainsRune("bdfhklti", r), unicode.IsDigit(r), unicode.IsUpper(r) && r != 'Q' && r != 'J':
		return height / capShare, true
	case strings.ContainsRune("gpqy", r):
		return height / (lowShare + 0.21), true
	}
	return height / tallShare, false
}

// sameLine says whether a glyph goes on in the line of a piece: turned alike
// and overlapping in height, counting raised and lowered type in.
func sameLine(p *piece, g glyph) bool {
	if p.turn != g.turn {
		return false
	}
	slack := 0.35 * math.Max(p.size, 4)
	return g.up.y0 <= p.up.y1+slack && g.up.y1 >= p.up.y0-slack
}

func joins(p *piece, g glyph) bool {
	size, _ := g.size()
	em := emOf(p.size, size)
	gap := g.up.x0 - p.up.x1
	return gap <= splitGap*em && gap >= -maxBack*em-(g.up.x1-g.up.x0)
}

func emOf(sizes ...float64) float64 {
	em := 4.0
	for _, s := range sizes {
		em = math.Max(em, s)
	}
	return em
}

// finishLine orders the pieces of a line from left to right, fuses those that
// only a blank put in at a change of font keeps apart, and rounds.
func finishLine(page int, pieces []*piece) (Line, bool) {
	if len(pieces) == 0 {
		return Line{}, false
	}
	if pieces[0].turn < 4 {
		sort.SliceStable(pieces, func(i, j int) bool { return pieces[i].up.x0 < pieces[j].up.x0 })
	}
	var l Line
	var last *piece
	for _, p := range pieces {
		if last != nil && fuses(last, p) {
			last.text.WriteString(p.text.String())
			last.shown, last.up = last.shown.union(p.shown), last.up.union(p.up)
			last.size = math.Max(last.size, p.size)
			last.char, last.last = min(last.char, p.char), max(last.last, p.last)
			n := len(l.Words) - 1
			l.Words[n] = last.word(page)
			continue
		}
		last = p
		l.Words = append(l.Words, p.word(page))
	}
	return l.sum(page), true
}

// sum fills text and box from the words.
func (l Line) sum(page int) Line {
	var text strings.Builder
	var all rect
	for i, w := range l.Words {
		if i == 0 {
			all = w.Box.rect()
		} else {
			all = all.union(w.Box.rect())
			text.WriteByte(' ')
		}
		text.WriteString(w.Text)
	}
	l.Box, l.Text = all.box(page), text.String()
	return l
}

func fuses(a, b *piece) bool {
	em := emOf(a.size, b.size)
	gap := b.up.x0 - a.up.x1
	overlap := math.Min(a.up.y1, b.up.y1) - math.Max(a.up.y0, b.up.y0)
	return gap < fuseGap*em && gap > -fuseGap*em && overlap > 0 && a.turn < 4 && !a.above && !b.above
}

func (p *piece) word(page int) Word {
	r := rect{round(p.shown.x0), round(p.shown.y0), round(p.shown.x1), round(p.shown.y1)}
	return Word{Text: p.text.String(), Size: round(p.size), Turn: p.turn, Box: r.box(page), char: p.char, chars: p.last - p.char + 1}
}

// round keeps hundredths of a point, as the store does, so that a stored page
// equals a fresh one.
func round(x float64) float64 {
	if math.IsNaN(x) || math.Abs(x) > 1e7 {
		return 0
	}
	return math.Round(x*100) / 100
}
