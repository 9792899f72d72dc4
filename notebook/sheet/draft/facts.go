package draft

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"guardband/notebook"
	"guardband/notebook/sheet"
	"guardband/units"
)

// fact is a row on its way into the note.
type fact struct {
	sheet.DraftRow
	section, name, value string
	conds                []string
	ask                  string // a comment that asks the reader something
	doubt                bool   // it is a comment until the reader has answered
}

// facts writes the tables as facts. Rows of one name get what tells them apart
// on the sheet as a condition; what cannot be a fact is kept as a remark.
func (n *noteWriter) facts(d sheet.Draft) {
	var list []fact
	for _, t := range []struct {
		section string
		rows    []sheet.DraftRow
	}{{"absmax", d.Ratings}, {"operating", d.Operating}, {"spec", d.Spec}} {
		for _, r := range t.rows {
			for _, r.Symbol = range symbols(r.Symbol) {
				if f, ok := n.fact(t.section, r); ok {
					list = append(list, f)
				}
			}
		}
	}
	for _, r := range d.Unplaced {
		n.remark("a rating, a limit of use or a characteristic, the sheet does not say here: %s %s", r.Text, cite(r.Quoted))
	}
	for _, q := range d.Loose {
		n.remark("a line in no table that is understood: %s %s", q.Text, cite(q))
	}
	list = n.tellApart(list)
	askLesserCurrents(list)
	for _, section := range []string{"absmax", "operating", "spec"} {
		for _, f := range list {
			if f.section != section {
				continue
			}
			at := ""
			if len(f.conds) > 0 {
				at = "  at " + strings.Join(f.conds, "; ")
			}
			if _, err := units.ParseLiteral(f.value); err == nil && section == "absmax" { // a rating of one number is one end
				end := "max "
				if strings.HasPrefix(f.value, "-") {
					end = "min "
				}
				f.value = end + f.value
			}
			if f.doubt {
				fmt.Fprint(n.w, "# ")
			} else {
				n.wrote.Facts++
			}
			fmt.Fprintf(n.w, "%-9s %s = %s%s  %s %s%s\n", f.section, f.name, f.value, at, cite(f.Quoted), Mark, f.ask)
		}
	}
	if names := maximumAlone(list); len(names) > 0 {
		fmt.Fprintf(n.w, "# at least zero: %s  # stated with a maximum alone; delete the # if none of them can be negative\n",
			strings.Join(names, ", "))
	}
	if n.wrote.Facts > 0 {
		fmt.Fprintln(n.w)
	}
}

var oneSymbol = pattern(`^[A-Za-z][A-Za-z0-9_()]{1,11}$`)

// symbols takes a cell apart that lists several of one letter, "tPLH, tPHL" or
// "VRRM VRWM VR": what the row says holds for each.
func symbols(cell string) []string {
	list := strings.FieldsFunc(cell, func(r rune) bool { return r == ',' || r == ' ' || r == ';' })
	if len(list) < 2 {
		return []string{cell}
	}
	for _, s := range list {
		if !oneSymbol().MatchString(s) || s[0] != list[0][0] {
			return []string{cell}
		}
	}
	return list
}

// maximumAlone lists the characteristics that the sheet bounds above and nowhere below.
func maximumAlone(list []fact) []string {
	above, below := map[string]bool{}, map[string]bool{}
	var names []string
	for _, f := range list {
		switch {
		case f.section != "spec" || f.doubt:
		case f.Max == "" || f.Min != "" || strings.Contains(f.value, "-") || eitherSign().MatchString(printedNumber(f.Max)):
			below[f.name] = true
		case !above[f.name]:
			above[f.name] = true
			names = append(names, f.name)
		}
	}
	return slices.DeleteFunc(names, func(s string) bool { return below[s] })
}

var atCurrent = pattern(`^(I_[A-Za-z0-9]+) = ([0-9.]+ ?[munpµk]?A)$`)

