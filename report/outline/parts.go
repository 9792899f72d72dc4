package outline

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"guardband/eval/record"
	"guardband/report/draw"
	"guardband/report/internal/words"
)

// factSections are the kinds of facts by the words of the language, in order.
var factSections = []string{"operating", "absmax", "spec"}

// part is everything noted of a part type.
func (b *builder) part(p *record.Part) []Block {
	b.set["part:"+p.ID] = true
	about := words.Join(" · ", words.Prefixed("order code ", strings.Join(p.Order, ", ")), p.Package, p.Maker, p.Status,
		words.Prefixed("placed as ", strings.Join(p.Placed, ", ")), words.Prefixed("second look: ", p.Checked))
	for _, n := range p.Notes {
		if strings.HasPrefix(n.Name, "not ") { // the name says it
			n.Value = ""
		}
		about = words.Join(" · ", about, words.Join(": ", n.Name, words.Join(", ", n.Value, n.Means)))
	}
	head := Block{Kind: Paragraph, Anchor: "part:" + p.ID, Text: blockHead("part", p.ID, styled(Strong, p.Title), p.Position)}
	out := blocks{head}
	if about != "" {
		out = append(out, smallPara(plain(about)))
	}
	out = append(out, b.facts(p)...)
	out = append(out, b.pins(p)...)
	var fs []Text
	for _, f := range p.Decoded {
		fs = append(fs, join(" ", plain(f.Name), styled(Code, f.Value), plain("is "+f.Means), b.cites(f.Cites)))
	}
	out.line("order code", join("; ", fs...))
	return append(out, b.needs(p)...)
}

func (b *builder) facts(p *record.Part) []Block {
	t := Table{Caption: "Facts of " + p.ID, Named: true, Halves: true, Columns: []Column{
		{Head: "Fact", Width: 60}, {Head: "Kind", Width: 44}, {Head: "As noted, conditions"}, {Head: "Page", Width: 48},
	}}
	for _, s := range factSections {
		for i := range p.Facts {
			if f := &p.Facts[i]; f.Section == s {
				t.Rows = append(t.Rows, b.factRow(p.ID, f, s))
			}
		}
	}
	for i := range p.Facts { // what a later form of the record may bring
		if f := &p.Facts[i]; !slices.Contains(factSections, f.Section) {
			t.Rows = append(t.Rows, b.factRow(p.ID, f, f.Section))
		}
	}
	return tableOf(t)
}

func (b *builder) factRow(part string, f *record.Fact, kind string) Row {
	name := Text{{Text: f.Name, Style: Name | Strong}}
	if len(f.Pins) > 0 {
		name = append(name, Span{Text: " (" + strings.Join(f.Pins, ", ") + ")"})
	}
	noted := words.Join(", ", words.Prefixed("min ", f.MinText), words.Prefixed("typ ", f.TypText), words.Prefixed("max ", f.MaxText))
	if noted == "" || f.MinText != "" && f.TypText == "" && f.MaxText != "" { // a range reads as it was typed
		noted = words.Join("", f.Text)
	}
	noted = words.Join(" at ", noted, f.At)
	page := b.cites(f.Cites)
	if f.Unconfirmed {
		page = join("; ", page, styled(Notice, "unconfirmed"))
	}
	return Row{Anchor: factAnchor(part, f), Cells: []Text{
		name, styled(Quiet, kind), plain(noted), page,
	}}
}

// pins run in a paragraph by page: number, name, type.
func (b *builder) pins(p *record.Part) (out blocks) {
	var list []Text
	last := "\x00"
	for i := range p.Pins {
		x := &p.Pins[i]
		t := join(" ", plain(strings.Join(x.Numbers, ", ")), styled(Strong, x.Name),
			styled(Quiet, words.Join(", ", append([]string{x.Type}, x.Flags...)...)))
		cites := b.cites(x.Cites)
		if s := Plain(cites); s != last && s != "" {
			t = append(t, bracketed(cites)...)
		}
		last = Plain(cites)
		list = append(list, t)
	}
	out.line("pins", join("; ", list...))
	return out
}

