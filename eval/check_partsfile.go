package eval

import (
	"fmt"
	"math/big"
	"strings"

	"guardband/units"
)

// partsFile compares the notes with a parts list exported from a schematic or
// sent to a buyer.
var partsFile = &builtin{
	name: "parts-list",
	rule: "The parts list named by `parts list:` has the designators of the notes, each with its order code, value and package. " +
		"Columns: designator (one or a list), and order code, value, package, quantity where it has them.",
	source: "common practice",
	run: func(c *compiler, b *builtin) {
		for _, f := range c.exportedFiles("parts list") {
			t, ok := c.readTable(f, []string{"designator", "order code", "value", "package", "quantity"}, []string{"designator"})
			if ok {
				c.compareParts(b, f, t)
			}
		}
	},
}

func (c *compiler) compareParts(b *builtin, f exportedFile, t table) {
	at := map[string]tableRow{}
	var others []string
	var order []string
	for _, r := range t.rows {
		refs := designators(r.cells["designator"])
		for _, ref := range refs {
			if _, twice := at[ref]; twice {
				others = append(others, ref+" stands twice in the file")
			} else {
				order = append(order, ref)
			}
			at[ref] = r
		}
		if n, ok := firstNumber(r.cells["quantity"]); ok && len(refs) > 0 && n != len(refs) {
			others = append(others, fmt.Sprintf("line %d: the quantity is %d, but %d designators stand there", r.line, n, len(refs)))
		}
	}
	for _, m := range c.comps.list {
		r, there := at[m.ref]
		if m.notFitted() {
			if there {
				others = append(others, m.ref+" is not fitted by the notes, but stands in the file")
			}
			continue
		}
		if m.part == nil {
			if d := c.kindInList(m, r, there, t.has); d != "" {
				others = append(others, d)
			}
			continue
		}
		cl := c.builtClaim(b, m.ref, m.label()+" stands in "+f.name+" as in the notes.", f.entry)
		cl.entries = append(cl.entries, m.entry)
		if !there {
			cl.settle(Failed, m.ref+" is not in "+f.name)
			continue
		}
		c.partInList(cl, m, r, t.has)
	}
	for _, ref := range order {
		if _, ok := c.comps.get(ref); !ok {
			others = append(others, ref+" is in the file, not in the notes")
		}
	}
	cl := c.builtClaim(b, "others", "The other lines of "+f.name+" are those of the notes.", f.entry)
	if len(others) > 0 {
		cl.settle(Failed, worded(others))
	} else {
		cl.settle(Passed, "the other lines agree, no further designators stand in the file")
	}
}

// partInList compares order code and package of a part with notes.
func (c *compiler) partInList(cl *claim, m *component, r tableRow, has map[string]bool) {
	compared := 0
	if has["order code"] {
		switch code, want := r.cells["order code"], m.codeOf(); {
		case want == "":
			cl.lacks("no fact", "no order code is noted for part "+m.part.id, "note `order:` from the ordering table")
		case strings.EqualFold(strings.ReplaceAll(code, " ", ""), strings.ReplaceAll(want, " ", "")):
			compared++
		default:
			cl.settle(Failed, "the file orders "+orNone(code)+", the notes "+want)
		}
	}
	if has["package"] && m.landPattern() != "" {
		if samePackage(r.cells["package"], m.landPattern()) {
			compared++
		} else {
			cl.settle(Failed, "the file has package "+orNone(r.cells["package"])+", the notes "+m.landPattern())
		}
	}
	if compared > 0 {
		cl.settle(Passed, "order code and package, as far as the file has them, agree")
	} else if len(cl.out.Criteria)+len(cl.out.Open) == 0 {
		cl.lacks("no value", "the file has neither an order code nor a package to compare", "export the list with a column of order codes")
	}
}

// kindInList compares a component of a plain kind by its value.
func (c *compiler) kindInList(m *component, r tableRow, there bool, has map[string]bool) string {
	if !there {
		return m.ref + " is not in the file"
	}
	want := m.row.Value
	text := r.cells["value"]
	if !has["value"] || want.Empty() {
		return ""
	}
	a, okA := nominalOf(text, m.kind)
	b, okB := nominalOf(want.S, m.kind)
	switch {
	case okA && okB && a.Cmp(b) == 0, strings.EqualFold(text, strings.TrimSpace(want.S)):
		return ""
	case okB && !okA:
		return m.ref + ": the value `" + text + "` of the file is not understood"
	}
	return m.ref + " is " + orNone(text) + " in the file, " + strings.TrimSpace(want.S) + " in the notes"
}

// nominalOf reads the value a text starts with, in SI units: "4k7 1%",
// "100n/16V", "2.2 µF ± 10 %".
func nominalOf(text, kind string) (*big.Rat, bool) {
	words := strings.FieldsFunc(strings.TrimSpace(text), func(r rune) bool { return r == ' ' || r == '\u00a0' || r == '/' || r == ',' })
	if len(words) == 0 {
		return nil, false
	}
	for _, w := range []string{words[0], letterAsPoint(words[0])} {
		if q, err := units.ParseMarking(w, kind); err == nil && strings.Trim(w, "0123456789.") != "" {
			return q.SI, true
		}
	}
	if len(words) > 1 {
		if q, err := units.ParseLiteral(words[0] + " " + words[1]); err == nil {
			return q.SI, true
		}
	}
	if q, err := units.ParseLiteral(words[0]); err == nil {
		return q.SI, true
	}
	return nil, false
}

// letterAsPoint turns "4.7k", which parts lists are full of, into the marking
// code 4k7 of IEC 60062.
func letterAsPoint(s string) string {
	last := len(s) - 1
	if last < 1 || !strings.Contains(s[:last], ".") {
		return s
	}
	return strings.Replace(s[:last], ".", s[last:], 1)
}

// designators opens a cell such as "R1, R2, C4-C9"; blanks part them as well.
func designators(cell string) []string {
	var out []string
	for _, s := range strings.FieldsFunc(cell, func(r rune) bool { return r == ',' || r == ';' || r == ' ' }) {
		a, b, ok := strings.Cut(s, "-")
		pa, na := splitNumber(a)
		pb, nb := splitNumber(b)
		if !ok || na < 0 || nb < na || pb != "" && pb != pa || nb-na > 10000 {
			out = append(out, s)
			continue
		}
		for k := na; k <= nb; k++ {
			out = append(out, fmt.Sprintf("%s%d", pa, k))
		}
	}
	return out
}
