package main

import (
	"fmt"
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
			if f, ok := n.fact(t.section, r); ok {
				list = append(list, f)
			}
		}
	}
	list = n.tellApart(list)
	for _, section := range []string{"absmax", "operating", "spec"} {
		for _, f := range list {
			if f.section != section {
				continue
			}
			at := ""
			if len(f.conds) > 0 {
				at = "  at " + strings.Join(f.conds, "; ")
			}
			n.wrote.facts++
			fmt.Fprintf(n.w, "%-9s %s = %s%s  %s %s\n", f.section, f.name, f.value, at, cite(f.Quoted), mark)
		}
	}
	if n.wrote.facts > 0 {
		fmt.Fprintln(n.w)
	}
}

// fact reads a row as a fact, or keeps it as a remark.
func (n *noteWriter) fact(section string, r sheet.DraftRow) (fact, bool) {
	f := fact{DraftRow: r, section: section, name: factName(r.Symbol, r.Unit), conds: conditions(r.Condition)}
	for _, h := range r.Head {
		if c := conditions(h.Text); !strings.HasPrefix(c[0], f.name+" ") {
			f.conds = append(f.conds, c...)
		}
	}
	f.value = factValue(r, f.name, n.known)
	if threshold(f.name) {
		f.section = "operating"
	}
	if r.Unread {
		n.remark("%s: a number of this line could not be told for sure: %s %s", section, r.Text, cite(r.Quoted))
	}
	switch {
	case r.Other != "":
		n.remark("%s, of another version (%s): %s %s", section, r.Other, r.Text, cite(r.Quoted))
	case f.name == "" || f.value == "" || !notebook.IsName(f.name):
		n.remark("%s: %s %s", section, r.Text, cite(r.Quoted))
	default:
		return f, true
	}
	return fact{}, false
}

// tellApart gives rows of one name different conditions: the words by which the
// sheet names them. Rows that still are alike cannot both be facts.
func (n *noteWriter) tellApart(list []fact) []fact {
	count := map[string]int{}
	for _, f := range list {
		count[f.section+" "+f.name]++
	}
	alike := map[string]int{}
	for _, f := range list {
		alike[f.section+" "+f.name+" "+strings.Join(f.conds, ";")]++
	}
	seen := map[string]bool{}
	var out []fact
	for _, f := range list {
		group := f.section + " " + f.name
		if count[group] > 1 && (len(f.conds) == 0 || alike[group+" "+strings.Join(f.conds, ";")] > 1) && f.Name != "" && !strings.Contains(f.Name, `"`) {
			f.conds = append(f.conds, `"`+f.Name+`"`)
		}
		key := group + " " + strings.Join(f.conds, ";")
		if seen[key] || count[group] > 1 && len(f.conds) == 0 {
			n.remark("%s, the name %s stands twice: %s %s", f.section, f.name, f.Text, cite(f.Quoted))
			continue
		}
		seen[key] = true
		out = append(out, f)
	}
	return out
}

// quantityLetters are the letter symbols of IEC 60027 and IEC 60747 that a
// subscript follows, with the end of the units that they are given in.
var quantityLetters = map[byte][]string{
	'V': {"V"}, 'U': {"V"}, 'I': {"A"}, 'T': {"°C", "K"}, 'R': {"Ω", "ohm", "K/W", "°C/W"}, 'C': {"F"}, 'L': {"H"}, 'P': {"W"}, 'f': {"Hz"}, 'F': {"Hz"}, 't': {"s"}, 'g': {"A/V", "S"}, 'Q': {"C"}, 'e': {"V", "V/√Hz"},
}

var (
	thermal  = pattern(`(?i)^r?(?:θ|th|theta)[_(-]*(j)[_-]?([abc])\)?$`)
	brackets = strings.NewReplacer(" ", "_", "-", "_", "(", "_", ")", "")
)

