package sheet

import (
	"math"
	"sort"
	"strings"
)

// grid is a page seen as rows of words in the direction in which most of it reads.
type grid struct {
	page *Page
	turn uint8
	rows []row

	steps int // left in the search for a quote

	flat, tall []rect // ruled lines, upright
	marks      []rect // shapes of the size of a character, upright
}

// row is a visual line of its column of the page.
type row struct {
	y0, y1      float64
	words       []cellWord
	left, right float64 // sides of the column
}

// cellWord is a word with its upright rectangle.
type cellWord struct {
	text string
	r    rect
	size float64
	at   place
	note bool // a raised number behind the word before it: a power or the mark of a note
}

// raisedBehind says whether a word is a raised number behind another.
func raisedBehind(a, b cellWord) bool {
	text := foldString(b.text)
	if strings.Trim(text, "-") == "" && b.r.y0+b.r.y1 > 2*a.r.y0+0.6*(a.r.y1-a.r.y0) { // a dash on the middle of its line
		return false
	}
	return strings.Trim(text, "-0123456789") == "" && b.size < 0.85*a.size && b.r.x0-a.r.x1 < 0.35*emOf(a.size) &&
		b.r.x0 > a.r.x0 && b.r.y1 < a.r.y1-0.12*a.size
}

// withoutNotes leaves out raised numbers.
func withoutNotes(words []cellWord) []cellWord {
	for i := range words {
		if words[i].note {
			out := append([]cellWord(nil), words[:i]...)
			for _, w := range words[i+1:] {
				if !w.note {
					out = append(out, w)
				}
			}
			return out
		}
	}
	return words
}

// newGrid builds rows from the boxes of the words; words that read in another
// direction are left out.
func newGrid(p *Page) *grid {
	g := &grid{page: p, turn: mainTurn(p)}
	var words []cellWord
	for i, l := range p.Lines {
		for j, w := range l.Words {
			if w.Turn == g.turn {
				c := cellWord{text: w.Text, r: w.Box.rect().upright(w.Turn, p.Width, p.Height), size: w.Size, at: place{i, j}}
				c.note = j > 0 && len(words) > 0 && words[len(words)-1].at == place{i, j - 1} && raisedBehind(words[len(words)-1], c)
				words = append(words, c)
			}
		}
	}
	g.rows = formRows(words, 0, g.width())
	for _, r := range p.rules {
		if r = r.upright(g.turn, p.Width, p.Height); r.x1-r.x0 >= r.y1-r.y0 {
			g.flat = append(g.flat, r)
		} else {
			g.tall = append(g.tall, r)
		}
	}
	for _, r := range p.marks {
		g.marks = append(g.marks, r.upright(g.turn, p.Width, p.Height))
	}
	sort.SliceStable(g.tall, func(i, j int) bool { return g.tall[i].y0 < g.tall[j].y0 })
	g.splitTables()
	return g
}

// heads says whether a row of the page heads a table, or several end in values.
func (g *grid) heads() bool {
	values := 0
	for i, r := range g.rows {
		if len(g.headersAt(i)) > 0 {
			return true
		}
		if r.looksStated() {
			values++
		}
	}
	return values >= minBands
}

// width is that of the page as its text is read.
func (g *grid) width() float64 {
	if g.turn&1 == 1 {
		return g.page.Height
	}
	return g.page.Width
}

// flatType is the height in points below which a word is a dash or a dot and
// says nothing of where its line stands.
const flatType = 2.0

// formRows joins words to rows: phrases with letters first, dashes and dots into
// the rows they stand in.
func formRows(words []cellWord, left, right float64) []row {
	var g grid
	var flat []cellWord
	letters := make([]cellWord, 0, len(words))
	for _, w := range words {
		if w.r.y1-w.r.y0 < flatType {
			flat = append(flat, w)
		} else {
			letters = append(letters, w)
		}
	}
	for _, p := range phrases(letters) {
		g.place(p.as, p.words...)
	}
	g.sort()
	full := len(g.rows)
	for _, w := range flat {
		if i := g.rowAround(w, full); i >= 0 {
			g.rows[i].words = append(g.rows[i].words, w)
			continue
		}
		g.place(w, w)
	}
	g.sort()
	for i := range g.rows {
		ws := g.rows[i].words
		sort.SliceStable(ws, func(a, b int) bool { return ws[a].r.x0 < ws[b].r.x0 })
		g.rows[i].left, g.rows[i].right = left, right
	}
	return g.rows
}

// phrase is a run of words that the page has in one line, close to each other:
// they belong to one row, whatever heights their letters have.
type phrase struct {
	as    cellWord // stands for all: the height of its longest word, the width of all
	words []cellWord
}

