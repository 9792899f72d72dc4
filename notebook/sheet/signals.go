package sheet

import (
	"math"
	"strings"
)

// signal is one reason to take a page for a section.
type signal struct {
	section Section
	page    int
	weight  float64
	line    string // as it stands on the page
	y, x0   float64
	kind    signalKind
}

type signalKind uint8

const (
	byHeading signalKind = iota
	byOutline
	byTable
	byCaption
)

// Weights, set on the project's own corpus and meant only to rank.
const (
	weightHeading  = 5.0 // set in larger type
	weightPlain    = 2.5 // a heading in the size of the text
	weightRunning  = 1.0 // in the running head of the page
	weightOutline  = 4.0
	weightTable    = 3.0
	weightNumbered = 4.0 // a table whose first column counts pins
	weightCaption  = 2.5
)

// pageSignals are those of one page, without the outline.
type pageSignals struct {
	page     int
	signals  []signal
	contents int       // lines of a table of contents
	headings []heading // of any kind, to know where a section ends
	tables   []*Table
	view     *view
}

// heading is a line set as a heading.
type heading struct {
	text    string
	y       float64
	x0, x1  float64
	section Section // "" if it is none of the six
}

// readSignals looks at one page.
func readSignals(v *view) pageSignals {
	g := v.grid()
	s := pageSignals{page: v.page.Number, view: v}
	body := bodySize(g)
	height := v.page.Height
	if g.turn&1 == 1 {
		height = v.page.Width
	}
	for i, r := range g.rows {
		chunks := chunksOf(withoutNotes(r.words))
		if len(chunks) > 1 && !sectionNumber().MatchString(chunks[0].text()) && r.wideHeading() {
			chunks = []chunk{newChunk(withoutNotes(r.words))}
		}
		for k, c := range chunks {
			known := len(s.headings)
			s.line(g, i, c, body, height)
			for n := known; k == 1 && n < len(s.headings) && sectionNumber().MatchString(chunks[0].text()); n++ {
				s.headings[n].text = chunks[0].text() + " " + s.headings[n].text
			}
		}
	}
	if s.contents >= 3 { // a page of contents: its lines are no headings
		s.signals, s.headings = nil, nil
		return s
	}
	s.tables = v.tables()
	s.dropInside()
	for _, t := range s.tables {
		s.table(t, v)
	}
	return s
}

// dropInside takes out what looked like a heading and stands in a table.
func (s *pageSignals) dropInside() {
	kept := s.headings[:0]
	for _, h := range s.headings {
		in := false
		for _, t := range s.tables {
			in = in || h.y < t.top && h.y > t.top-20 && t.titles(h) || h.y >= t.top-6 && h.y <= t.bottom && h.x0 < t.right && h.x1 > t.left
		}
		if !in {
			kept = append(kept, h)
		}
	}
	s.headings = kept
	signals := s.signals[:0]
	for _, x := range s.signals {
		in := false
		for _, t := range s.tables {
			in = in || x.kind == byHeading && x.y >= t.top-1 && x.y <= t.bottom && x.x0 < t.right && x.x0 > t.left-1
		}
		if !in {
			signals = append(signals, x)
		}
	}
	s.signals = signals
}

// bodySize is the size of most of the type on a page.
func bodySize(g *grid) float64 {
	counts := map[int]int{}
	best := 0
	for _, r := range g.rows {
		for _, w := range r.words {
			if insideDots().MatchString(w.text) { // leader dots have no height of letters
				continue
			}
			k := int(w.size*2 + 0.5)
			counts[k] += len(w.text)
			if counts[k] > counts[best] || counts[k] == counts[best] && k < best {
				best = k
			}
		}
	}
	return float64(best) / 2
}

// line reads one phrase as a heading, a caption or a line of contents.
func (s *pageSignals) line(g *grid, row int, c chunk, body, height float64) {
	text := c.text()
	if len(text) < 4 || len(text) > 160 {
		return
	}
	if m := leader().FindStringSubmatch(foldString(text)); m != nil {
		whole := strings.TrimSpace(foldString(text)[:len(foldString(text))-len(m[0])])
		if headsSection(whole) {
			s.contents++
			return
		}
	} else if row < len(g.rows) && len(g.rows[row].words) > len(c.words) && headsSection(text) && pageAtEnd(g.rows[row].words, c) {
		s.contents++
		return
	}
	s.heading(text, c, body, height)
}

// pageAtEnd says whether a row ends in a number after a wide gap.
func pageAtEnd(words []cellWord, c chunk) bool {
	last := words[len(words)-1]
	return digits(last.text) && len(last.text) <= 4 && last.r.x0 > c.r.x1+3*emOf(last.size)
}

