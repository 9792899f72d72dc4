package main

import (
	"fmt"
	"io"
	"strings"

	"guardband/notebook"
	"guardband/notebook/sheet"
	"guardband/units"
)

// noteWriter writes the lines of a drafted part block. What cannot be written
// as a fact of the language is kept as a remark below the block, never lost.
type noteWriter struct {
	w    io.Writer
	left []string // lines that could not be written as facts
}

func cite(q sheet.Quoted) string {
	page := fmt.Sprintf("pdf.%d", q.Page)
	if q.Quote == "" {
		return "[" + page + "]"
	}
	mark := `"` + q.Quote + `"`
	if strings.Contains(q.Quote, `"`) {
		mark = "“" + strings.NewReplacer("“", "", "”", "").Replace(q.Quote) + "”"
	}
	return "[" + page + " " + mark + "]"
}

func (n *noteWriter) orders(d sheet.Draft) {
	for i, o := range d.Orders {
		if i == 0 {
			fmt.Fprintf(n.w, "order:    %s  %s\n", o.Code, cite(o.Quoted))
			continue
		}
		n.left = append(n.left, fmt.Sprintf("order code %s, package %s %s", o.Code, o.Package, cite(o.Quoted)))
	}
	for _, o := range d.Options {
		n.left = append(n.left, fmt.Sprintf("option %s = %s %s", o.Code, o.Meaning, cite(o.Quoted)))
	}
}

func (n *noteWriter) packages(d sheet.Draft) {
	for i, p := range d.Packages {
		var more []string
		for _, m := range p.More {
			more = append(more, m.Title+" "+m.Text)
		}
		if i == 0 {
			fmt.Fprintf(n.w, "package:  %s  %s\n", p.Name, cite(p.Quoted))
		}
		if i > 0 || len(more) > 0 {
			n.left = append(n.left, strings.TrimSpace(fmt.Sprintf("package %s %s", p.Name, strings.Join(more, ", ")))+" "+cite(p.Quoted))
		}
	}
	fmt.Fprintln(n.w)
}

// rows writes a table's rows as facts. A row whose texts are no quantities of
// the language is kept as a remark.
func (n *noteWriter) rows(section string, rows []sheet.DraftRow) {
	seen := map[string]bool{}
	for _, r := range rows {
		name := factName(r)
		value := factValue(r)
		cond := condition(r.Condition)
		key := name + "\x00" + cond
		if name == "" || value == "" || seen[key] || outline(r) {
			n.left = append(n.left, fmt.Sprintf("%s: %s %s", section, r.Text, cite(r.Quoted)))
			continue
		}
		seen[key] = true
		as := section
		if threshold(name) {
			as = "operating"
		}
		fmt.Fprintf(n.w, "%-9s %s = %s%s  %s unconfirmed\n", as, name, value, cond, cite(r.Quoted))
	}
	if len(rows) > 0 {
		fmt.Fprintln(n.w)
	}
}

// outline says that a row is of the outline drawing, not a characteristic.
func outline(r sheet.DraftRow) bool {
	switch r.Unit {
	case "mm", "mil", "inch":
		return true
	}
	switch strings.ToLower(r.Name) {
	case "leads", "pads", "pins", "balls", "terminals":
		return true
	}
	return r.Unit == "" && r.Symbol == r.Name
}

// factName is the symbol of a row as a name: "VIN" stays, "θJA" too.
func factName(r sheet.DraftRow) string {
	s := strings.NewReplacer(" ", "_", "-", "_", "(", "_", ")", "").Replace(strings.TrimSpace(r.Symbol))
	if s == "" {
		return ""
	}
	for i, c := range s {
		ok := c == '_' || c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9' && i > 0 || c >= 'α' && c <= 'ω' || c >= 'Α' && c <= 'Ω'
		if !ok {
			return ""
		}
	}
	return s
}

// factValue writes the columns of a row: "min 1 V, max 2 V". Each is tried as
// a quantity first; "" where one is none.
func factValue(r sheet.DraftRow) string {
	var cols []string
	for _, x := range []struct{ word, text string }{{"min", r.Min}, {"typ", r.Typ}, {"max", r.Max}} {
		if x.text == "" {
			continue
		}
		q := strings.TrimSpace(x.text + " " + r.Unit)
		if _, err := units.ParseLiteral(q); err != nil {
			return ""
		}
		cols = append(cols, x.word+" "+q)
	}
	if len(cols) == 0 && r.Value != "" {
		q := strings.TrimSpace(r.Value + " " + r.Unit)
		if _, err := units.ParseValue(q); err != nil {
			return ""
		}
		return q
	}
	return strings.Join(cols, ", ")
}

