package checks

import (
	"cmp"
	"math/big"
	"strings"

	"guardband/eval"
	"guardband/eval/circuit"
	"guardband/eval/lists"
	"guardband/eval/record"
)

// partsFile compares the notes with a parts list exported from a schematic or sent to a buyer.
var partsFile = &eval.Check{
	Name: "parts-list",
	Rule: "The parts list named by `parts list:` has the designators of the notes, each with its order code, value " +
		"and package, and leaves off those that are not fitted. Columns: designator (one or a list), and order code, " +
		"value, package, quantity, not fitted or fitted where it has them.",
	Source: "common practice",
	Run: on(func(c *board, b *eval.Check) {
		for _, f := range c.Exported("parts list") {
			compareParts(c, b, f)
		}
		for _, m := range c.Comps.List { // a part that is placed from a list is the one that it orders
			if x := c.FromFile(m); x != nil && x.Row != nil && m.Part != nil && !m.NotFitted() {
				cl := c.Claim(b, m.Ref, m.Label()+" is in "+x.Where+" as in the notes.", m.Entry)
				partInList(cl, m, *x.Row, x.Has)
			}
		}
	}),
}

func compareParts(c *board, b *eval.Check, f *eval.Exported) {
	placed := func(ref string) bool { _, ok := c.Comps.Get(ref); return ok }
	x := f.Lines(f.Left, placed)
	others, unsaid, inOhms := x.Bad, []record.OpenPoint{}, x.InOhms()
	for _, m := range c.Comps.List {
		r, there := x.At[m.Ref]
		off, unsure := r.LeftOff()
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
				others = append(others, m.Ref+" is fitted by the notes, and "+r.OffText()+" in the file")
			case unsure != "":
				unsaid = append(unsaid, doubt)
			}
			bad, open := compareKind(m, r, f.Has["value"], inOhms)
			others, unsaid = append(others, bad...), append(unsaid, open...)
			continue
		}
		cl := c.Claim(b, m.Ref, m.Label()+" is in "+f.Name+" as in the notes.", f.Entry)
		cl.Entries = append(cl.Entries, m.Entry)
		switch {
		case !there:
			cl.Settle(record.Failed, m.Ref+" is not in "+f.Name)
			continue
		case off:
			cl.Settle(record.Failed, m.Ref+" is fitted by the notes, and "+r.OffText()+" in the file")
		case unsure != "":
			cl.Lacks(doubt.Reason, doubt.Text, doubt.Settle)
		}
		partInList(cl, m, r, f.Has)
	}
	for _, ref := range x.Order {
		if !placed(ref) {
			others = append(others, ref+" is in the file, not in the notes")
		}
	}
	cl := c.Claim(b, "others", "The other lines of "+f.Name+" are those of the notes.", f.Entry)
	if refs := strings.Join(x.Foreign, ", "); refs != "" {
		cl.Lacks("no fact", "the notes cannot place "+refs+": a designator is a name",
			"add `leave out: "+refs+"` below the label, or rename them in the file")
	}
	asked := map[string]bool{}
	for _, p := range unsaid {
		cl.LacksOnce(asked, p.Reason, p.Text, p.Settle)
	}
	settleAll(cl, others, "the other lines agree, the file has no other designators")
}

