package eval

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"unicode"

	"guardband/eval/circuit"
	"guardband/eval/record"
	"guardband/notebook"
)

// PartsFile compares the notes with a parts list exported from a schematic or
// sent to a buyer.
var PartsFile = &Check{
	Name: "parts-list",
	Rule: "The parts list named by `parts list:` has the designators of the notes, each with its order code, value " +
		"and " +
		"package, and leaves off those that are not fitted. Columns: designator (one or a list), and order code, " +
		"value, " +
		"package, quantity, not fitted or fitted where it has them.",
	Source: "common practice",
	Run: on(func(c *compiler, b *Check) {
		for _, f := range (reader{c}).exportedFiles("parts list") {
			t, ok := reader{c}.readTable(f, append([]string{"designator"}, listColumns...), []string{"designator"})
			if ok {
				reader{c}.compareParts(b, f, t)
			}
		}
		for _, m := range c.Comps.List { // a part that is placed from a list is the one that it orders
			if m.Part != nil && c.placedBy[m] != nil && c.placedBy[m].cells != nil && !m.NotFitted() {
				where := c.placedBy[m].src.Path
				cl := c.Claim(b, m.Ref, m.Label()+" is in "+where+" as in the notes.", m.Entry)
				reader{c}.partInList(cl, m, *c.placedBy[m].cells, c.fromFiles.has)
			}
		}
	}),
}

// partLines are the lines of a parts list by designator.
type partLines struct {
	at      map[string]tableRow
	order   []string // designators in the order of the list
	bad     []string // what is wrong in the list itself
	foreign []string // designators that no row of the notes can have
}

// readLines puts the lines of a list under their designators.
func (c reader) readLines(f exportedFile, t table) partLines {
	x := partLines{at: map[string]tableRow{}}
	left := f.leftOut()
	below := false // the list says that what follows is left off
	for _, r := range t.rows {
		refs, isText := c.designatorsIn(r.cells["designator"])
		if isText {
			below = leftOff(r.cells["designator"])
			continue
		}
		r.leftOff = below
		for _, ref := range refs {
			switch _, twice := x.at[ref]; {
			case left[ref]:
				continue
			case !notebook.IsName(ref):
				if !slices.Contains(x.foreign, ref) {
					x.foreign = append(x.foreign, ref)
				}
			case twice:
				x.bad = append(x.bad, ref+" appears twice in the file")
			default:
				x.order = append(x.order, ref)
			}
			x.at[ref] = r
		}
		off, _ := r.isLeftOff()
		if n, ok := circuit.FirstNumber(r.cells["quantity"]); ok && len(refs) > 0 && n != len(refs) && !off {
			x.bad = append(x.bad, fmt.Sprintf("line %d: the quantity is %d, but there are %d designators", r.line,
				n, len(refs)))
		}
	}
	return x
}

func (c reader) compareParts(b *Check, f exportedFile, t table) {
	x := c.readLines(f, t)
	others := x.bad
	unsaid := []record.OpenPoint{}
	habits := c.habits(t, x.at)
	for _, m := range c.Comps.List {
		r, there := x.at[m.Ref]
		off, unsure := r.isLeftOff()
		doubt := record.OpenPoint{Reason: "no value", Text: m.Ref + ": " + unsure +
			" of the file does not say whether it is fitted", Settle: "write yes or no, or leave the line out"}
		if m.NotFitted() {
			if there && unsure != "" {
				unsaid = append(unsaid, doubt)
			} else if there && !off {
				others = append(others, m.Ref+" is not fitted by the notes, but is in the file")
			}
			continue
		}
		if m.Part == nil {
			switch {
			case !there:
				others = append(others, m.Ref+" is not in the file")
				continue
			case off:
				others = append(others, m.Ref+" is fitted by the notes, and "+r.offText()+" in the file")
			case unsure != "":
				unsaid = append(unsaid, doubt)
			}
			bad, open := compareKind(m, r, habits)
			others, unsaid = append(others, bad...), append(unsaid, open...)
			continue
		}
		cl := c.Claim(b, m.Ref, m.Label()+" is in "+f.name+" as in the notes.", f.entry)
		cl.Entries = append(cl.Entries, m.Entry)
		switch {
		case !there:
			cl.Settle(record.Failed, m.Ref+" is not in "+f.name)
			continue
		case off:
			cl.Settle(record.Failed, m.Ref+" is fitted by the notes, and "+r.offText()+" in the file")
		case unsure != "":
			cl.Lacks(doubt.Reason, doubt.Text, doubt.Settle)
		}
		c.partInList(cl, m, r, t.has)
	}
	for _, ref := range x.order {
		if _, ok := c.Comps.Get(ref); !ok {
			others = append(others, ref+" is in the file, not in the notes")
		}
	}
	cl := c.Claim(b, "others", "The other lines of "+f.name+" are those of the notes.", f.entry)
	cl.lacksForeign(f, x.foreign)
	asked := map[string]bool{}
	for _, p := range unsaid {
		cl.LacksOnce(asked, p.Reason, p.Text, p.Settle)
	}
	if len(others) > 0 {
		cl.Settle(record.Failed, worded(others))
	} else {
		cl.Settle(record.Passed, "the other lines agree, the file has no other designators")
	}
}

// lacksForeign opens a comparison for designators that no row can have.
func (cl *Claim) lacksForeign(f exportedFile, refs []string) {
	if len(refs) > 0 {
		cl.Lacks("no fact", "the notes cannot place "+strings.Join(refs, ", ")+": a designator is a name",
			"add `leave out: "+strings.Join(refs, ", ")+"` below the label, or rename them in the file")
	}
}

