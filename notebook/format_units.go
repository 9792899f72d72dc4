package notebook

import (
	"regexp"
	"slices"
	"strings"

	"guardband/units"
)

// This file respells quantities: "5V" as "5 V", "1.9 V min" as "min 1.9 V". A
// change is made only where the unit catalogue reads both forms as the same
// quantity.

// canonical writes a right-hand side, a condition or a quantity of a row in
// the form of the language guide.
func canonical(s string) string { return columnsFirst(spelt(s)) }

// spelt writes signs and units in their usual form and apart. A unit that
// touched a sign is a word only once they are apart.
func spelt(s string) string { return tidy(spaced(tidy(s))) }

// spaced puts one blank between a number and the unit that follows it at once,
// and round "±". What stands in quotes and what is no such quantity (a name, a marking code)
// is kept.
func spaced(s string) string {
	var b strings.Builder
	for i := 0; i < len(s); {
		if k := quoteEnd(s, i); k > i {
			b.WriteString(s[i:k])
			i = k
			continue
		}
		if strings.HasPrefix(s[i:], "±") {
			if t := strings.TrimRight(b.String(), " "); t != "" && t != b.String() || t == "" {
				b.WriteString("±")
			} else {
				b.WriteString(" ±")
			}
			if i += len("±"); i < len(s) && !isBlank(s[i]) {
				b.WriteByte(' ')
			}
			continue
		}
		if !(isDigit(s[i]) || s[i] == '.' && i+1 < len(s) && isDigit(s[i+1])) {
			b.WriteByte(s[i])
			i++
			continue
		}
		n := i + len(numeral.FindString(s[i:]))
		b.WriteString(s[i:n])
		if !(i > 0 && isNameByte(s, i)) && gluedUnit(s, i, n) {
			b.WriteByte(' ')
		}
		i = n
	}
	return b.String()
}

var numeral = regexp.MustCompile(`^[0-9.]+(?:[eE][+-]?[0-9]+)?`)

// gluedUnit says that a unit follows the number s[i:n] at once, and that the
// two are the same quantity with a blank between them.
func gluedUnit(s string, i, n int) bool {
	if n >= len(s) || isBlank(s[n]) {
		return false
	}
	q, end, ok, err := units.ScanLiteral(s, i, false)
	if !ok || err != nil || end <= n || q.Unit.Symbol == "" || strings.HasPrefix(s[n:], "°") &&
		!strings.HasPrefix(s[n:], "°C") && !strings.HasPrefix(s[n:], "°F") {
		return false // no unit, or an angle, whose signs stand tight
	}
	apart := s[:n] + " " + s[n:]
	p, after, ok, err := units.ScanLiteral(apart, i, false)
	return ok && err == nil && after == end+1 && p.Type == q.Type && p.SI.Cmp(q.SI) == 0
}

// columnsFirst writes the columns of a data sheet with their words before
// their values, in the order typed. Anything else is kept.
func columnsFirst(s string) string {
	p, err := units.Split(s)
	if err != nil || p.Shape != units.Columns || p.MaxDev.Present() {
		return s
	}
	type column struct {
		word string
		leaf units.Leaf
	}
	var cols []column
	for _, c := range []column{{"min", p.Min}, {"typ", p.Typ}, {"max", p.Max}} {
		if c.leaf.Present() {
			cols = append(cols, c)
		}
	}
	slices.SortStableFunc(cols, func(a, b column) int { return a.leaf.Off - b.leaf.Off })
	var out []string
	for _, c := range cols {
		out = append(out, c.word+" "+strings.TrimSpace(c.leaf.Text(s)))
	}
	text := strings.Join(out, ", ")
	q, err := units.Split(text)
	if err != nil || q.Shape != units.Columns || !sameLeaf(s, p.Min, text, q.Min) || !sameLeaf(s, p.Typ, text, q.Typ) ||
		!sameLeaf(s, p.Max, text, q.Max) {
		return s
	}
	return text
}

func sameLeaf(s string, a units.Leaf, t string, b units.Leaf) bool {
	return a.Present() == b.Present() && (!a.Present() || strings.TrimSpace(a.Text(s)) == strings.TrimSpace(b.Text(t)))
}

// canonicalRHS writes what stands right of "=": value, conditions, `ref`.
func canonicalRHS(s string, whole bool) string {
	s = spelt(s)
	if !whole {
		return s
	}
	end := len(s)
	for _, m := range findMarks(s, true) {
		end = min(end, m.at)
	}
	value := strings.TrimRight(s[:end], " ")
	if c := columnsFirst(value); c != value {
		return strings.TrimRight(c+" "+s[end:], " ")
	}
	return s
}

// spacedKind writes the cell that says what is placed. The value of a kind may
// be a marking code, which is kept: "10m" after resistor is no metre.
func spacedKind(e *Entry, cell string) string {
	p := e.Placement
	if p == nil || p.Kind == "" || p.Value.Empty() {
		return spaced(cell)
	}
	word, _, _ := strings.Cut(tidy(p.Value.S), " ")
	at := strings.Index(cell, word)
	if _, err := units.ParseMarking(word, p.Kind); err != nil || at < 0 {
		return spaced(cell)
	}
	return cell[:at+len(word)] + spaced(cell[at+len(word):])
}

// quantityLabels are the attributes whose text is a quantity or a formula.
var quantityLabels = map[string]bool{"ambient": true, "margin": true, "derating": true, "usable": true, "self-discharge": true, "accepts": true,
	"criterion": true, "yield": true, InUse: true}

// needText writes the columns of what an application row asks for with their
// words first.
func needText(e *Entry, s string) string {
	for _, n := range e.Need.Needs {
		typed := spelt(n.Value.S)
		if c := columnsFirst(typed); c != typed && strings.Count(s, typed) == 1 {
			s = strings.Replace(s, typed, c, 1)
		}
	}
	return s
}
