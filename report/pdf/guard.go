package pdf

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/bidi"
	"golang.org/x/text/unicode/norm"

	"guardband/report/internal/words"
)

// guard stands between the record's text and fpdf, which prints an empty box
// for a rune its font lacks, panics on runes above U+FFFF and on broken UTF-8,
// and cannot place combining marks. Nothing is lost silently: what cannot be
// set is printed as its code point in brackets and listed.
type guard struct {
	faces    *[faceCount]*face
	replaced map[rune]string   // what is printed for it, "" where it is left out
	seen     map[string]string // cleaned texts that needed work
}

func newGuard(faces *[faceCount]*face) *guard {
	return &guard{faces: faces, replaced: map[rune]string{}, seen: map[string]string{}}
}

// clean gives s in a form that the document's faces can set. White space of
// any kind but the no-break space becomes a blank.
func (g *guard) clean(s string) string {
	if plainASCII(s) || g.settable(s) {
		return s
	}
	if c, ok := g.seen[s]; ok {
		return c
	}
	c := g.rewrite(s)
	g.seen[s] = c
	return c
}

func plainASCII(s string) bool {
	for i := 0; i < len(s); i++ {
		if s[i] < 0x20 || s[i] > 0x7e {
			return false
		}
	}
	return true
}

// settable tells that every rune of s stands in the regular face and that s is
// composed (NFC) and needs no treatment.
func (g *guard) settable(s string) bool {
	f := g.faces[regular]
	for _, r := range s {
		if r < 0x20 || r == utf8.RuneError || special(r) || f.width(r) < 0 {
			return false
		}
	}
	return norm.NFC.IsNormalString(s)
}

// special are runes that have a glyph or a width in the font but mean
// something that a page cannot do: format characters, spaces, marks.
func special(r rune) bool {
	return r >= 0x7f && (unicode.Is(unicode.Cc, r) || unicode.Is(unicode.Cf, r) ||
		unicode.Is(unicode.Mn, r) || r != 0xa0 && unicode.IsSpace(r) || 0xFE00 <= r && r <= 0xFE0F)
}

func (g *guard) rewrite(s string) string {
	var b strings.Builder
	for _, r := range norm.NFC.String(strings.ToValidUTF8(s, "\uFFFD")) {
		switch {
		case r == 0x202F || r == 0x2007: // no-break blanks
			b.WriteRune(0xa0)
		case r != 0xa0 && unicode.IsSpace(r):
			b.WriteByte(' ')
		case noWidth(r):
			g.replaced[r] = ""
		case !special(r) && r >= 0x20 && g.faces[regular].width(r) >= 0:
			b.WriteRune(r)
		default:
			g.replaced[r] = g.stand(r)
			b.WriteString(g.replaced[r])
		}
	}
	return b.String()
}

// noWidth are characters that print nothing by definition: hints for breaking
// and joining, the byte order mark, variation selectors.
func noWidth(r rune) bool {
	switch r {
	case 0x00AD, 0x200B, 0x200C, 0x200D, 0x2060, 0xFEFF:
		return true
	}
	return 0xFE00 <= r && r <= 0xFE0F
}

// stand is what is printed for a rune that cannot be set: its compatibility
// form where that can (a letter of the mathematical alphabets), else its code
// point in brackets.
func (g *guard) stand(r rune) string {
	if r > 0xFFFF {
		form := norm.NFKC.String(string(r))
		if form != string(r) && g.settable(form) {
			return form
		}
	}
	return fmt.Sprintf("[U+%04X]", r)
}

// visual puts the runs of a line in the order in which they are drawn from the
// left (Unicode Annex 9, in a left-to-right document), those of right-to-left
// text turned round with their brackets mirrored; letters are not joined.
func visual(s string) string {
	if !strings.ContainsFunc(s, words.RightToLeft) {
		return s
	}
	var p bidi.Paragraph
	if _, err := p.SetString(s, bidi.DefaultDirection(bidi.LeftToRight)); err != nil {
		return s
	}
	runs, err := p.Order()
	if err != nil {
		return s
	}
	out, turned := "", ""
	for i := range runs.NumRuns() {
		run := runs.Run(i)
		switch text := run.String(); {
		case run.Direction() == bidi.RightToLeft:
			turned = bidi.ReverseString(text) + turned
		case turned != "" && i+1 < runs.NumRuns() && !strings.ContainsFunc(text, unicode.IsLetter): // a number in it
			turned = text + turned
		default:
			out, turned = out+blanksLast(turned)+text, ""
		}
	}
	return out + blanksLast(turned)
}

// blanksLast takes the blanks behind right-to-left text, which were turned to
// its left, for what they are: the beginning of what follows.
func blanksLast(turned string) string {
	text := strings.TrimLeft(turned, " ")
	return text + turned[:len(turned)-len(text)]
}