// phrases joins words to phrases and sorts them from the top.
func phrases(words []cellWord) []phrase {
	sort.SliceStable(words, func(i, j int) bool {
		a, b := words[i].at, words[j].at
		return a.line < b.line || a.line == b.line && a.word < b.word
	})
	out := make([]phrase, 0, len(words)/2)
	for i := 0; i < len(words); {
		j := i + 1
		for j < len(words) && follows(words[j-1], words[j]) {
			j++
		}
		p := phrase{as: words[i], words: words[i:j:j]}
		for _, w := range words[i+1 : j] {
			if len(w.text) > len(p.as.text) {
				p.as.text, p.as.r.y0, p.as.r.y1 = w.text, w.r.y0, w.r.y1
			}
			p.as.r.x1 = math.Max(p.as.r.x1, w.r.x1)
		}
		out = append(out, p)
		i = j
	}
	sort.SliceStable(out, func(i, j int) bool {
		a, b := out[i].as, out[j].as
		if am, bm := a.middle(), b.middle(); math.Abs(am-bm) > 0.01 {
			return am < bm
		}
		return a.r.x0 < b.r.x0
	})
	return out
}

// follows says whether a word goes on in the phrase of the word before it.
func follows(a, b cellWord) bool {
	gap := b.r.x0 - a.r.x1
	overlap := math.Min(a.r.y1, b.r.y1) - math.Max(a.r.y0, b.r.y0)
	return a.at.line == b.at.line && b.at.word == a.at.word+1 && gap >= 0 && gap <= phraseGap*gapSize(&a, &b) &&
		overlap > 0.5*math.Min(a.r.y1-a.r.y0, b.r.y1-b.r.y0)
}

func (g *grid) sort() {
	sort.SliceStable(g.rows, func(i, j int) bool { return g.rows[i].y0+g.rows[i].y1 < g.rows[j].y0+g.rows[j].y1 })
}

// rowAround finds among the first n rows the one whose type a flat word stands
// in the middle of; -1 if there is none.
func (g *grid) rowAround(w cellWord, n int) int {
	best, off := -1, math.Inf(1)
	for i := sort.Search(n, func(i int) bool { return g.rows[i].y0+g.rows[i].y1 > 2*w.middle()-80 }); i < n; i++ {
		r := g.rows[i]
		if r.y0+r.y1 > 2*w.middle()+80 {
			break
		}
		if m := w.middle(); m > r.y0-1 && m < r.y1+1 {
			if d := math.Abs(m - (r.y0+r.y1)/2); d < off {
				best, off = i, d
			}
		}
	}
	return best
}

func (w cellWord) middle() float64 { return (w.r.y0 + w.r.y1) / 2 }

// place puts words into the row that what stands for them overlaps most, else
// into a new one.
func (g *grid) place(w cellWord, words ...cellWord) {
	best, share := -1, 0.5
	for i := len(g.rows) - 1; i >= 0 && i >= len(g.rows)-6; i-- {
		r := &g.rows[i]
		overlap := math.Min(r.y1, w.r.y1) - math.Max(r.y0, w.r.y0)
		least := math.Min(r.y1-r.y0, w.r.y1-w.r.y0)
		if least <= 0.5 { // dashes and dots
			least = 0.5
		}
		if s := overlap / least; s > share && !r.taken(w) {
			best, share = i, s
		}
	}
	if best < 0 {
		g.rows = append(g.rows, row{y0: w.r.y0, y1: w.r.y1, words: append([]cellWord(nil), words...)})
		return
	}
	r := &g.rows[best]
	r.words = append(r.words, words...)
	// Rows do not grow beyond their type, or raised type would chain lines together.
	if w.r.y1-w.r.y0 > r.y1-r.y0 && w.r.y1-w.r.y0 < 1.7*(r.y1-r.y0)+1 {
		r.y0, r.y1 = w.r.y0, w.r.y1
	}
}

// taken says whether another word stands where a word of another height would
// stand in the row: then they are two lines, however close.
func (r *row) taken(w cellWord) bool {
	for _, o := range r.words {
		both := math.Min(o.r.x1, w.r.x1) - math.Max(o.r.x0, w.r.x0)
		if both > 0.3*math.Min(o.r.x1-o.r.x0, w.r.x1-w.r.x0) &&
			math.Abs(o.middle()-w.middle()) > 0.3*math.Min(o.r.y1-o.r.y0, w.r.y1-w.r.y0) {
			return true
		}
	}
	return false
}

func mainTurn(p *Page) uint8 {
	var n [5]int
	for _, l := range p.Lines {
		for _, w := range l.Words {
			n[min(w.Turn, 4)] += len(w.Text)
		}
	}
	best := uint8(0)
	for t := uint8(1); t < 4; t++ {
		if n[t] > n[best] {
			best = t
		}
	}
	return best
}

func (r row) text() string {
	words := make([]string, len(r.words))
	for i, w := range r.words {
		words[i] = w.text
	}
	return strings.Join(words, " ")
}

// rowOf finds the row that holds a word of the page, -1 if none does.
func (g *grid) rowOf(at place) int {
	for i, r := range g.rows {
		for _, w := range r.words {
			if w.at == at {
				return i
			}
		}
	}
	return -1
}
