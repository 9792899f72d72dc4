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
}

// row is a visual line over the whole width of the page.
type row struct {
	y0, y1 float64
	words  []cellWord
}

// cellWord is a word with its upright rectangle.
type cellWord struct {
	text string
	r    rect
	size float64
	at   place
}

// newGrid builds rows from the boxes of the words; words that read in another
// direction are left out.
func newGrid(p *Page) *grid {
	g := &grid{page: p, turn: mainTurn(p)}
	var words []cellWord
	for i, l := range p.Lines {
		for j, w := range l.Words {
			if w.Turn == g.turn {
				words = append(words, cellWord{text: w.Text, r: w.Box.rect().upright(w.Turn, p.Width, p.Height), size: w.Size, at: place{i, j}})
			}
		}
	}
	// Tall words first, so that rows form about full-size type and raised or
	// lowered type joins them.
	sort.SliceStable(words, func(i, j int) bool {
		a, b := words[i], words[j]
		if am, bm := a.middle(), b.middle(); math.Abs(am-bm) > 0.01 {
			return am < bm
		}
		return a.r.x0 < b.r.x0
	})
	for _, w := range words {
		g.place(w)
	}
	sort.SliceStable(g.rows, func(i, j int) bool { return g.rows[i].y0+g.rows[i].y1 < g.rows[j].y0+g.rows[j].y1 })
	for i := range g.rows {
		ws := g.rows[i].words
		sort.SliceStable(ws, func(a, b int) bool { return ws[a].r.x0 < ws[b].r.x0 })
	}
	return g
}

func (w cellWord) middle() float64 { return (w.r.y0 + w.r.y1) / 2 }

// place puts a word into the row it overlaps most, else into a new one.
func (g *grid) place(w cellWord) {
	best, share := -1, 0.5
	for i := len(g.rows) - 1; i >= 0 && i >= len(g.rows)-6; i-- {
		r := &g.rows[i]
		overlap := math.Min(r.y1, w.r.y1) - math.Max(r.y0, w.r.y0)
		least := math.Min(r.y1-r.y0, w.r.y1-w.r.y0)
		if least <= 0.5 { // dashes and dots
			least = 0.5
		}
		if s := overlap / least; s > share {
			best, share = i, s
		}
	}
	if best < 0 {
		g.rows = append(g.rows, row{y0: w.r.y0, y1: w.r.y1, words: []cellWord{w}})
		return
	}
	r := &g.rows[best]
	r.words = append(r.words, w)
	// Rows do not grow beyond their type, or raised type would chain lines together.
	if w.r.y1-w.r.y0 > r.y1-r.y0 && w.r.y1-w.r.y0 < 1.7*(r.y1-r.y0)+1 {
		r.y0, r.y1 = w.r.y0, w.r.y1
	}
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
