package sheet

import (
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// folded is text brought to the form in which it is searched: compatibility
// forms folded (Unicode NFKC), look-alikes made one, no blanks, no glyphs
// without a name, no hyphens between letters, small letters. Every rune knows where it came from.
type folded struct {
	text  string  // lower case
	start []int32 // per byte of text: the unit it belongs to
	units []unit
}

// unit is one rune of folded text.
type unit struct {
	r          rune    // before lower-casing
	line, word int32   // of the page; 0, 0 in a quote
	from, to   float32 // share of the word's width
	first      bool    // begins a word
}

// look-alikes that NFKC leaves apart. The private-use codes are those of the
// Symbol face of PDF (ISO 32000-1, annex D.5) as producers map them without a
// table of their own.
var lookAlikes = map[rune]rune{
	'º': '°', '˚': '°', '◦': '°', '∘': '°', '∆': 'Δ', 'Ω': 'Ω', 'µ': 'μ', 'ϑ': 'θ', 'ϴ': 'Θ',
	'−': '-', '–': '-', '—': '-', '‐': '-', '‑': '-', '‒': '-', '―': '-', '﹣': '-', '-': '-', '\u00ad': -1,
	'‘': '\'', '’': '\'', '′': '\'', '“': '"', '”': '"', '″': '"',
	'×': 'x', '✕': 'x', '∙': '·', '⋅': '·', '∼': '~', '˜': '~', '≦': '≤', '⩽': '≤', '≧': '≥', '⩾': '≥',
	'\u0002': -1, '\ufeff': -1, '\u200b': -1, '\u200c': -1, '\u200d': -1, '\u2060': -1,
	'\uf0b0': '°', '\uf06d': 'μ', '\uf057': 'Ω', '\uf0b1': '±', '\uf0a3': '≤', '\uf0b3': '≥', '\uf044': 'Δ',
	'\uf02d': '-', '\uf071': 'θ', '\uf0b4': 'x', '\uf0be': '-', '\uf8e7': '-', '\uf0d7': '·', '\uf0a5': '∞',
	'\uf068': 'η', '\uf06c': 'λ', '\uf066': 'φ', '\uf046': 'Φ', '\uf072': 'ρ', '\uf074': 'τ',
}

// foldString folds characters one by one and keeps blanks.
func foldString(s string) string {
	if plain(s) {
		return s
	}
	mapped := strings.Map(func(r rune) rune {
		if to, ok := lookAlikes[r]; ok {
			return to
		}
		return r
	}, s)
	return norm.NFKC.String(mapped)
}

// plain says whether folding leaves the text as it is.
func plain(s string) bool {
	for i := 0; i < len(s); i++ {
		if s[i] >= 0x80 || s[i] < 0x20 {
			return false
		}
	}
	return true
}

// foldQuote folds words that a person typed.
func foldQuote(s string) folded {
	var b folder
	for _, w := range strings.Fields(foldString(s)) {
		b.word(w, 0, 0)
	}
	return b.done()
}

// foldPage folds the words of a page in the order of its lines.
func foldPage(p *Page) folded {
	var b folder
	for i, l := range p.Lines {
		for j, w := range l.Words {
			b.word(foldString(w.Text), i, j)
		}
	}
	return b.done()
}

type folder struct{ units []unit }

func (b *folder) word(s string, line, word int) {
	n := float32(len([]rune(s)))
	k := float32(0)
	for _, r := range s {
		if !unicode.IsSpace(r) && r != unnamedGlyph {
			b.units = append(b.units, unit{r: r, line: int32(line), word: int32(word), from: k / n, to: (k + 1) / n, first: k == 0})
		}
		k++
	}
}

// done drops hyphens between letters, since a line break may or may not have
// put them in, and lowers the case.
func (b *folder) done() folded {
	f := folded{units: b.units[:0]}
	var text strings.Builder
	for i, u := range b.units {
		if u.r == '-' && i > 0 && i+1 < len(b.units) && unicode.IsLetter(b.units[i+1].r) &&
			len(f.units) > 0 && unicode.IsLetter(f.units[len(f.units)-1].r) {
			continue
		}
		at := text.Len()
		text.WriteRune(unicode.ToLower(u.r))
		for range text.Len() - at {
			f.start = append(f.start, int32(len(f.units)))
		}
		f.units = append(f.units, u)
	}
	f.text = text.String()
	return f
}
