package sheet

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// A number whose digits stand on the page with another unit, "300 mΩ" noted as
// 300 µΩ, is another number. That is said only where the page leaves no doubt
// of its unit: of the row meant, or of every place that shows the digits.

// Unlike is a number that the cited pages give in another unit alone.
type Unlike struct {
	Number string `json:"number"` // as typed with its unit
	Text   string `json:"text"`   // what the page gives instead
}

// composed gives units by volts, amperes, seconds, metres and kelvins (SI
// Brochure, 9th edition, table 4). Shares have no unit, levels one of their own.
var composed = map[string]measure{
	"Ω": {"V A-1", 1}, "S": {"A V-1", 1}, "W": {"V A", 1}, "VA": {"V A", 1}, "J": {"V A s", 1}, "Wh": {"V A s", 3600},
	"C": {"A s", 1}, "Ah": {"A s", 3600}, "F": {"A s V-1", 1}, "H": {"V s A-1", 1}, "Hz": {"s-1", 1}, "°C": {"K", 1},
	"%": {"", 0.01}, "ppm": {"", 1e-6}, "Bd": {"s-1", 1}, "bit": {"", 1}, "sample": {"", 1}, "dBm": {"dB", 1}, "dBV": {"dB", 1},
	"dBc": {"dB", 1}, "dBFS": {"dB", 1},
	"V": {"V", 1}, "A": {"A", 1}, "s": {"s", 1}, "K": {"K", 1}, "dB": {"dB", 1}, "√Hz": {"√Hz", 1}, "√V": {"√V", 1},
}

// basic resolves a unit. It is false of one that may as well mean something
// else: a lone m, K or C, "min", units that are not met on every sheet.
func (m measure) basic() (measure, bool) {
	out := measure{factor: m.factor}
	powers := map[string]int{}
	parts := strings.Fields(m.kind)
	for _, p := range parts {
		base, n := splitPower(p)
		to, ok := composed[base]
		switch {
		case !ok && base == "m" && len(parts) == 1 && m.factor != 1: // mm
			to, ok = measure{"m", 1}, true
		case base == "C" && (len(parts) > 1 || m.factor == 1), p == "K" && len(parts) == 1: // a lost degree, 10 K for 10 kΩ
			ok = false
		case base == "s" && m.factor >= 60 && len(parts) == 1:
			ok = false
		}
		if !ok {
			return out, false
		}
		out.factor *= math.Pow(to.factor, float64(n))
		for _, q := range strings.Fields(to.kind) {
			b, k := splitPower(q)
			powers[b] += k * n
		}
	}
	out.kind = canonical(powers)
	return out, m.kind != ""
}

// lookAlike says whether type without names of its characters shows one unit as
// the other: a µ as m, an Ω as W (the codes of the usual symbol face).
func lookAlike(page, want measure) bool {
	near := func(a, b float64) bool { return math.Abs(a-b) < 1e-6*b }
	ohm := func(m measure) string { return strings.ReplaceAll(m.kind, "Ω", "W") }
	return page.kind == want.kind && near(page.factor, 1e-3) && near(want.factor, 1e-6) ||
		page.kind != want.kind && ohm(page) == ohm(want)
}

// unlike lists the numbers of which the pages show the digits with other units
// alone; those that stand there as noted are none of them.
func (k *checker) unlike(rows []tableRow, views []*view, want []wanted) (out []Unlike) {
	for _, w := range want {
		if w.Value == 0 || slices.ContainsFunc(views, func(v *view) bool { return len(v.find(w)) > 0 || v.mayHide(w) }) {
			continue
		}
		text := w.otherInRow(k, rows)
		if text == "" {
			text = w.otherOnPages(k, views)
		}
		if text != "" {
			out = append(out, Unlike{w.String(), text})
		}
	}
	return out
}

// otherInRow looks at the row meant: it gives the digits in another unit, in a
// column of numbers, else with a unit beside them.
func (w wanted) otherInRow(k *checker, rows []tableRow) string {
	for _, limits := range []bool{true, false} {
		text, told := "", true
		for _, r := range rows {
			for _, t := range r.view.sameDigits(w) {
				kind := r.kindAt(r.view.grid().rows[t.row].words[t.first].at)
				if kind == "" || kind.isLimit() != limits || !limits && !t.sure {
					continue
				}
				unit, ok := r.view.otherUnit(k, t, w)
				told = told && ok
				text = fmt.Sprintf("the row “%s” gives %s %s", r.label(), t.text(r.view), unit)
			}
		}
		if !told {
			return ""
		}
		if text != "" {
			return text
		}
	}
	return ""
}