// askLesserCurrents asks of a maximum stated at a current, the largest that the
// sheet states it at, whether it holds at lesser currents too.
func askLesserCurrents(list []fact) {
	largest := map[string]float64{} // amperes, by name
	amperes := func(f *fact) (string, float64) {
		for _, c := range f.conds {
			if m := atCurrent().FindStringSubmatch(c); m != nil {
				if q, err := units.ParseLiteral(m[2]); err == nil {
					v, _ := q.SI.Float64()
					return m[1] + " <= " + m[2], v
				}
			}
		}
		return "", 0
	}
	for i := range list {
		if s, v := amperes(&list[i]); s != "" && list[i].section == "spec" {
			largest[list[i].name] = max(largest[list[i].name], v)
		}
	}
	for i := range list {
		f := &list[i]
		if s, v := amperes(f); s != "" && f.section == "spec" && f.Max != "" && f.Min == "" && f.ask == "" && v >= largest[f.name] {
			f.ask = "  # or at " + s + ": does it hold at lesser currents too?"
		}
	}
}

// fact reads a row as a fact, or keeps it as a remark.
func (n *noteWriter) fact(section string, r sheet.DraftRow) (fact, bool) {
	r.Unit = printedUnit(r.Unit)
	f := fact{DraftRow: r, section: section, name: factName(r.Symbol, r.Unit), conds: conditions(r.Condition)}
	if strings.TrimSpace(r.Symbol) == "" && bareSymbol().MatchString(strings.TrimSpace(r.Name)) {
		f.name = factName(strings.TrimSpace(r.Name), r.Unit)
	} else if strings.TrimSpace(r.Symbol) == "" {
		f.name = nameOfWords(r.Group, r.Name, r.Unit)
	}
	// a heading that states conditions
	if c := conditions(noteMark().ReplaceAllString(r.Group, "")); len(c) > 0 && !strings.HasPrefix(c[0], `"`) {
		f.conds = append(f.conds, c...)
	}
	for _, h := range r.Head {
		if c := conditions(h.Text); len(c) > 0 && !strings.HasPrefix(c[0], f.name+" ") && !slices.Contains(f.conds, c[0]) {
			f.conds = append(f.conds, c...)
		}
	}
	if v := strings.ReplaceAll(r.Version, `"`, ""); v != "" {
		f.conds = append(f.conds, `"`+v+`"`)
	}
	f.value = factValue(bothSigns(&f, r), f.name, n.known)
	if section == "spec" && f.ask == "" &&
		(f.name == "V_IH" || f.name == "V_IL" || mayLimitUse().MatchString(r.Name)) && !ofOutput().MatchString(r.Name) {
		f.ask = "  # or operating: does the sheet ask it of the circuit?"
	}
	if q := unitQuestion(r.Unit, f.name, r.Name); q != "" {
		f.ask, f.doubt = q, true
	}
	if r.Unread {
		n.remark("%s: a number of this line is uncertain: %s %s", section, r.Text, cite(r.Quoted))
	}
	switch {
	case r.Other != "":
		n.remark("%s, of another version (%s): %s %s", section, r.Other, r.Text, cite(r.Quoted))
	case r.Untold:
		n.remark("%s, is uncertain, as the lines and the gaps of its table differ: %s %s", section, r.Text, cite(r.Quoted))
	case r.NoUnit || r.Unit == "" && (needsUnit(f.name) || hasUnitAlways().MatchString(r.Name)) && !strings.ContainsAny(f.value, "VAWsFHΩ°"):
		n.remark("%s, its unit is uncertain: %s %s", section, r.Text, cite(r.Quoted))
	case f.name == "" || f.value == "" || !notebook.IsName(f.name):
		n.remark("%s: %s %s", section, r.Text, cite(r.Quoted))
	default:
		return f, true
	}
	return fact{}, false
}

// bareSymbol matches the name of a row that is nothing but a symbol.
var bareSymbol = pattern(`^[VITPRC][A-Z0-9]{1,6}$`)

