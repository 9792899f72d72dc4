package sheet

import (
	"math"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/klippa-app/go-pdfium/responses"
)

// What the file says of a glyph and what stands on the page may differ: fonts
// without a map name an "m" where the shape is a µ, text is printed twice to
// look bold, a mirrored matrix passes for a turned one. The boxes tell.

// glyph is a character with its box as shown and upright.
type glyph struct {
	text  string
	shown rect
	up    rect
	turn  uint8
	kind  glyphKind
	char  int // in the engine's count
}

type glyphKind uint8

const (
	inked glyphKind = iota
	blank
	lineEnd
	hyphenEnd // of a word that goes on in the next line
)

func (g *glyph) is(r rune) bool { return g.kind == inked && g.text == string(r) }

func (g *glyph) width() float64  { return g.up.x1 - g.up.x0 }
func (g *glyph) height() float64 { return g.up.y1 - g.up.y0 }

// glyphsOf takes the characters of a page as PDFium gives them, in the order of
// the content with blanks and line ends put in. What cannot be named becomes
// unnamedGlyph.
func glyphsOf(f frame, chars []*responses.GetPageTextStructuredChar, guessed []bool) []glyph {
	w, h := f.size()
	out := make([]glyph, 0, len(chars))
	for i, c := range chars {
		r, _ := utf8.DecodeRuneInString(c.Text)
		unnamed := isUnnamed(c) || guessed != nil && guessed[i] && !guessable(r)
		g := glyph{text: c.Text, char: i}
		switch {
		case unnamed:
			g.text = string(unnamedGlyph)
		case c.Text == "" || r == utf8.RuneError:
			continue
		case r == '\n' || r == '\r':
			g.kind = lineEnd
		case r == 0x02 || r == 0xAD:
			g.kind = hyphenEnd
		case unicode.IsSpace(r):
			g.kind = blank
		case unicode.IsControl(r) || r == 0xFEFF || r == 0xFFFE || r == 0x200B:
			continue
		}
		pos := c.PointPosition
		g.shown = f.rect(pos.Left, pos.Bottom, pos.Right, pos.Top)
		if g.turn = quarterTurns(c.Angle); g.turn < 4 {
			g.turn = (g.turn + uint8(f.turn)) & 3
		}
		out = append(out, g)
	}
	turnBack(out, w, h)
	for i := range out {
		out[i].up = out[i].shown.upright(out[i].turn, w, h)
	}
	out = printedOnce(out)
	nameByShape(out)
	return out
}

// turnBack finds text that is said to be turned by half a turn more than it
// reads: its glyphs follow each other backwards. A mirrored matrix does so.
func turnBack(gs []glyph, w, h float64) {
	var on, back [4]int
	for i := 1; i < len(gs); i++ {
		a, b := &gs[i-1], &gs[i]
		if a.kind != inked || b.kind != inked || a.turn != b.turn || a.turn == 0 || a.turn > 3 {
			continue
		}
		p, q := a.shown.upright(a.turn, w, h), b.shown.upright(b.turn, w, h)
		switch step := q.x0 - p.x0; {
		case math.Min(p.y1, q.y1) <= math.Max(p.y0, q.y0), math.Abs(step) > 4*(p.y1-p.y0):
		case step > 0:
			on[a.turn]++
		default:
			back[a.turn]++
		}
	}
	for i := range gs {
		if t := gs[i].turn; t > 0 && t < 4 && back[t] > 4*on[t]+2 {
			gs[i].turn = (t + 2) & 3
		}
	}
}

// printedOnce leaves out what is printed again in the same place.
func printedOnce(gs []glyph) []glyph {
	type spot struct {
		text string
		x, y int
	}
	at := func(g *glyph) spot { return spot{g.text, int(math.Floor(g.shown.x0)), int(math.Floor(g.shown.y0))} }
	seen := map[spot][]rect{}
	again := func(g *glyph) bool {
		near := 0.25*math.Min(g.width(), g.height()) + 0.15
		s := at(g)
		for dx := -1; dx <= 1; dx++ {
			for dy := -1; dy <= 1; dy++ {
				for _, r := range seen[spot{s.text, s.x + dx, s.y + dy}] {
					if math.Abs(r.x0-g.shown.x0) < near && math.Abs(r.y0-g.shown.y0) < near && math.Abs(r.x1-g.shown.x1) < near {
						return true
					}
				}
			}
		}
		return false
	}
	out := gs[:0]
	var last glyph
	twice := false
	for _, g := range gs {
		if g.kind == inked {
			if g.shown != last.shown || g.text == last.text && g.text != "f" { // ligatures, "ff" among them, share one fate
				twice = again(&g)
			}
			last = g
			if twice {
				continue
			}
			seen[at(&g)] = append(seen[at(&g)], g.shown)
		}
		out = append(out, g)
	}
	return out
}