// factName is the symbol of a row as a name of the language, the subscript
// behind "_": "VIN" in volts is V_IN, "θJA" in kelvins per watt R_θJA. "" if
// it cannot be a name.
func factName(symbol, unit string) string {
	s := notebook.FoldName(brackets.Replace(strings.TrimSpace(symbol)))
	if m := thermal().FindStringSubmatch(s); m != nil && strings.Contains(unit, "/W") {
		return "R_θ" + strings.ToUpper(m[1]+m[2])
	}
	if s == "" || !notebook.IsName(s) {
		return ""
	}
	if len(s) < 2 || strings.Contains(s, "_") || s[0] >= 0x80 || strings.ContainsAny(s[1:2], "0123456789") {
		return s
	}
	for _, end := range quantityLetters[s[0]] {
		if base := strings.TrimSuffix(strings.ReplaceAll(unit, "Ω", "Ω"), end); base != unit && len(base) <= 2 {
			return s[:1] + "_" + s[1:]
		}
	}
	return s
}

// factNames are the names that the drafted facts will have.
func factNames(d sheet.Draft) map[string]bool {
	out := map[string]bool{}
	for _, rows := range [][]sheet.DraftRow{d.Operating, d.Ratings} {
		for _, r := range rows {
			if name := factName(r.Symbol, r.Unit); name != "" && r.Other == "" && factValue(r, name, nil) != "" {
				out[name] = true
			}
		}
	}
	return out
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
	if rms().MatchString(r.Unit) || !rms().MatchString(r.Name+" "+r.Condition) || !strings.HasSuffix(r.Unit, "V") && !strings.HasSuffix(r.Unit, "A") {
		return r.Unit
	}
	return r.Unit + " rms"
}

// Formulas as cells print them: "0.7 VDD", "0.7 x VDD", "VDD - 0.4", "VDD".
var (
	timesName = pattern(`^([0-9.]+) ?[x×*·]? ?([A-Za-z][A-Za-z0-9_]*)(?: ?([+-]) ?([0-9.]+)(?: ?([munµμk]?V))?)?$`)
	nameOnly  = pattern(`^([A-Za-z][A-Za-z0-9_]*)(?: ?([+-]) ?([0-9.]+)(?: ?([munµμk]?V))?)?$`)
)

// quantity writes a cell with the unit of its row.
func quantity(text, unit, name string, known map[string]bool) (string, bool) {
	q := strings.TrimSpace(text + " " + unit)
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
	s = strings.TrimSpace(strings.ReplaceAll(s, `"`, ""))
	if strings.Trim(s, "-–— .") == "" {
		return nil
	}
	var out []string
	for _, piece := range strings.FieldsFunc(s, func(r rune) bool { return r == ',' || r == ';' }) {
		c, ok := namedCondition(strings.TrimSpace(piece))
		if !ok {
			return []string{`"` + s + `"`}
		}
		out = append(out, c)
	}
	return out
}

// namedCondition reads one "NAME sign QUANTITY".
func namedCondition(s string) (string, bool) {
	for _, sign := range []struct{ printed, ours string }{{" up to ", "<="}, {" ≤ ", "<="}, {" <= ", "<="}, {" ≥ ", ">="}, {" >= ", ">="}, {" = ", "="}, {" from ", "="}} {
		name, value, ok := strings.Cut(s, sign.printed)
		if !ok {
			continue
		}
		value = strings.TrimSpace(value)
		q, err := units.ParseValue(value)
		if err != nil || sign.ours != "=" && q.Shape != units.Single {
			return "", false
		}
		fields := strings.Fields(value)
		name = factName(name, fields[len(fields)-1])
		if name == "" || !notebook.IsName(name) {
			return "", false
		}
		return name + " " + sign.ours + " " + value, true
	}
	return "", false
}

// driven are letter symbols of what a part asks of the circuit around it
// although sheets print them among the characteristics: input levels, clocks,
// the working voltage of a clamp (symbols of IEC 60748 and IEC 60747; common
// practice).
var driven = map[string]bool{"VIH": true, "VIL": true, "FCLK": true, "FSCLK": true, "FSCK": true, "FSCL": true, "VRWM": true}

// threshold says that a row is what a pin asks of its driver: an operating
// limit, not what the part does.
func threshold(name string) bool {
	return driven[strings.ToUpper(strings.ReplaceAll(name, "_", ""))]
}
