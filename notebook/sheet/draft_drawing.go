package sheet

import "strings"

// DraftValue is the value of a part in the drawing of the application circuit.
// The text layer does not say which pins it joins: lines are no text.
type DraftValue struct {
	Quoted
	Kind  string // "capacitor", "resistor", "inductor"
	Value string
}

const amount = `([0-9]+(?:\.[0-9]+)? ?[pnuμmkM]?[FHΩ])(?: ?\+?[±] ?[0-9.]+ ?%)?`

var (
	valueAlone = pattern(`^` + amount + `(?: to ` + amount + `)?(?: ?[±]? ?[0-9.]+ ?%)?$`)
	valueUnit  = pattern(`^([0-9.]+) ?(\S+)(.*)$`)
	// part matches an external part with its value: "C1 2.2 µF", "L1 = 4.7 µH".
	part = pattern(`\b[CRLD][0-9]{1,2}\b[^0-9]{0,6}[0-9.]+ ?(x [0-9.]+ ?)?[pnuμmkMGΩ]?[FHΩ]`)
)

// mostDrawn bounds the values and the lines that are kept of application circuits.
const mostDrawn = 60

// drawing collects the values that stand alone on pages of the application
// section, outside of tables.
func (d *drafter) drawing(s *pageSignals) {
	if !s.has(SectionApplication) {
		return
	}
	for _, r := range s.view.grid().rows {
		if inTable(s.tables, r) {
			continue
		}
		for _, c := range chunksOf(r.words) {
			text := foldString(c.text())
			if len(d.Drawn) == mostDrawn || !valueAlone().MatchString(text) || !s.prints(c.text()) {
				continue
			}
			kind := "resistor"
			switch {
			case strings.Contains(text, "F"):
				kind = "capacitor"
			case strings.Contains(text, "H"):
				kind = "inductor"
			}
			q := Quoted{Text: c.text(), Page: s.page, Label: s.view.page.Label, Quote: c.text()}
			d.Drawn = append(d.Drawn, DraftValue{q, kind, valueUnit().ReplaceAllString(text, "$1 $2$3")})
		}
	}
}

// circuit takes the lines that give parts on pages of the application section.
func (d *drafter) circuit(s *pageSignals) {
	if !s.has(SectionApplication) && d.under.section != SectionApplication {
		return
	}
	for _, l := range s.view.page.Lines {
		if len(d.Circuit) < mostDrawn && len(l.Text) < 200 && part().MatchString(foldString(l.Text)) {
			d.Circuit = append(d.Circuit, Quoted{Text: l.Text, Page: s.page, Label: s.view.page.Label, Quote: l.Text})
		}
	}
}
