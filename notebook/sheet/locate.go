package sheet

import "strings"

// sighting is a quote found on a page.
type sighting struct {
	view *view
	span span
}

// locate says where the words or the numbers stand: page, line and boxes.
func (k *checker) locate(f *Finding, views []*view, want []wanted, found []sighting) {
	if len(found) > 0 {
		best, score := 0, -1
		for i, s := range found {
			if n := s.score(want); n > score {
				best, score = i, n
			}
		}
		s := found[best]
		f.set(k.head, s.view, s.span.words[0])
		f.Boxes = append(f.Boxes, s.span.boxes...)
		f.addNumbers(s.view, want, s.span.words[0])
		f.widen(s.view, s.span.words[0])
		if text := rowText(s, want); text != "" {
			f.Line = text
		}
		return
	}
	for _, v := range views {
		for _, w := range want {
			for _, t := range v.find(w) {
				at := v.grid().rows[t.row].words[t.first].at
				f.set(k.head, v, at)
				f.addNumbers(v, want, at)
				f.widen(v, at)
				return
			}
		}
	}
}

// rowText gives the table row that the words name and that states most of the
// numbers; "" if there is none. A cell that spans rows stands in no line of its own.
func rowText(s sighting, want []wanted) string {
	text, most := "", 0
	for _, r := range rowsOfWords([]sighting{s}) {
		n := 0
		for _, w := range want {
			if len(r.columnsOf(w)) > 0 {
				n++
			}
		}
		if n <= most {
			continue
		}
		var cells []string
		for _, c := range r.row.Cells {
			if c.Text != "" {
				cells = append(cells, c.Text)
			}
		}
		if line := strings.Join(cells, " "); len(line) < maxLine {
			text, most = line, n
		}
	}
	return text
}

// score counts the numbers that stand in the row of the words.
func (s sighting) score(want []wanted) int {
	row := s.view.grid().rowOf(s.span.words[0])
	n := 0
	for _, w := range want {
		for _, t := range s.view.find(w) {
			if t.row == row {
				n++
				break
			}
		}
	}
	return n
}

// set names the page and the line of a word.
func (f *Finding) set(h *header, v *view, at place) {
	f.Page, f.Label = v.page.Number, h.label(v.page.Number)
	f.Line = v.page.Lines[at.line].Text
	if r := v.grid().rowOf(at); r >= 0 {
		if text := v.grid().rows[r].text(); len(text) < maxLine {
			f.Line = text
		}
	}
}

// maxLine is the longest line reported, in bytes.
const maxLine = 400

// addNumbers adds the boxes of the numbers, those in the row of the words if
// they stand there, else the nearest.
func (f *Finding) addNumbers(v *view, want []wanted, near place) {
	row := v.grid().rowOf(near)
	for _, w := range want {
		best, far := -1, 0
		tokens := v.find(w)
		for i, t := range tokens {
			d := t.row - row
			if d < 0 {
				d = -d
			}
			if best < 0 || d < far {
				best, far = i, d
			}
		}
		if best >= 0 {
			f.Boxes = append(f.Boxes, v.tokenBox(tokens[best]))
		}
	}
}

// widen adds the whole row of a word where a number is missed: the one that
// stands there instead must be seen.
func (f *Finding) widen(v *view, at place) {
	row := v.grid().rowOf(at)
	if len(f.Missing) == 0 || row < 0 {
		return
	}
	for _, w := range v.grid().rows[row].words {
		f.Boxes = append(f.Boxes, v.page.Lines[w.at.line].Words[w.at.word].Box)
	}
}

// tokenBox gives the box of a number as shown.
func (v *view) tokenBox(t token) Box {
	at := v.grid().rows[t.row].words[t.first].at
	return cut(v.page.Lines[at.line].Words[at.word], t.from, t.to)
}