// condition writes a printed condition as names and values where every piece
// of it is one ("IOUT up to 150 mA", "VEN = 0 V"), else as a flag in quotes:
// the person turns it into names and values.
func condition(s string) string {
	s = strings.TrimSpace(strings.ReplaceAll(s, `"`, ""))
	if s == "" || s == "–" || s == "-" || s == "—" {
		return ""
	}
	var out []string
	for _, piece := range strings.FieldsFunc(s, func(r rune) bool { return r == ',' || r == ';' }) {
		c, ok := namedCondition(strings.TrimSpace(piece))
		if !ok {
			return ` at "` + s + `"`
		}
		out = append(out, c)
	}
	return " at " + strings.Join(out, "; ")
}

// namedCondition reads one "NAME sign QUANTITY".
func namedCondition(s string) (string, bool) {
	for _, sign := range []struct{ printed, ours string }{{" up to ", "<="}, {" ≤ ", "<="}, {" <= ", "<="}, {" ≥ ", ">="}, {" >= ", ">="}, {" = ", "="}} {
		name, value, ok := strings.Cut(s, sign.printed)
		if !ok {
			continue
		}
		name, value = strings.TrimSpace(name), strings.TrimSpace(value)
		q, err := units.ParseValue(value)
		plain := factName(sheet.DraftRow{Symbol: name}) == name && name != "" && notebook.IsName(name)
		if err != nil || !plain || sign.ours != "=" && q.Shape != units.Single {
			return "", false
		}
		return name + " " + sign.ours + " " + value, true
	}
	return "", false
}

// threshold says that a row is what a pin asks of its driver: an operating
// limit, not what the part does.
func threshold(name string) bool {
	switch strings.ReplaceAll(name, "_", "") {
	case "VIH", "VIL":
		return true
	}
	return false
}

// pinWords maps the types sheets print to those of the language.
var pinWords = map[string]string{
	"p": "supply", "pwr": "supply", "power": "supply", "supply": "supply", "s": "supply",
	"g": "ground", "gnd": "ground", "ground": "ground", "i": "input", "in": "input", "input": "input",
	"o": "output", "out": "output", "output": "output", "i/o": "bidirectional", "io": "bidirectional", "input/output": "bidirectional",
	"a": "analog", "analog": "analog", "analogue": "analog", "nc": "not connected", "n.c.": "not connected", "dnc": "do not connect",
	"passive": "passive", "supply output": "supply output", "power output": "supply output", "thermal pad": "thermal pad",
}

func (n *noteWriter) pins(d sheet.Draft) {
	if len(d.Pins) == 0 {
		return
	}
	fmt.Fprintln(n.w, "pins:")
	seen := map[string]bool{}
	for _, p := range d.Pins {
		if seen[p.Number] { // the table of another package, or a doubtful line
			n.left = append(n.left, fmt.Sprintf("another pin %s: %s, %s %s", p.Number, p.Name, p.Type, cite(p.Quoted)))
			continue
		}
		typ, ok := pinWords[strings.ToLower(strings.TrimSpace(p.Type))]
		if !ok || strings.ContainsAny(p.Name, " \t") || p.Number == "" || p.Name == "" {
			n.left = append(n.left, fmt.Sprintf("pin %s %s, printed type “%s”: %s %s", p.Number, p.Name, p.Type, p.Function, cite(p.Quoted)))
			continue
		}
		seen[p.Number] = true
		numbers := strings.FieldsFunc(p.Number, func(r rune) bool { return r == ' ' || r == ',' })
		fmt.Fprintf(n.w, "  %s  %s  %s  %s\n", strings.Join(numbers, ","), p.Name, typ, cite(p.Quoted))
	}
}

// rest lists what was read but not written as facts, and what was not found.
func (n *noteWriter) rest(d sheet.Draft) {
	if len(n.left) > 0 {
		fmt.Fprint(n.w, "\nRead on the sheet, to be written by hand:\n\n")
		for _, l := range n.left {
			fmt.Fprintf(n.w, "    %s\n", l)
		}
	}
	if len(d.Circuit) > 0 {
		fmt.Fprint(n.w, "\nLines of the application circuit:\n\n")
		for _, q := range d.Circuit {
			fmt.Fprintf(n.w, "    %s  (page %d)\n", q.Text, q.Page)
		}
	}
	if len(d.NotFound) > 0 {
		fmt.Fprint(n.w, "\nNot found:\n\n")
		for _, f := range d.NotFound {
			fmt.Fprintf(n.w, "- %s\n", f)
		}
	}
}