// partInList compares order code and package of a part with notes.
func partInList(cl *eval.Claim, m *circuit.Component, r lists.Row, has map[string]bool) {
	compared := 0
	if has["order code"] {
		code := r.Cells["order code"]
		switch v, further := lists.OrderedAs(m.Part, code); {
		case circuit.CodeOf(m) == "":
			cl.Lacks("no fact", "no order code is noted for part "+m.Part.ID, "note `order:` from the ordering table")
		case v == record.Passed:
			compared++
		case v == record.Open:
			cl.Lacks("no fact", "the file orders "+code+", and "+further+" is not noted for part "+m.Part.ID, "note every code that "+
				"may be bought with `order:`, one with a comma in quotation marks, or take the others off the list")
		default:
			cl.Settle(record.Failed, "the file orders "+cmp.Or(code, "(left out)")+", the notes "+circuit.CodeOf(m))
		}
	}
	if noted := circuit.LandPattern(m); has["package"] && noted != "" {
		pads, _ := circuit.PadCount(m)
		cell := r.Cells["package"]
		differs := "the file has package " + cmp.Or(cell, "(left out)") + ", the notes " + noted
		switch lists.SameBody(cell, noted, pads) {
		case record.Passed:
			compared++
		case record.Open:
			cl.Lacks("no fact", differs+": it is not known whether these are one body",
				"write the same name and figures in both, or skip this check with the reason")
		default:
			cl.Settle(record.Failed, differs)
		}
	}
	if compared > 0 {
		cl.Settle(record.Passed, "order code and package, as far as the file has them, agree")
	} else if len(cl.Out.Criteria)+len(cl.Out.Open) == 0 {
		cl.Lacks("no value", "the file has neither an order code nor a package to compare", "export the list with a column of order codes")
	}
}

// compareKind compares a line with a component of a plain kind, which has no order code: by value, tolerance, rated
// voltage and chip size, as far as both sides state them. It gives the differences, and what cannot be judged.
func compareKind(m *circuit.Component, r lists.Row, hasValues, inOhms bool) (bad []string, open []record.OpenPoint) {
	text, want := strings.TrimSpace(r.Cells["value"]), strings.TrimSpace(m.Row.Value.S)
	unclear := func(what, settle string) {
		open = append(open, record.OpenPoint{Reason: "no value", Text: m.Ref + ": " + what, Settle: settle})
	}
	noted := lists.NotedValue(want, m.Kind)
	var v lists.Value
	switch {
	case noted == nil:
	case lists.HasValue(m.Kind):
		v = lists.ReadValue(text, m.Kind)
	default:
		v.Nominal = lists.ReadQuantity(text, noted.Type)
	}
	switch {
	case want == "", text == want:
	case !hasValues:
		open = append(open, record.OpenPoint{Reason: "no value",
			Text: "the file has no values to compare the plain parts by", Settle: "export the list with a column `value`"})
	case text == "":
		unclear("the file states no value", "export the list with its values")
	case noted == nil:
		unclear("whether `"+text+"` of the file is "+want+" is not known", "write it in the list as in the notes")
	case v.Nominal == nil || v.Unsure:
		unclear("the value `"+text+"` of the file is not understood", "write it with its unit, as "+want)
	case v.Digits && !inOhms:
		unclear("`"+text+"` of the file may be a number or a code of digits", "write it with its unit, as "+want)
	case v.Nominal.Cmp(noted.SI) != 0 || statesOther(v, m):
		bad = append(bad, m.Ref+" is "+text+" in the file, "+want+" in the notes")
	}
	if cell, size := r.Cells["package"], lists.ChipOf(m); cell != "" && size != "" {
		switch lists.SameChip(cell, size) {
		case record.Failed:
			bad = append(bad, m.Ref+" is of size "+cell+" in the file, "+size+" in the notes")
		case record.Open:
			unclear("whether the package `"+cell+"` of the file is of size "+size+" is not known", "write the size in the list as in the notes")
		}
	}
	return bad, open
}

// statesOther says that a cell states another tolerance or rated voltage than the row of the notes.
func statesOther(v lists.Value, m *circuit.Component) bool {
	noted := lists.ReadValue(m.Row.Value.S, m.Kind)
	for _, o := range m.Row.Options {
		if x := lists.ReadValue(o.S, m.Kind); x.Rating != nil {
			noted.Rating = x.Rating
		}
	}
	other := func(a, b *big.Rat) bool { return a != nil && b != nil && a.Cmp(b) != 0 }
	return other(v.Tol, noted.Tol) || other(v.Rating, noted.Rating)
}