// hasUnitAlways matches names in words of such quantities.
var hasUnitAlways = pattern(`(?i)\b(voltage|current|temperature|dissipation|resistance|capacitance|inductance|frequency|time|delay)( range)?\W*$`)

var unitLetters = pattern(`^[VIRCLPTftU]_`)

// needsUnit says whether a name is of a quantity that always has a unit.
func needsUnit(name string) bool { return unitLetters().MatchString(name) }

// Rows among the characteristics that state what the circuit must keep to; that
// is asked, not guessed (common practice).
var (
	mayLimitUse = pattern(`(?i)\binput\b.*\b(level|high|low|voltage)\b|\b(high|low)[- ]level input|\b(clock|bus|input|maximum) (rate|frequency)|\bbus clock|` +
		`\bset-?up time|\bhold time|\bpulse width|\brise time|\bfall time|\bstand-?off|\bworking voltage|\b(supply|operating) voltage`)
	ofOutput = pattern(`(?i)\boutput|\bOUT\b|\boffset|\bnoise|\bcommon`)
)

// tellApart gives rows of one name different conditions: the words by which the
// sheet tells them apart, be it their names, the headings they stand under or
// the titles of their tables. Rows that still are alike cannot both be facts, and
// if they differ in value none of them can.
func (n *noteWriter) tellApart(list []fact) []fact {
	group := map[string][]int{}
	for i, f := range list {
		group[f.section+" "+f.name] = append(group[f.section+" "+f.name], i)
	}
	for _, words := range []func(f *fact) string{
		func(f *fact) string { return f.Name }, func(f *fact) string { return f.Group }, func(f *fact) string { return f.Table },
	} {
		for _, members := range group {
			tellMembers(list, members, words)
		}
	}
	seen, values := map[string]bool{}, map[string]string{}
	twice := map[string]bool{} // said twice with other values: which of them holds is not read
	for _, f := range list {
		key := f.section + " " + f.name + " " + strings.Join(f.conds, ";")
		of := key + " " + strings.TrimLeft(f.Unit, "pnµmkMGT") // a gain in decibels too is no other value
		v, ok := values[of]
		twice[key] = twice[key] || ok && v != f.value
		values[of] = f.value
	}
	var out []fact
	for _, f := range list {
		key := f.section + " " + f.name
		many := len(group[key]) > 1
		key += " " + strings.Join(f.conds, ";")
		if seen[key] || twice[key] || many && len(f.conds) == 0 {
			n.remark("%s, the name %s appears twice: %s %s", f.section, f.name, f.Text, cite(f.Quoted))
			continue
		}
		seen[key] = true
		out = append(out, f)
	}
	return out
}

// tellMembers adds words as a condition to the rows of one name that are alike.
func tellMembers(list []fact, members []int, words func(f *fact) string) {
	alike := map[string]map[string]bool{} // the words of those that are alike
	for _, i := range members {
		key := strings.Join(list[i].conds, ";")
		if alike[key] == nil {
			alike[key] = map[string]bool{}
		}
		alike[key][words(&list[i])] = true
	}
	for _, i := range members {
		f := &list[i]
		w := strings.TrimSpace(strings.ReplaceAll(words(f), `"`, ""))
		if key := strings.Join(f.conds, ";"); len(members) > 1 && w != "" && (key == "" || len(alike[key]) > 1) {
			f.conds = append(f.conds, `"`+w+`"`)
		}
	}
}

// factNames are the names that the drafted facts will have.
func factNames(d sheet.Draft) map[string]bool {
	out := map[string]bool{}
	for _, rows := range [][]sheet.DraftRow{d.Operating, d.Ratings} {
		for _, r := range rows {
			if name := factName(cmp.Or(r.Symbol, bareSymbol().FindString(r.Name)), r.Unit); name != "" &&
				r.Other == "" && factValue(r, name, nil) != "" {
				out[name] = true
			}
		}
	}
	return out
}