func (b *builder) needs(p *record.Part) (out blocks) {
	var list []Text
	for _, n := range p.Needs {
		met := Text{{Text: n.MetBy, Style: Strong, To: "placed:" + n.MetBy}}
		if n.MetBy == "" {
			met = styled(Notice, "nothing placed")
		}
		list = append(list, append(join(": ", plain(n.Text), met), bracketed(b.cites(n.Cites))...))
	}
	out.line("parts required", join("; ", list...))
	return out
}

// partNotes are the notes of the parts, then the parts that no note shows, and
// which of the six sections of a first look each has.
func (b *builder) partNotes(books []int) []Block {
	out := b.books(books)
	for i := range b.r.Parts {
		if p := &b.r.Parts[i]; !b.set["part:"+p.ID] {
			out = append(out, b.part(p)...)
		}
	}
	var rest []string
	for i := range b.r.Placements {
		if ref := b.r.Placements[i].Ref; !b.set["placed:"+ref] {
			rest = append(rest, ref)
		}
	}
	out = append(out, b.placements(rest)...)
	return append(out, b.sections()...)
}

// sections are the parts of which a section of a first look is not noted.
func (b *builder) sections() []Block {
	t := Table{Caption: "Parts of which a section of the data sheet is not noted, with the pages of the others",
		Columns: []Column{{Head: "Part", Most: 120}}}
	for _, s := range record.SheetSections {
		t.Columns = append(t.Columns, Column{Head: strings.ToUpper(s[:1]) + s[1:]})
	}
	for i := range b.r.Parts {
		p, whole := &b.r.Parts[i], true
		cells := []Text{{{Text: p.ID, Style: Code, To: "part:" + p.ID}}}
		for _, s := range record.SheetSections {
			x := p.Sections[s]
			whole = whole && x.Noted
			if x.Noted {
				cells = append(cells, plain(cmp.Or(x.Pages, "noted")))
			} else {
				cells = append(cells, styled(Notice, "not noted"))
			}
		}
		if !whole {
			t.Rows = append(t.Rows, Row{Cells: cells})
		}
	}
	if len(t.Rows) == 0 && len(b.r.Parts) > 0 {
		return []Block{smallPara(plain("All six sections of each data sheet are noted."))}
	}
	return tableOf(t)
}

func (b *builder) circuit(x *record.BlockRef) []Block {
	out := b.placements(x.Names)
	if len(out) == 0 {
		return nil
	}
	return append([]Block{smallPara(blockHead("circuit", x.ID, nil, x.Position))}, out...)
}

func (b *builder) placements(refs []string) []Block {
	t := Table{Caption: "Placed", Named: true, Columns: []Column{
		{Head: "Ref", Width: 30}, {Head: "Part, value, options", Width: 180}, {Head: "Nets"}, {Head: "In use", Width: 120},
	}}
	for _, ref := range refs {
		p := b.placed[ref]
		if p == nil || b.set["placed:"+ref] {
			continue
		}
		b.set["placed:"+ref] = true
		var nets []string
		for _, n := range p.Nets {
			nets = append(nets, words.Join("=", n.Name, n.Value))
		}
		t.Rows = append(t.Rows, Row{Anchor: "placed:" + ref, Cells: []Text{
			styled(Strong, ref), join(" ", Text{{Text: p.Part, Style: Code, To: "part:" + p.Part}}, plain(p.Text)),
			plain(strings.Join(nets, " ")), plain(p.InUse),
		}})
	}
	return tableOf(t)
}

