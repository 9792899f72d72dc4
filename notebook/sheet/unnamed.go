package sheet

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/klippa-app/go-pdfium/requests"
	"github.com/klippa-app/go-pdfium/responses"
)

// unnamedGlyph stands in the text of a page for a glyph of which the file does
// not say which character it shows. A minus or an ohm sign that went lost
// without a trace would make another number of what is printed.
const unnamedGlyph = unicode.ReplacementChar

// unnamedInk is the least width and height in points of a glyph that shows something.
const unnamedInk = 0.2

// isUnnamed says whether a character has ink on the page and no meaning: no
// Unicode value, the replacement character, or a control code that the engine
// has not put in itself (those have no extent).
func isUnnamed(c *responses.GetPageTextStructuredChar) bool {
	pos := c.PointPosition
	if pos.Right-pos.Left < unnamedInk || pos.Top-pos.Bottom < unnamedInk {
		return false
	}
	r, _ := utf8.DecodeRuneInString(c.Text)
	return c.Text == "" || r == unnamedGlyph || r < ' ' && r != 0x02
}

// guessed says of each character of a page whether its Unicode value is but the
// code of its glyph, for want of anything better. It is asked only where some
// glyph has no name and most are guesses: in many old files guesses come out
// right, and an unnamed bullet alone tells nothing.
func (d *document) guessed(at requests.Page, chars []*responses.GetPageTextStructuredChar) ([]bool, error) {
	unnamed := false
	for _, c := range chars {
		unnamed = unnamed || isUnnamed(c)
	}
	if !unnamed {
		return nil, nil
	}
	text, err := d.inst.FPDFText_LoadPage(&requests.FPDFText_LoadPage{Page: at})
	if err != nil {
		return nil, err
	}
	out := make([]bool, len(chars))
	guesses, all := 0, 0
	for i, c := range chars {
		if strings.TrimSpace(c.Text) == "" {
			continue
		}
		m, err := d.inst.FPDFText_HasUnicodeMapError(&requests.FPDFText_HasUnicodeMapError{TextPage: text.TextPage, Index: i})
		if err != nil {
			return nil, err
		}
		all++
		if out[i] = m.HasUnicodeMapError; out[i] {
			guesses++
		}
	}
	if _, err := d.inst.FPDFText_ClosePage(&requests.FPDFText_ClosePage{TextPage: text.TextPage}); err != nil {
		return nil, err
	}
	if 2*guesses < all {
		return nil, nil
	}
	return out, nil
}

// guessable says whether a guess of a character may stand: a phrase of letters
// that comes out right was guessed right, a number proves nothing.
func guessable(r rune) bool {
	return unicode.IsLetter(r) || strings.ContainsRune("-.,;()/&", r) || unicode.IsSpace(r)
}

// hasUnnamed says whether a text holds a glyph that cannot be named.
func hasUnnamed(s string) bool { return strings.ContainsRune(s, unnamedGlyph) }

// garbled says whether a quarter of the words of a page have glyphs without a name.
func (v *view) garbled() bool {
	words, hidden := 0, 0
	for _, l := range v.page.Lines {
		for _, w := range l.Words {
			words++
			hidden += boolIndex(hasUnnamed(w.Text))
		}
	}
	return words > 20 && 4*hidden > words
}

// mayHide says whether a number that is not found may stand on the page after
// all: its digits stand in a row whose unit is lost or beside a glyph that cannot
// be named, or so much of the page cannot be named that digits may be among it.
func (v *view) mayHide(w wanted) bool {
	for _, t := range v.sameDigits(w) {
		if v.rowUnits()[v.grid().rows[t.row].words[t.first].at].lost {
			return true
		}
	}
	words, hidden := 0, 0
	for i, r := range v.grid().rows {
		for j, word := range r.words {
			words++
			if !hasUnnamed(word.text) {
				continue
			}
			hidden++
			for n := max(0, j-1); n <= min(j+1, len(r.words)-1); n++ {
				for _, t := range wordTokens(r.words, i, n) {
					if t.either = true; same(t, t.value, w.Value) {
						return true
					}
				}
			}
		}
	}
	return 10*hidden > words
}

// mayHideWords says whether words that are not found may stand on the page after
// all: it has glyphs without a name, and the letters of the words in their order.
func (v *view) mayHideWords(quote string) bool {
	unnamed := false
	var page strings.Builder
	for _, l := range v.page.Lines {
		unnamed = unnamed || hasUnnamed(l.Text)
		page.WriteString(lettersOf(l.Text))
	}
	want := lettersOf(quote)
	return unnamed && len(want) >= longWord && strings.Contains(page.String(), want)
}

// lettersOf gives the letters of a text alone, folded.
func lettersOf(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) {
			return unicode.ToLower(r)
		}
		return -1
	}, foldString(s))
}

var (
	colonNumber = pattern(`\d:\d`)
	notUnit     = pattern(`^\d+\.\d|\s\S*\d`) // "0.3 V", "K/W TSP-16"
)

// unreadable says whether a cell of numbers, units, codes or names of pins holds
// what cannot be told for sure: a glyph without a name, a colon where some type
// has its point, half of a formula, part of the number beside it. Of names and conditions the reader sees the gap himself.
func unreadable(k Kind, text string) bool {
	switch k {
	case KindUnit:
		return hasUnnamed(text) || strings.Contains(text, "=") || notUnit().MatchString(text)
	case KindPin, KindPinName, KindOrder, KindPackage:
		return hasUnnamed(text)
	case KindMin, KindTyp, KindMax, KindValue:
		return hasUnnamed(text) || colonNumber().MatchString(text) || openEnded(foldString(text))
	}
	return false
}