var (
	spacedSign = pattern(`^([-+]) +([0-9.])`)
	thousands  = pattern(`^([-+]?[1-9][0-9]{0,2})((?: [0-9]{3})+)$`)
	apostrophe = pattern(`([0-9])['’‘]([0-9]{3})`)
	eitherSign = pattern(`^(?:±|\+/-) *([0-9][0-9.]*)$`)
)

// printedNumber brings the number of a cell to how the language writes it.
func printedNumber(s string) string {
	s = strings.TrimSpace(noteMark().ReplaceAllString(s, ""))
	s = spacedSign().ReplaceAllString(s, "$1$2")
	s = apostrophe().ReplaceAllString(s, "$1$2")
	if thousands().MatchString(s) {
		s = strings.ReplaceAll(s, " ", "")
	}
	return s
}

// bothSigns brings the numbers of a row to the language. "±20" in a column of
// maxima is a bound in both directions: limits of use get both; what the part
// does keeps the printed column and asks.
func bothSigns(f *fact, r sheet.DraftRow) sheet.DraftRow {
	for _, at := range []*string{&r.Min, &r.Typ, &r.Max, &r.Value} {
		*at = printedNumber(*at)
	}
	m := eitherSign().FindStringSubmatch(r.Max)
	if m == nil && f.section != "spec" {
		if m = eitherSign().FindStringSubmatch(r.Value); m != nil {
			r.Value = ""
		}
	}
	switch {
	case m != nil && r.Min == "" && f.section != "spec":
		r.Min, r.Max = "-"+m[1], m[1]
	case m != nil:
		r.Max, f.ask = m[1], "  # printed with ±: is -"+m[1]+" "+r.Unit+" the other bound?"
	}
	for _, at := range []*string{&r.Min, &r.Typ} {
		if m := eitherSign().FindStringSubmatch(*at); m != nil && f.section == "spec" {
			*at, f.ask = m[1], "  # printed with ±"
		}
	}
	return r
}

// factValue writes the columns of a row: "min 1 V, max 2 V". Each is tried as a
// quantity, then as a formula of other facts; "" where one is neither.
func factValue(r sheet.DraftRow, name string, known map[string]bool) string {
	r.Unit = rootMeanSquare(r)
	var cols []string
	for _, x := range []struct{ word, text string }{{"min", r.Min}, {"typ", r.Typ}, {"max", r.Max}} {
		if x.text == "" {
			continue
		}
		q, ok := quantity(x.text, r.Unit, name, known)
		if !ok {
			return ""
		}
		cols = append(cols, x.word+" "+q)
	}
	if len(cols) == 0 && r.Value != "" {
		q := strings.TrimSpace(r.Value + " " + r.Unit)
		if _, err := units.ParseValue(q); err == nil {
			return q
		}
		q, _ = quantity(r.Value, r.Unit, name, known)
		return q
	}
	return strings.Join(cols, ", ")
}

var rms = pattern(`(?i)\br\.?m\.?s\b`)

// rootMeanSquare is the unit of a row, with "rms" behind volts and amperes where
// the row says so in its name: an untagged figure would be an instantaneous one.
func rootMeanSquare(r sheet.DraftRow) string {
	if rms().MatchString(r.Unit) || !rms().MatchString(r.Name+" "+r.Condition) || !strings.HasSuffix(r.Unit, "V") &&
		!strings.HasSuffix(r.Unit, "A") {
		return r.Unit
	}
	return r.Unit + " rms"
}

// Formulas as cells print them: "0.7 VDD", "0.7 x VDD", "VDD - 0.4", "VDD".
var (
	timesName = pattern(`^([0-9.]+) ?[x×*·]? ?([A-Za-z][A-Za-z0-9_]*)(?: ?([+-]) ?([0-9.]+)(?: ?([munµμk]?V))?)?$`)
	nameOnly  = pattern(`^([A-Za-z][A-Za-z0-9_]*)(?: ?([+-]) ?([0-9.]+)(?: ?([munµμk]?V))?)?$`)
)