func (b *builder) partsList() []Block {
	t := Table{Caption: "Parts list", Named: true, Columns: []Column{
		{Head: "Qty", Right: true, Width: 24}, {Head: "To order", Most: 70}, {Head: "Designators", Width: 84}, {Head: "Order code", Width: 84},
		{Head: "Package", Width: 50}, {Head: "Title"}, {Head: "Maker, status", Width: 98},
	}}
	pieces := 0
	for _, l := range b.r.PartsList {
		pieces += l.Quantity
		code := styled(Code, l.Order)
		if l.Order == "" {
			code = styled(Notice, "no order code")
		}
		t.Rows = append(t.Rows, Row{Cells: []Text{
			plain(fmt.Sprint(l.Quantity)), plain(toOrder(&l)), plain(strings.Join(l.Refs, ", ")), code, plain(l.Package),
			plain(words.Join(": ", l.Part, l.Title)), plain(words.Join(", ", l.Maker, l.Status)),
		}})
	}
	if len(t.Rows) == 0 {
		return nil
	}
	return append(tableOf(t), smallPara(plain(words.Plural(len(t.Rows), "line", "lines")+", "+words.Plural(pieces, "piece", "pieces")+".")))
}

// toOrder is how many pieces to order, "" where the design does not say for
// how many boards.
func toOrder(l *record.PartsLine) string {
	if l.ToOrder == 0 {
		return ""
	}
	out := fmt.Sprint(l.ToOrder)
	if l.Boards > 0 {
		out += " for " + words.Plural(l.Boards, "board", "boards")
	}
	if l.Pack > 1 {
		out += fmt.Sprintf(", packs of %d", l.Pack)
	}
	return out
}

func (b *builder) valueList(x *record.BlockRef) []Block {
	var out []Block
	for _, n := range x.Names {
		if v := b.values[n]; v != nil && !b.set["value:"+n] {
			out = append(out, b.value(v, true))
		}
	}
	if len(out) == 0 {
		return nil
	}
	return append([]Block{smallPara(blockHead("values", x.ID, nil, x.Position))}, out...)
}

// value is a quantity: its name, its formula with the numbers put in, what it
// comes to, and its page.
func (b *builder) value(v *record.Value, mark bool) Block {
	res := styled(Strong, v.Text)
	if !v.Exact && v.Min != nil && v.Max != nil && *v.Min != *v.Max {
		res = append(res, Span{Text: " (outer bounds)", Style: Quiet})
	}
	source := v.Source
	if b.set["formula:"+source] { // said at its first use
		source = ""
	}
	b.set["formula:"+source] = true
	res = join(" · ", res, b.cites(v.Cites), styled(Notice, words.Prefixed("assumed: ", v.Assumed)), styled(Quiet,
		words.Prefixed("formula: ", source)))
	out := Block{Kind: Value, Label: v.Name, Text: res}
	if mark {
		b.set["value:"+v.Name] = true
		out.Anchor = "value:" + v.Name
	}
	switch {
	case v.Derived && v.Math != nil:
		out.Math, out.Numbers = MathText(v.Math), MathText(v.Numbers)
	case v.Formula != "" && v.Formula != v.Text:
		out.Text = append(Text{{Text: v.Formula + " = ", Style: Quiet}}, res...)
	}
	return out
}

// budget is the loads of a supply, their averages as bars on one scale, and
// what they come to.
func (b *builder) budget(x *record.Budget) []Block {
	b.set["budget:"+x.Net] = true
	out := []Block{{Kind: Paragraph, Small: true, Anchor: "budget:" + x.Net,
		Text: blockHead("budget", x.Net, plain(words.Prefixed("supply ", x.Supply)), x.Position)}}
	t := Table{Caption: "Loads of " + x.Net, Named: true, Columns: []Column{
		{Head: "Load", Most: 80}, {Head: "State", Most: 80}, {Head: "Current"}, {Head: "Duty"}, {Head: "Average",
			Right: true}, {Head: "Share", Gauge: true, Width: 54},
		{Head: "Page", Most: 110},
	}}
	top := 0.0
	for _, l := range x.Rows {
		if l.Average != nil {
			top = max(top, *l.Average)
		}
	}
	for _, l := range x.Rows {
		r := Row{Cells: []Text{styled(Strong, l.Ref), plain(l.State), plain(l.Text), plain(l.Duty), plain(l.AverageText), nil,
			b.cites(l.Cites)}}
		if l.Average != nil && top > 0 {
			r.Gauge = &draw.Gauge{Percent: *l.Average / top * 100}
		}
		t.Rows = append(t.Rows, r)
	}
	out = append(out, tableOf(t)...)
	for i := range x.Results {
		out = append(out, b.value(&x.Results[i], false))
	}
	return out
}

