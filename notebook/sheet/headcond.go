package sheet

import (
	"sort"
	"strings"
)

// What stands in the head of a table, "VIN = 5 V, TJ from -40 °C to 125 °C,
// unless otherwise noted", holds for all its rows that do not say otherwise.

// HeadCondition is a condition in the head of a table.
type HeadCondition struct {
	Symbol string `json:"symbol"` // "VIN"
	Text   string `json:"text"`   // "VIN = 5 V"
	Value  string `json:"value"`  // "5 V"
}

var (
	headCondition = pattern(`(?:^|\s)([A-Za-zθ][A-Za-z0-9_()]{0,11}|[A-Za-z] [A-Z]{1,4})\s*(=|≤|≥|<=|>=|<|>|from|up to|between)\s*(.*\d.*)$`)
	betweenTwo    = pattern(`^([-+]?[0-9.]+ ?[^\s\d]*) ?[<≤] ?([A-Za-zθ][A-Za-z0-9_()]{0,11}) ?[<≤] ?([-+]?[0-9.]+ ?[^\s\d]*)$`)
	otherwise     = pattern(`(?i)\b(unless|except (as|where))\b`)
	sentenceEnd   = pattern(`\.\s+(?:[A-Z]|$)`)
)

// maxHead is how many lines above a header may belong to its head.
const maxHead = 5

// headConditions reads the lines above the header of a table: its title, and a
// sentence that says that it holds unless something else is noted.
func (v *view) headConditions(t *Table) []HeadCondition {
	if c, ok := v.heads[t]; ok {
		return c
	}
	out := splitConditions(t.Title)
	for _, s := range v.sentencesAbove(t) {
		if at := otherwise().FindStringIndex(s); at != nil && s != t.Title {
			out = append(out, splitConditions(s[:at[0]])...)
		}
	}
	if v.heads == nil {
		v.heads = map[*Table][]HeadCondition{}
	}
	v.heads[t] = out
	return out
}

// sentencesAbove gives the sentences between a table and what stands above it.
func (v *view) sentencesAbove(t *Table) []string {
	taken := map[int]bool{}
	for _, o := range v.tables() {
		for _, r := range o.Rows {
			for _, l := range r.Lines {
				taken[l] = true
			}
		}
	}
	rows := v.grid().rows
	first := t.headRow
	for first > 0 && rows[first-1].y1 > t.top { // a header of several lines
		first--
	}
	var lines []string
	for i := first - 1; i >= 0 && len(lines) < maxHead && !taken[i]; i-- {
		if _, exact, ok := sectionHeading(rows[i].text()); ok && exact {
			break
		}
		if words := inside(rows[i].words, t.left, t.right); len(words) > 0 {
			lines = append([]string{joinWords(words)}, lines...)
		}
	}
	text, out := foldString(strings.Join(lines, " ")), []string(nil)
	for text != "" {
		at := sentenceEnd().FindStringIndex(text)
		if at == nil {
			return append(out, text)
		}
		out, text = append(out, text[:at[0]]), strings.TrimLeft(text[at[0]+1:], " ")
	}
	return out
}

// splitConditions takes a list of conditions apart; what is none is passed over.
func splitConditions(s string) []HeadCondition {
	s = foldString(s)
	if at := otherwise().FindStringIndex(s); at != nil {
		s = s[:at[0]]
	}
	var out []HeadCondition
	depth, from := 0, 0
	add := func(piece string) {
		piece = strings.Trim(piece, " .()[]")
		if i := strings.LastIndex(piece, ": "); i >= 0 { // "Electrical characteristics: VIN = 5 V"
			piece = piece[i+2:]
		}
		piece = strings.TrimPrefix(strings.TrimPrefix(strings.TrimPrefix(piece, "and "), "at "), "for ")
		if m := betweenTwo().FindStringSubmatch(piece); m != nil { // "5 V ≤ VCC ≤ 28 V"
			value := m[1] + " to " + m[3]
			out = append(out, HeadCondition{Symbol: m[2], Text: m[2] + " = " + value, Value: value})
			return
		}
		at := headCondition().FindStringSubmatchIndex(piece)
		if at == nil || hasDigit(piece[:at[2]]) { // several of them that nothing keeps apart
			return
		}
		m := headCondition().FindStringSubmatch(piece)
		if i := strings.LastIndexByte(m[1], '('); i >= 0 && !strings.Contains(m[1][i:], ")") { // "Maximum Ratings(Ta = 25 °C)"
			m[0], m[1] = m[0][strings.Index(m[0], m[1])+i+1:], m[1][i+1:]
		}
		if strings.ContainsAny(m[3], "=≤≥<>") || m[1] == "and" {
			return
		}
		out = append(out, HeadCondition{Symbol: strings.ReplaceAll(m[1], " ", ""), Text: strings.TrimSpace(m[0]), Value: m[3]})
	}
	for i, r := range s {
		switch {
		case r == '(':
			depth++
		case r == ')':
			depth = max(0, depth-1)
		case depth == 0 && (r == ',' || r == ';'):
			add(s[from:i])
			from = i + 1
		}
	}
	add(s[from:])
	return out
}

// headOf gives the conditions of the head that hold for a row: those that its
// own conditions do not speak of.
func (v *view) headOf(t *Table, r *TableRow) []HeadCondition {
	var out []HeadCondition
	own := t.condition(r) + " " + t.Cell(r, KindName)
	for _, c := range v.headConditions(t) {
		if !speaksOf(own, c.Symbol) {
			out = append(out, c)
		}
	}
	return out
}

// speaksOf says whether a text holds a symbol as a word.
func speaksOf(text, symbol string) bool {
	want := symbolForm(symbol)
	for _, f := range strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune(" ,;=<>≤≥()", r) }) {
		if symbolForm(f) == want {
			return true
		}
	}
	return false
}

// headsOf gives the conditions that all the rows meant agree on, their own and
// those of the head.
func headsOf(rows []tableRow) []HeadCondition {
	count, seen := map[HeadCondition]int{}, []HeadCondition(nil)
	for _, r := range rows {
		for _, c := range append(splitConditions(r.table.condition(r.row)), r.view.headOf(r.table, r.row)...) {
			if count[c]++; count[c] == 1 {
				seen = append(seen, c)
			}
		}
	}
	var out []HeadCondition
	for _, c := range seen {
		if count[c] == len(rows) {
			out = append(out, c)
		}
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].Symbol < out[j].Symbol })
	return out
}
