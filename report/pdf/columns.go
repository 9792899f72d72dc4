package pdf

import (
	"strings"

	"guardband/report/outline"
)

// columnWidths shares the width of the text column out: each column gets what
// its content asks for; where that is too much, the longest word of each comes
// first and the rest goes by what is still missing.
func (p *page) columnWidths(t table) []float64 {
	n := len(t.cols)
	want, least := make([]float64, n), make([]float64, n)
	for i, c := range t.cols {
		if c.Width > 0 {
			want[i], least[i] = c.Width, c.Width
			continue
		}
		h := p.g.stringWidth(bold, tinySize, p.g.clean(c.Head)) + 2*cellPad
		want[i], least[i] = h, longestWord(p, c.Head)+2*cellPad
	}
	for _, r := range t.rows {
		for i := range r.cells {
			if i < n && t.cols[i].Width == 0 {
				full, word := p.extent(r.cells[i])
				want[i] = max(want[i], full+2*cellPad)
				least[i] = max(least[i], word+2*cellPad)
			}
		}
	}
	most := p.w * 0.34 // one long word must not take the table
	for i, c := range t.cols {
		if c.Most > 0 {
			want[i] = min(want[i], c.Most)
		}
		if c.Width > 0 {
			continue
		}
		want[i] += 0.01 // rounding must not break a line that fits exactly
		least[i] = min(least[i]+0.01, most, want[i])
	}
	return share(want, least, t.cols, p.w)
}

func longestWord(p *page, s string) float64 {
	w := 0.0
	for _, word := range strings.Fields(s) {
		w = max(w, p.g.stringWidth(bold, tinySize, p.g.clean(word)))
	}
	return w
}

// extent is the width of a cell set on one line, and of its longest word.
func (p *page) extent(c cell) (full, word float64) {
	line, run := 0.0, 0.0
	for i := range c {
		s := &c[i]
		if s.text == "\n" {
			full, word, line, run = max(full, line), max(word, run), 0, 0
			continue
		}
		blank := p.g.stringWidth(s.face, s.size, " ")
		for j, part := range strings.Split(s.text, " ") {
			w := p.g.stringWidth(s.face, s.size, part)
			if j > 0 {
				word, run = max(word, run), 0
				line += blank
			}
			run += w
			line += w
		}
	}
	return max(full, line), max(word, run)
}

func share(want, least []float64, cols []outline.Column, width float64) []float64 {
	sumWant, sumLeast := 0.0, 0.0
	for i := range want {
		sumWant += want[i]
		sumLeast += least[i]
	}
	out := make([]float64, len(want))
	switch {
	case sumWant <= width:
		spread(out, want, cols, width-sumWant)
	case sumLeast >= width:
		for i := range out {
			out[i] = least[i] * width / sumLeast
		}
	default:
		for i := range out {
			out[i] = least[i] + (want[i]-least[i])*(width-sumLeast)/(sumWant-sumLeast)
		}
	}
	return out
}

// spread gives the width that is left over to the columns of text, in
// proportion to what they hold.
func spread(out, want []float64, cols []outline.Column, left float64) {
	sum := 0.0
	for i, c := range cols {
		if c.Width == 0 {
			sum += want[i]
		}
	}
	for i, c := range cols {
		out[i] = want[i]
		if c.Width == 0 && sum > 0 {
			out[i] += left * want[i] / sum
		}
	}
}