// shortlist is candidates against criteria, a verdict and a page in each cell.
func (b *builder) shortlist(s *record.Shortlist) []Block {
	b.set["shortlist:"+s.ID] = true
	out := []Block{{Kind: Paragraph, Small: true, Anchor: "shortlist:" + s.ID, Text: blockHead("shortlist", s.ID, nil, s.Position)}}
	t := Table{Caption: "Candidates of " + s.ID, Columns: []Column{{Head: "Candidate", Most: 90}}}
	for _, c := range s.Criteria {
		t.Columns = append(t.Columns, Column{Head: c})
	}
	for i, name := range s.Candidates {
		cells := []Text{{{Text: name, To: "part:" + name}}}
		if name == s.Choice && name != "" {
			cells[0][0].Style = Strong
			cells[0] = append(cells[0], Span{Text: " chosen", Style: Quiet})
		}
		for j := range s.Criteria {
			if i < len(s.Cells) && j < len(s.Cells[i]) {
				c := &s.Cells[i][j]
				cells = append(cells, join(" ", verdict(c.Verdict), plain(c.Text), plain(words.Prefixed("margin ", c.Margin)), b.cites(c.Cites)))
			}
		}
		t.Rows = append(t.Rows, Row{Cells: cells, Shade: name == s.Choice && name != ""})
	}
	out = append(out, tableOf(t)...)
	if s.Choice != "" || s.Reason != "" {
		out = append(out, labelled("choice", join("  ", styled(Strong, s.Choice), plain(s.Reason))))
	}
	return out
}

func (b *builder) readings(names []string) []Block {
	t := Table{Caption: "Readings on the built board", Columns: []Column{
		{Head: "Quantity", Most: 110}, {Head: "Reading"}, {Head: "Predicted"}, {Head: "Verdict", Most: 60},
		{Head: "Says"}, {Head: "Settles", Most: 110},
		{Head: "Instrument", Most: 110},
	}}
	for _, n := range names {
		for i := range b.r.Readings {
			r := &b.r.Readings[i]
			if r.Name != n || b.set[fmt.Sprint("reading:", i)] {
				continue
			}
			b.set[fmt.Sprint("reading:", i)] = true
			inst := b.cites(r.Cites)
			for _, c := range r.Cites {
				inst = join(": ", inst, styled(Quiet, c.Text))
			}
			t.Rows = append(t.Rows, Row{Verdict: r.Verdict, Cells: []Text{
				styled(Code, r.Name), plain(r.Reading), plain(r.Predicted), verdict(r.Verdict), plain(r.Text), claimLink(r.Settles), inst,
			}})
		}
	}
	return tableOf(t)
}

// unset are the budgets, shortlists, readings and values that no notebook
// shows.
func (b *builder) unset() []Block {
	var out []Block
	for i := range b.r.Budgets {
		if x := &b.r.Budgets[i]; !b.set["budget:"+x.Net] {
			out = append(out, b.budget(x)...)
		}
	}
	for i := range b.r.Shortlists {
		if x := &b.r.Shortlists[i]; !b.set["shortlist:"+x.ID] {
			out = append(out, b.shortlist(x)...)
		}
	}
	for i := range b.r.Values {
		if v := &b.r.Values[i]; !b.set["value:"+v.Name] {
			out = append(out, b.value(v, true))
		}
	}
	return out
}