var unitBehind = pattern(`^[-+±]?[0-9.]+[kKMGµmunp]$`)

// quantity writes a cell with the unit of its row.
func quantity(text, unit, name string, known map[string]bool) (string, bool) {
	q := strings.TrimSpace(text + " " + unit)
	if unit != "" && unitBehind().MatchString(text) { // "1K" of "Ω"
		return "", false
	}
	if _, err := units.ParseLiteral(q); err == nil {
		return q, true
	}
	factor, rest := "", nameOnly().FindStringSubmatch(text)
	if m := timesName().FindStringSubmatch(text); m != nil {
		factor, rest = m[1]+" * ", m[1:]
	}
	if rest == nil {
		return "", false
	}
	of := factName(rest[1], unit)
	if !known[of] { // "0.3 Vcc" of VCC
		for k := range known {
			if strings.EqualFold(k, of) {
				of = k
			}
		}
	}
	if !known[of] || of == name {
		return "", false
	}
	out := factor + of
	if rest[2] != "" {
		if rest[4] != "" {
			unit = rest[4]
		}
		out += " " + rest[2] + " " + rest[3] + " " + unit
	}
	return out, true
}

// conditions writes a printed condition as names and values where every piece
// of it is one ("IOUT up to 150 mA", "VEN = 0 V"), else as a flag in quotes:
// the person turns it into names and values.
func conditions(s string) []string {
	s = raisedDegree().ReplaceAllString(strings.TrimSpace(strings.Map(narrow, s)), "$1 °C")
	if strings.Trim(s, "-–— .") == "" {
		return nil
	}
	var out []string
	for _, piece := range strings.FieldsFunc(s, func(r rune) bool { return r == ',' || r == ';' }) {
		c, ok := namedCondition(strings.TrimPrefix(strings.TrimSpace(piece), "at "))
		if !ok {
			return []string{`"` + s + `"`}
		}
		out = append(out, c)
	}
	return out
}

// raisedDegree matches a temperature whose degree sign is a raised letter.
var raisedDegree = pattern(`(\d) ?o ?C\b`)

// narrow is a sign of East Asian width as the others have it; quotes go.
func narrow(r rune) rune {
	switch {
	case r == '"':
		return -1
	case r >= '\uff01' && r <= '\uff5e':
		return r - '\uff01' + '!'
	}
	return r
}

var reckoned = pattern(`\S\s+[-−–+*/×]\s*\S|[+*×]`)

var foldSigns = strings.NewReplacer("−", "-", "–", "-", "μ", "µ", "˚C", "°C", "ºC", "°C")

// namedCondition reads one "NAME sign QUANTITY".
func namedCondition(s string) (string, bool) {
	for _, sign := range []struct{ printed, ours string }{{" up to ", "≤"}, {"≤", "≤"}, {"<=", "≤"}, {"≥", "≥"}, {">=",
		"≥"}, {"=", "="}, {" from ", "="}} {
		name, value, ok := strings.Cut(s, sign.printed)
		if !ok {
			continue
		}
		if reckoned().MatchString(name) { // "VI - VO" is no quantity with a name
			return "", false
		}
		if words := strings.Fields(name); len(words) > 2 || len(words) == 2 && len(name) > 9 { // a phrase
			return "", false
		}
		name, value = strings.ReplaceAll(strings.TrimSpace(name), " ", ""),
			spacedSign().ReplaceAllString(strings.TrimSpace(foldSigns.Replace(value)), "$1$2")
		q, err := units.ParseValue(value)
		if err != nil || sign.ours != "=" && q.Shape != units.Single {
			return "", false
		}
		fields := strings.Fields(value)
		name = factName(name, strings.TrimLeft(fields[len(fields)-1], "+-0123456789."))
		if name == "" || !notebook.IsName(name) {
			return "", false
		}
		return name + " " + sign.ours + " " + value, true
	}
	return "", false
}