// kindAt is the kind of the column in which a word stands, "" for none.
func (r tableRow) kindAt(at place) Kind {
	for i, c := range r.table.Columns {
		if slices.ContainsFunc(r.row.Cells[i].words, func(w cellWord) bool { return w.at == at }) {
			return c.Kind
		}
	}
	return ""
}

// otherOnPages looks at every place that shows the digits.
func (w wanted) otherOnPages(k *checker, views []*view) string {
	text, figures, told := "", 0, 0
	for _, v := range views {
		for _, f := range v.figures() {
			if sameDigits(w.Value, f, false) {
				figures++
			}
		}
		for _, t := range v.sameDigits(w) {
			unit, ok := v.otherUnit(k, t, w)
			if !ok {
				return ""
			}
			told++
			text = fmt.Sprintf("the page gives %s %s", t.text(v), unit)
		}
	}
	if figures > told { // a decimal comma, a marking code
		return ""
	}
	return text
}

// sameDigits gives the places that show the digits of a number.
func (v *view) sameDigits(w wanted) (out []token) {
	for _, t := range v.tokens() {
		if sameDigits(w.Value, figure{value: t.value}, false) {
			out = append(out, t)
		}
	}
	return out
}

// text is a number as the page prints it.
func (t token) text(v *view) string {
	s := foldString(v.grid().rows[t.row].words[t.first].text)
	return s[int(math.Round(t.from*float64(len(s)))):max(1, int(math.Round(t.to*float64(len(s)))))]
}

// otherUnit names the unit that a page gives to a number if it is another one
// beyond doubt.
func (v *view) otherUnit(k *checker, t token, w wanted) (string, bool) {
	want, ok := w.m.basic()
	if !ok || !w.known { // a bare number may be a share of what the page gives
		return "", false
	}
	name := ""
	for _, u := range v.unitsOf(t) {
		page, ok := u.m.basic()
		switch {
		case !ok:
			return "", false
		case page.kind == want.kind && same(token{either: true}, t.value*page.factor, w.Value*want.factor): // another sign, a level
			return "", false
		case lookAlike(u.m, w.m) && !k.namesSymbols():
			return "", false
		}
		name = u.text
	}
	return name, name != ""
}

// tokenUnit is a unit of a number as printed.
type tokenUnit struct {
	m    measure
	text string
}

// unitsOf gives the units that a number may have by what stands with it, in its
// row of a table or in a cell of its line; nil where there is none.
func (v *view) unitsOf(t token) (out []tokenUnit) {
	words := v.grid().rows[t.row].words
	if t.sure {
		s := foldString(words[t.last].text)
		if t.last == t.first {
			s = strings.TrimLeft(s[min(len(s), int(math.Round(t.to*float64(len(s))))):], " ")
		}
		return []tokenUnit{{t.unit, s}}
	}
	if own, ok := v.rowUnits()[words[t.first].at]; ok {
		if own.unknown {
			return nil
		}
		for i, m := range own.list {
			out = append(out, tokenUnit{m, own.text[i]})
		}
		return out
	}
	for _, u := range v.units {
		if u.row == t.row && u.alone && u.r.x0 > t.r.x1 {
			out = append(out, tokenUnit{u.m, u.text})
		}
	}
	return out
}

// namesSymbols says whether the document says of its symbols what they are: some
// page has one that no text face has.
func (k *checker) namesSymbols() bool {
	if k.symbols != 0 {
		return k.symbols > 0
	}
	k.symbols = -1
	for n := 1; n <= min(k.head.Pages, nearSearch) && k.symbols < 0; n++ {
		p, err := k.lib.fetch(k.ctx, k.file, k.content, n)
		if err != nil {
			continue
		}
		for _, l := range p.Lines {
			if strings.ContainsAny(l.Text, "ΩΩ≤≥θΔ∆μµ") {
				k.symbols = 1
				break
			}
		}
	}
	return k.symbols > 0
}
