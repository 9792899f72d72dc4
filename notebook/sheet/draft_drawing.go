package sheet

import (
	"math"
	"strings"
)

// DraftValue is the value of a part in the drawing of the application circuit.
// The text layer does not say which pins it joins: lines are no text.
type DraftValue struct {
	Quoted
	Kind  string // "capacitor", "resistor", "inductor"
	Value string
	Near  string // the pin whose name stands nearest, "" if two are about as near
}

// drawnValue is a value with what stands around it on its page.
type drawnValue struct {
	DraftValue
	at     rect
	around []chunk
}

var valueAlone = pattern(`^` + amount + `(?: to ` + amount + `)?(?: ?[±]? ?[0-9.]+ ?%)?$`)

// drawing collects the values that stand alone on pages of the application
// section, outside of tables.
func (d *drafter) drawing(s *pageSignals) {
	if !s.has(SectionApplication) {
		return
	}
	var found []drawnValue
	var around []chunk
	for _, r := range s.view.grid().rows {
		if inTable(s.tables, r) {
			continue
		}
		for _, c := range chunksOf(r.words) {
			text := foldString(c.text())
			if !valueAlone().MatchString(text) {
				around = append(around, c)
				continue
			}
			v := drawnValue{at: c.r}
			v.Quoted = Quoted{Text: c.text(), Page: s.page, Label: s.view.page.Label, Quote: c.text()}
			v.Value, v.Kind = spaced(text), map[byte]string{'F': "capacitor", 'H': "inductor"}[lastUnit(text)]
			if v.Kind == "" {
				v.Kind = "resistor"
			}
			if s.prints(v.Quote) {
				found = append(found, v)
			}
		}
	}
	for i := range found {
		found[i].around = around
	}
	if len(d.values) < 60 {
		d.values = append(d.values, found...)
	}
}

// lastUnit is the letter of the unit of a value.
func lastUnit(text string) byte {
	for i := len(text) - 1; i >= 0; i-- {
		if text[i] == 'F' || text[i] == 'H' {
			return text[i]
		}
	}
	return 0
}

// clearlyNearer is how much nearer the nearest pin must be than the next.
const clearlyNearer = 0.8

// settleDrawn names the pin beside each value, as a hint for the person.
func (d *drafter) settleDrawn() {
	p := newPinNames(d.Pins)
	for _, v := range d.values {
		best, next := math.Inf(1), math.Inf(1)
		for _, c := range v.around {
			name := strings.TrimSpace(foldString(c.text()))
			if !p.known[name] {
				continue
			}
			switch dist := math.Hypot(spacing(v.at.x0, v.at.x1, c.r.x0, c.r.x1), 2*spacing(v.at.y0, v.at.y1, c.r.y0, c.r.y1)); {
			case dist < best:
				best, next, v.Near = dist, best, name
			case dist < next:
				next = dist
			}
		}
		if best > clearlyNearer*next {
			v.Near = ""
		}
		if !d.asked(v.DraftValue) {
			d.Drawn = append(d.Drawn, v.DraftValue)
		}
	}
}

// asked says whether a need in words speaks of the same pin and kind already.
func (d *drafter) asked(v DraftValue) bool {
	for _, n := range d.Needs {
		if n.A == v.Near && n.Kind == v.Kind {
			return true
		}
	}
	return false
}

// spacing is the gap between two intervals, 0 where they overlap.
func spacing(a0, a1, b0, b1 float64) float64 {
	return math.Max(0, math.Max(a0-b1, b0-a1))
}