// nameByShape corrects names that the shape of a glyph belies. Fonts of symbols
// without a map give the letters at whose codes their signs lie (ISO 32000-1,
// D.6: m is µ, W is Ω, q is θ); a factor of a thousand hangs on the first. What
// is neither the letter nor surely the sign has no name.
func nameByShape(gs []glyph) {
	for i := range gs {
		g := &gs[i]
		if g.kind != inked || g.turn > 3 {
			continue
		}
		switch below, near := g.below(gs, i); {
		case g.is('m') && g.height() > 1.05*g.width(): // no m is taller than wide
			g.text = string(unnamedGlyph)
			if near && below > 0.15*g.height() {
				g.text = "µ"
			}
		case g.is('q') && near && below < 0.05*g.height() && g.height() > 1.1*g.width():
			g.text = "θ"
		case g.is('W') && g.width() < 1.02*g.height() && endsUnit(gs, i): // a W is wider but in the narrowest type
			g.text = string(unnamedGlyph)
		case g.flat():
			g.text = string(unnamedGlyph)
			if near && g.width() > 5*g.height() && below < -2*g.height() {
				g.text = "−"
			}
		case g.is(unnamedGlyph) && g.degree(gs, i):
			g.text = "°"
		}
	}
}

// flat says whether a glyph that passes for a small letter or a digit is flatter
// than any of them, as the signs = and − are.
func (g *glyph) flat() bool {
	return len(g.text) == 1 && strings.Contains("abcdefghijklnopqrstuvxyz0123456789", g.text) && g.kind == inked && g.width() > 1.5*g.height()
}

// endsUnit says whether glyph i stands where the letter of a unit may: behind a
// number, a blank or a prefix, and before no letter or digit.
func endsUnit(gs []glyph, i int) bool {
	if i+1 < len(gs) && gs[i+1].kind == inked {
		if r, _ := utf8.DecodeRuneInString(gs[i+1].text); unicode.IsLetter(r) || unicode.IsDigit(r) {
			return false
		}
	}
	if i == 0 || gs[i-1].kind != inked {
		return true
	}
	r, _ := utf8.DecodeRuneInString(gs[i-1].text)
	return unicode.IsDigit(r) || strings.ContainsRune("kMm/", r)
}

// neighbour gives the glyph next to i in its line in steps of d.
func neighbour(gs []glyph, i, d int) *glyph {
	for j := i + d; j >= 0 && j < len(gs) && gs[j].kind != lineEnd; j += d {
		if gs[j].kind == inked {
			return &gs[j]
		}
	}
	return nil
}

// below is how far a glyph goes below the line on which its neighbour of a
// known foot stands.
func (g *glyph) below(gs []glyph, i int) (float64, bool) {
	for _, d := range []int{1, -1} {
		if n := neighbour(gs, i, d); n != nil && n.turn == g.turn && len(n.text) == 1 &&
			strings.Contains(feet, n.text) && n.height() > 0.6*g.height() {
			return g.up.y1 - n.up.y1, true
		}
	}
	return 0, false
}

// feet are letters and digits that stand on the line.
const feet = "abcdehiklnorstuvxzABCDEFGHIKLMNOPRSTUVXYZ0123456789"

// degree says whether a glyph without a name is the sign before C: small, as
// wide as tall, and above the middle of the letter.
func (g *glyph) degree(gs []glyph, i int) bool {
	n := neighbour(gs, i, 1)
	if n == nil || !n.is('C') && !n.is('F') || n.turn != g.turn {
		return false
	}
	return g.width() > 0.75*g.height() && g.width() < 1.3*g.height() && g.height() < 0.6*n.height() &&
		(n.up.y0+n.up.y1)/2 > g.up.y1-0.1*n.height() && n.up.x0-g.up.x1 < 0.6*n.height()
}
