package sheet

import (
	"slices"
	"strings"
)

// mostLoose bounds the lines of a page that are kept for the reader to look at.
const mostLoose = 60

// loose keeps what looks like a row of ratings or characteristics and is in no
// table that was understood: no row goes lost without a word.
func (d *drafter) loose(s *pageSignals) {
	if d.within != "" && d.within != SectionElectrical && d.within != SectionRatings && !s.has(SectionElectrical) && !s.has(SectionRatings) {
		return
	}
	taken := map[int]bool{}
	for _, t := range s.tables {
		if !t.hasLimits() && !t.listsPins() && t.column(KindOrder) < 0 { // passed over
			continue
		}
		for _, r := range t.Rows {
			for _, l := range r.Lines {
				taken[l] = true
			}
		}
	}
	var run []int
	kept := 0
	flush := func() {
		for _, i := range run {
			text := s.view.grid().rows[i].text()
			if quote := chunksOf(s.view.grid().rows[i].words)[0].text(); len(run) > 1 && kept < mostLoose && s.prints(quote) {
				d.Loose = append(d.Loose, Quoted{Text: text, Page: s.page, Label: s.view.page.Label, Quote: quote})
				kept++
			}
		}
		run = nil
	}
	for i, r := range s.view.grid().rows {
		switch {
		case taken[i]:
			flush()
		case r.looksStated():
			run = append(run, i)
		case len(run) > 0 && r.y0-s.view.grid().rows[run[len(run)-1]].y1 > 30:
			flush()
		}
	}
	flush()
}

// looksStated says whether a row names something and ends in a number with its unit.
func (r row) looksStated() bool {
	chunks := slices.DeleteFunc(chunksOf(withoutNotes(r.words)), func(c chunk) bool { return strings.Trim(c.text(), "._ ") == "" })
	n := len(chunks)
	if n < 2 || n > 12 || len(chunks[0].words) > 12 || !lettersIn(chunks[0].words) {
		return false
	}
	last := chunks[n-1].text()
	if _, ok := readStated(last); ok {
		return true
	}
	m, ok := parseMeasure(last)
	return ok && m.kind != "" && n > 2 && hasDigit(chunks[n-2].text()) && plainUnitWord(last)
}

// plainUnitWord says whether a cell holds a unit and nothing else.
func plainUnitWord(s string) bool {
	_, ok := unitWord(strings.ReplaceAll(s, " ", ""))
	return ok && !hasDigit(s)
}
