package eval

import (
	"fmt"
	"strings"
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
	unsaid := []OpenPoint{}
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
			if !there {
				others = append(others, m.ref+" is not in the file")
				continue
			}
			bad, open := compareKind(m, r, t.has)
			others, unsaid = append(others, bad...), append(unsaid, open...)
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
	asked := map[string]bool{}
	for _, p := range unsaid {
		cl.lacksOnce(asked, p.Reason, p.Text, p.Settle)
	}
	if len(others) > 0 {
		cl.settle(Failed, worded(others))
	} else {
		cl.settle(Passed, "the other lines agree, no further designators stand in the file")
	}
}

// partInList compares order code and package of a part with notes.
func (c *compiler) partInList(cl *claim, m *component, r tableRow, has map[string]bool) {
	compared := 0
	if leftOff(r.cells["value"]) {
		cl.settle(Failed, m.ref+" is fitted by the notes, and "+r.cells["value"]+" in the file")
	}
	if has["order code"] {
		switch code, want := r.cells["order code"], m.codeOf(); {
		case want == "":
			cl.lacks("no fact", "no order code is noted for part "+m.part.id, "note `order:` from the ordering table")
		case m.part.sells(code):
			compared++
		default:
			cl.settle(Failed, "the file orders "+orNone(code)+", the notes "+want)
		}
	}
	if has["package"] && m.landPattern() != "" {
		if same := samePackage(r.cells["package"], m.landPattern()); same && otherSize(r.cells["package"], m.landPattern()) {
			cl.lacks("no fact", "the file has package "+r.cells["package"]+", the notes "+m.landPattern()+": it is not known whether these are one body", "write the same figures in both, or skip this check with the reason")
		} else if same {
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

// sells says that a code is one of those noted for a part, each of which may be
// bought.
func (p *part) sells(code string) bool {
	for _, o := range p.orders {
		if strings.EqualFold(strings.ReplaceAll(code, " ", ""), strings.ReplaceAll(o.code, " ", "")) {
			return true
		}
	}
	return false
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
