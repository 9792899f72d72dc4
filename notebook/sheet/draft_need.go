package sheet

import (
	"strings"
)

// DraftNeed is an external part that the sheet asks for in words.
type DraftNeed struct {
	Quoted
	A, B  string // names of pins
	Kind  string // "capacitor", "resistor", "inductor"
	Value string // a quantity of the language: "100 nF", "min 1 µF", "1 µF to 22 µF"
	ESR   string // series resistance asked for, "" if none
}

// external is a row of the application section that asks for a part.
type external struct{ DraftRow }

// isExternal says whether a row is what is asked of an external part: a
// capacitance, an inductance, a series resistance, by symbol and unit.
func isExternal(r DraftRow) bool {
	unit := foldString(r.Unit)
	switch {
	case strings.HasPrefix(r.Symbol, "C"):
		return strings.HasSuffix(unit, "F")
	case strings.HasPrefix(r.Symbol, "L"):
		return strings.HasSuffix(unit, "H")
	}
	return strings.HasPrefix(r.Symbol, "ESR") && strings.HasSuffix(unit, "Ω")
}

// sentence is running text that gives a value of a part.
type sentence struct {
	Quoted
	pin string // the pin in whose line it stands, "" elsewhere
}

const amount = `([0-9]+(?:\.[0-9]+)? ?[pnuμmkM]?[FHΩ])(?: ?\+?[±] ?[0-9.]+ ?%)?`

var (
	holdsValue = pattern(`(^|[^0-9A-Za-z.])` + amount + `($|[^A-Za-z])`)
	speaksPart = pattern(`(?i)\b(capacitors?|capacitance|resistors?|inductors?|decoupling|bypass)\b`)
	// doubtful words: the value is not that of a part to place, or is not asked for.
	doubtful = pattern(`(?i)\b(inside|internal|internally|stray|parasitic|series resistance|load capacitance|typical|typically|if|unless|when|without|not|never|instead|may|can|could|example)\b`)
	stop     = pattern(`[.;](\s|$)`)
)

// sentences collects what the text of a page says of parts: sentences with a
// value, the word for the part and, as is seen later, names of pins.
func (d *drafter) sentences(s *pageSignals) {
	rows := s.view.grid().rows
	var run []string
	flush := func() {
		for _, text := range cutSentences(strings.Join(run, " ")) {
			d.say(s, text, "")
		}
		run = nil
	}
	for i, r := range rows {
		prose := len(chunksOf(r.words)) == 1 && len(r.words) >= 3 && !inTable(s.tables, r)
		if !prose || i > 0 && len(run) > 0 && r.y0-rows[i-1].y1 > emOf(r.y1-r.y0) {
			flush()
		}
		if prose {
			run = append(run, r.text())
		}
	}
	flush()
}

func cutSentences(text string) []string {
	var out []string
	for text != "" {
		m := stop().FindStringIndex(text)
		if m == nil {
			return append(out, text)
		}
		out, text = append(out, text[:m[0]]), strings.TrimSpace(text[m[1]:])
	}
	return out
}

func (d *drafter) say(s *pageSignals, text, pin string) {
	f := foldString(text)
	if len(text) < 300 && holdsValue().MatchString(f) && speaksPart().MatchString(f) && !doubtful().MatchString(f) && s.prints(text) {
		d.says = append(d.says, sentence{Quoted{Text: text, Page: s.page, Label: s.view.page.Label, Quote: text}, pin})
	}
}

// settleNeeds reads needs out of tables, pin functions and sentences, now that
// the names of the pins are known. The first place that speaks of a pair of
// pins counts.
func (d *drafter) settleNeeds() {
	p := newPinNames(d.Pins)
	seen := map[string]bool{}
	add := func(list []DraftNeed) {
		for _, n := range list {
			key := n.A + "\x00" + n.B + "\x00" + n.Kind
			if !seen[key] {
				seen[key] = true
				d.Needs = append(d.Needs, n)
			}
		}
	}
	add(d.tableNeeds(p))
	for _, q := range d.says {
		add(p.read(q))
	}
	for _, k := range d.Pins {
		if k.Package != "" && len(d.Packages) > 0 && !sameName(k.Package, d.Packages[0].Name) {
			continue
		}
		for _, text := range cutSentences(k.Function) {
			f := foldString(text)
			if holdsValue().MatchString(f) && speaksPart().MatchString(f) && !doubtful().MatchString(f) {
				add(p.read(sentence{Quoted{Text: k.Text, Page: k.Page, Label: k.Label, Quote: k.Quote}, k.Name}.of(text)))
			}
		}
	}
}

func (q sentence) of(text string) sentence {
	q.Text = text
	return q
}

// tableNeeds makes needs of rows such as "COUT 1.0 – 22 µF".
func (d *drafter) tableNeeds(p pinNames) []DraftNeed {
	var out []DraftNeed
	for _, e := range d.parts {
		if !strings.HasPrefix(e.Symbol, "C") {
			continue
		}
		pin := p.bySubscript(strings.Trim(e.Symbol[1:], "_ "))
		value := e.asked()
		if pin == "" || value == "" || p.groundOf(pin) == "" {
			continue
		}
		n := DraftNeed{Quoted: e.Quoted, A: pin, B: p.groundOf(pin), Kind: "capacitor", Value: value}
		for _, f := range d.parts {
			if strings.HasPrefix(f.Symbol, "ESR") && (strings.HasSuffix(f.Name, e.Symbol) || f.Symbol == "ESR_"+e.Symbol) {
				n.ESR = f.asked()
			}
		}
		out = append(out, n)
	}
	return out
}

// asked writes the columns of a row as what is asked of a part.
func (r DraftRow) asked() string {
	u := " " + r.Unit
	switch {
	case !plainNumber(r.Min + r.Max + r.Typ + r.Value):
		return ""
	case r.Min != "" && r.Max != "":
		return r.Min + u + " to " + r.Max + u
	case r.Min != "":
		return "min " + r.Min + u
	case r.Max != "":
		return "max " + r.Max + u
	case r.Typ != "":
		return r.Typ + u
	}
	return r.Value + u
}