// heading adds a heading or caption.
func (s *pageSignals) heading(text string, c chunk, body, height float64) {
	size := 0.0
	for _, w := range c.words {
		size = max(size, w.size)
	}
	large := size > 1.12*body
	running := c.r.y1 < 0.06*height || c.r.y0 > 0.95*height
	if rest, ok := captionOf(text); ok {
		if sec, _, ok := sectionHeading(rest); ok {
			s.signals = append(s.signals, signal{sec, s.page, weightCaption, text, c.r.y0, c.r.x0, byCaption})
		}
		return
	}
	list, exact, ok := sectionsNamed(text)
	if !ok && large && packageTitle(text) {
		list, ok = []Section{SectionPackage}, true
	}
	if !ok {
		if large && !running && len(c.words) <= 10 && beginsTitle(text) {
			s.headings = append(s.headings, heading{text: text, y: c.r.y0, x0: c.r.x0, x1: c.r.x1})
		}
		return
	}
	weight := weightPlain
	switch {
	case running:
		weight = weightRunning
	case large:
		weight = weightHeading
	case !exact && !titled(text), exact && c.words[0].text == strings.ToLower(c.words[0].text):
		return // running text that names a section
	}
	if !exact {
		weight *= 0.8
	}
	for _, sec := range list {
		s.signals = append(s.signals, signal{sec, s.page, weight, text, c.r.y0, c.r.x0, byHeading})
		if !running {
			s.headings = append(s.headings, heading{text: text, y: c.r.y0, x0: c.r.x0, x1: c.r.x1, section: sec})
		}
	}
}

// packageTitle says whether a heading begins with the word and names a
// package: "Package SC70-5", "Outline of SO8".
func packageTitle(text string) bool {
	low := headingText(text)
	if !strings.HasPrefix(low, "package ") && !strings.HasPrefix(low, "outline ") && !strings.HasPrefix(low, "case ") {
		return false
	}
	return namedPackage(text) != ""
}

// beginsTitle says whether a line in large type reads like a heading, not like
// a sentence.
func beginsTitle(s string) bool {
	s = strings.TrimSpace(s)
	return s != "" && s[:1] != strings.ToLower(s[:1]) && !strings.HasSuffix(s, ".") && !strings.HasSuffix(s, ";") &&
		!strings.HasSuffix(s, ",") || titled(s)
}

// titles says whether what looks like a heading is part of a column's title.
func (t *Table) titles(h heading) bool {
	for _, c := range t.Columns {
		if strings.Contains(c.Title, h.text) {
			return true
		}
	}
	return false
}

// table adds what the columns of a table say.
func (s *pageSignals) table(t *Table, v *view) {
	line := v.grid().rows[t.headRow].text()
	sec := Section("")
	switch {
	case t.hasLimits() && t.dimensions(s):
		sec = SectionPackage
	case t.column(KindOrder) >= 0:
		sec = SectionOrdering
	case (t.column(KindPin) >= 0 || t.column(KindPinName) >= 0) &&
		(t.column(KindFunction) >= 0 || t.column(KindType) >= 0 || t.column(KindPinName) >= 0 &&
			t.column(KindPin) >= 0):
		sec = SectionPins
	case t.hasLimits():
		sec = SectionElectrical
		if head := s.headingOver(t); head != nil && head.section != "" {
			sec = head.section
		}
	case t.column(KindPackage) >= 0:
		sec = SectionPackage
	default:
		return
	}
	weight := weightTable
	if sec == SectionPins && t.numbersPins() {
		weight = weightNumbered
	}
	s.signals = append(s.signals, signal{sec, s.page, weight, line, t.top, t.left, byTable})
}

// headingOver finds the heading above a table on its page: the nearest of those
// that stand over it, or one on its left that comes clearly later.
func (s *pageSignals) headingOver(t *Table) *heading {
	return s.nearest(t, func(*heading) bool { return true })
}

// nearest finds the heading over a table among those wanted. What stands beside
// it, as in pages of two columns, heads another.
func (s *pageSignals) nearest(t *Table, want func(*heading) bool) *heading {
	var over, left *heading
	x0, x1 := t.extent()
	for i := range s.headings {
		switch h := &s.headings[i]; {
		case h.y >= t.top || !want(h) || h.x0 >= x1:
		case h.x1 > x0:
			if over == nil || h.y > over.y {
				over = h
			}
		case left == nil || h.y > left.y:
			left = h
		}
	}
	if over != nil && (left == nil || left.y < over.y+40) {
		return over
	}
	return left
}

// extent gives the sides of what stands in a table.
func (t *Table) extent() (x0, x1 float64) {
	x0, x1 = t.right, t.left
	for _, r := range t.Rows {
		for _, c := range r.Cells {
			for _, w := range c.words {
				x0, x1 = math.Min(x0, w.r.x0), math.Max(x1, w.r.x1)
			}
		}
	}
	if x0 >= x1 {
		return t.left, t.right
	}
	return x0, x1
}