// leftOut are the designators of the `leave out:` line.
func (f exportedFile) leftOut() map[string]bool {
	out := map[string]bool{}
	if f.leaveOut != nil {
		for _, ref := range designators(f.leaveOut.Trimmed()) {
			out[ref] = true
		}
	}
	return out
}

// partInList compares order code and package of a part with notes.
func (c reader) partInList(cl *Claim, m *circuit.Component, r tableRow, has map[string]bool) {
	compared := 0
	if has["order code"] {
		code := r.cells["order code"]
		switch v, says := orderedAs(m.Part, code); {
		case circuit.CodeOf(m) == "":
			cl.Lacks("no fact", "no order code is noted for part "+m.Part.ID, "note `order:` from the ordering table")
		case v == record.Passed:
			compared++
		case v == record.Open:
			cl.Lacks("no fact", says, "note every code that may be bought with `order:`, one with a comma in "+
				"quotation marks, or take the others off the list")
		default:
			cl.Settle(record.Failed, "the file orders "+cmp.Or(code, "(left out)")+", the notes "+circuit.CodeOf(m))
		}
	}
	if has["package"] && circuit.LandPattern(m) != "" {
		pads, _ := circuit.PadCount(m)
		switch cell := r.cells["package"]; sameBody(cell, circuit.LandPattern(m), pads) {
		case record.Passed:
			compared++
		case record.Open:
			cl.Lacks("no fact", "the file has package "+cmp.Or(cell, "(left out)")+", the notes "+circuit.LandPattern(m)+": it is not "+
				"known whether these are one body", "write the same name and figures in both, or skip this check with "+
				"the reason")
		default:
			cl.Settle(record.Failed, "the file has package "+cmp.Or(cell, "(left out)")+", the notes "+circuit.LandPattern(m))
		}
	}
	if compared > 0 {
		cl.Settle(record.Passed, "order code and package, as far as the file has them, agree")
	} else if len(cl.Out.Criteria)+len(cl.Out.Open) == 0 {
		cl.Lacks("no value", "the file has neither an order code nor a package to compare", "export the list with a column of order codes")
	}
}

// orderedAs compares a cell of order codes with those noted for a part, each of
// which may be bought. A cell may hold several, and words such as a maker's
// name. Open where it also holds a code that is not noted.
func orderedAs(p *circuit.Part, cell string) (record.Verdict, string) {
	if sells(p, cell) {
		return record.Passed, ""
	}
	noted, further := 0, []string{}
	for _, one := range strings.FieldsFunc(cell, func(r rune) bool { return strings.ContainsRune(",;|\n", r) }) {
		words := strings.Fields(one)
		rest, found := withoutCode(p, words)
		if found {
			noted++
		}
		if slices.ContainsFunc(rest, looksOrdered) {
			further = append(further, strings.Join(rest, " "))
		}
	}
	switch {
	case noted == 0:
		return record.Failed, ""
	case len(further) > 0:
		return record.Open, "the file orders " + cell + ", and " + strings.Join(further, ", ") + " is not noted for part " +
			p.ID
	}
	return record.Passed, ""
}

// withoutCode takes the words of a noted code out of others.
func withoutCode(p *circuit.Part, words []string) (rest []string, found bool) {
	for i := 0; i < len(words); i++ {
		k := len(words)
		for k > i && !sells(p, strings.Join(words[i:k], "")) {
			k--
		}
		if k > i {
			found = true
			i = k - 1
		} else {
			rest = append(rest, strings.FieldsFunc(words[i], func(r rune) bool { return r == '/' })...)
		}
	}
	return rest, found
}

// looksOrdered says that a word looks like an order code: letters and digits.
func looksOrdered(w string) bool {
	return len(w) > 3 && strings.ContainsAny(w, "0123456789") &&
		strings.ContainsFunc(w, func(r rune) bool { return r > '9' })
}

// sells says that a code is one of those noted for a part, each of which may be
// bought.
func sells(p *circuit.Part, code string) bool {
	for _, o := range p.Orders {
		if strings.EqualFold(strings.ReplaceAll(code, " ", ""), strings.ReplaceAll(o.Code, " ", "")) {
			return true
		}
	}
	return false
}

// designatorsIn opens the designator cell of a line. isText says that it holds
// a sentence, as above a group of lines, and no designators.
func (c reader) designatorsIn(cell string) (refs []string, isText bool) {
	for _, item := range strings.FieldsFunc(cell, func(r rune) bool { return strings.ContainsRune(",;\n、，", r) }) {
		words, plain := strings.Fields(item), 0
		for _, w := range words {
			if _, placed := c.Comps.Get(w); !placed && !strings.ContainsAny(w, "0123456789*") {
				plain++
			}
		}
		if len(words) > 1 && 2*plain >= len(words) {
			return nil, true
		}
	}
	return designators(cell), false
}

// designators opens a cell such as "R1, R2; C4-C9"; spaces separate them too.
func designators(cell string) []string {
	var out []string
	cell = strings.NewReplacer("–", "-", "，", ",", "、", ",").Replace(cell)
	for _, s := range strings.FieldsFunc(cell, func(r rune) bool {
		return r == ',' || r == ';' ||
			unicode.IsSpace(r)
	}) {
		a, b, ok := strings.Cut(s, "-")
		pa, na := circuit.SplitNumber(a)
		pb, nb := circuit.SplitNumber(b)
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
