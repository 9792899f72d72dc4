package pdf

import (
	"strings"

	"guardband/eval"
)

// The six sections of a first look, in the order in which the record names
// them, and what each list of facts is called.
var sixSections = []string{"order code", "package", "pins", "characteristics", "maximum ratings", "application circuit"}

var factSections = []struct{ key, title string }{
	{"operating", "Operating conditions"}, {"absmax", "Absolute maximum ratings"}, {"spec", "Characteristics"},
}

// part sets everything noted about a part type.
func (d *document) part(p *eval.Part) {
	d.set["part:"+p.ID] = true
	st := small()
	d.keep(0, func() { d.bookmark(d.under+1, "Part "+p.ID) })
	d.blockHead("part", p.ID, []span{d.sp(body().with(bold), p.Title)}, p.Position, "part:"+p.ID)
	about := d.join(st, " · ",
		d.words(st, prefixed("order ", strings.Join(p.Order, ", "))), d.words(st, p.Package), d.words(st, p.Maker), d.words(st, p.Status),
		d.words(st, prefixed("placed as ", strings.Join(p.Placed, ", "))), d.words(st, prefixed("second look: ", p.Checked)))
	for _, n := range p.Notes {
		about = d.join(st, " · ", about, d.words(st, n.Name+": "+joinText(", ", n.Value, n.Means)))
	}
	if len(about) > 0 {
		d.keepPara(about...)
	}
	d.space(3)
	d.factTable(p)
	d.pinTable(p.Pins)
	d.decoded(p.Decoded)
	d.needs(p.Needs)
}

func (d *document) factTable(p *eval.Part) {
	st := small()
	t := table{cols: []column{
		{head: "Name"}, {head: "Conditions"}, {head: "Min", align: 'r', most: 60}, {head: "Typ", align: 'r', most: 60},
		{head: "Max", align: 'r', most: 60}, {head: "Page", most: 110},
	}}
	add := func(title string, keep func(string) bool) {
		first := true
		for i := range p.Facts {
			if f := &p.Facts[i]; keep(f.Section) {
				if first {
					t.rows = append(t.rows, row{title: cell{d.sp(style{face: bold, size: tinySize, colour: soft}, title)}})
					first = false
				}
				t.rows = append(t.rows, d.factRow(p.ID, f, st))
			}
		}
	}
	known := map[string]bool{}
	for _, s := range factSections {
		known[s.key] = true
		add(s.title, func(k string) bool { return k == s.key })
	}
	add("Other", func(k string) bool { return !known[k] })
	d.table(t)
}

func (d *document) factRow(part string, f *eval.Fact, st style) row {
	name := cell{d.sp(st.with(bold), f.Name)}
	if len(f.Pins) > 0 {
		name = append(name, d.sp(st, " ("+strings.Join(f.Pins, ", ")+")"))
	}
	at := cell(d.words(st, f.At))
	if f.MinText+f.TypText+f.MaxText == "" {
		at = d.join(st, "; ", d.words(st, f.Text), at)
	}
	page := cell(d.cites(f.Cites, st))
	if f.Unconfirmed {
		page = d.join(st, "; ", page, d.words(st.in(verdictColour(eval.Open)), "unconfirmed"))
	}
	return row{anchor: "fact:" + part + "." + f.Section + "." + f.Name, cells: []cell{
		name, at, d.words(st, f.MinText), d.words(st, f.TypText), d.words(st, f.MaxText), page,
	}}
}

// pinTable sets the pins; a long list runs in two halves side by side.
func (d *document) pinTable(pins []eval.Pin) {
	if len(pins) == 0 {
		return
	}
	d.space(6)
	st := small()
	sets := 1
	if len(pins) > 10 {
		sets = 2
	}
	t := table{}
	for range sets {
		t.cols = append(t.cols, column{head: "Pin", most: 50}, column{head: "Name"}, column{head: "Type"}, column{head: "Page", most: 70})
	}
	rows := (len(pins) + sets - 1) / sets
	for i := range rows {
		var cells []cell
		for s := range sets {
			j := s*rows + i
			if j >= len(pins) {
				break
			}
			p := pins[j]
			cells = append(cells, d.words(st, strings.Join(p.Numbers, ", ")), d.words(st.with(bold), p.Name),
				d.words(st, joinText(", ", append([]string{p.Type}, p.Flags...)...)), d.cites(p.Cites, st))
		}
		t.rows = append(t.rows, row{cells: cells})
	}
	d.table(t)
}

func (d *document) decoded(fs []eval.Field) {
	if len(fs) == 0 {
		return
	}
	d.space(6)
	st := small()
	t := table{cols: []column{{head: "Order code field", most: 120}, {head: "Code", most: 80}, {head: "Means"}, {head: "Page", most: 110}}}
	for _, f := range fs {
		t.rows = append(t.rows, row{cells: []cell{d.words(st, f.Name), {d.code(st, f.Value)}, d.words(st, f.Means), d.cites(f.Cites, st)}})
	}
	d.table(t)
}

func (d *document) needs(ns []eval.Need) {
	if len(ns) == 0 {
		return
	}
	d.space(6)
	st := small()
	t := table{cols: []column{{head: "Application circuit asks for"}, {head: "Met by"}, {head: "Page", most: 110}}}
	for _, n := range ns {
		met := d.words(st, n.MetBy)
		if n.MetBy == "" {
			met = d.words(st.in(verdictColour(eval.Open)), "nothing placed")
		}
		t.rows = append(t.rows, row{cells: []cell{d.words(st, n.Text), met, d.cites(n.Cites, st)}})
	}
	d.table(t)
}

// partsRegister is one line a part, with the page on which each of the six
// sections is noted; parts that stand in no notebook follow in full.
func (d *document) partsRegister() {
	st := small()
	t := table{cols: []column{{head: "Part"}, {head: "Title"}, {head: "Order code"}, {head: "Package", most: 80}, {head: "Placed", most: 90}, {head: "Status", most: 90}, {head: "Set on page", align: 'r', most: 50}}}
	for i := range d.r.Parts {
		p := &d.r.Parts[i]
		t.rows = append(t.rows, row{cells: []cell{
			{d.code(st.to("part:"+p.ID), p.ID)}, d.words(st, p.Title), d.words(st, strings.Join(p.Order, ", ")), d.words(st, p.Package),
			d.words(st, strings.Join(p.Placed, ", ")), d.words(st, p.Status), d.words(st, d.setOn(p.ID)),
		}})
	}
	d.table(dropEmpty(t))
	d.space(8)
	d.keepPara(d.sp(st.in(soft), "The six sections of a first look, with the page on which each is noted:"))
	s := table{cols: []column{{head: "Part", most: 120}}}
	for _, name := range sixSections {
		s.cols = append(s.cols, column{head: strings.ToUpper(name[:1]) + name[1:]})
	}
	for i := range d.r.Parts {
		p := &d.r.Parts[i]
		cells := []cell{{d.code(st, p.ID)}}
		for _, name := range sixSections {
			cells = append(cells, d.sectionCell(p.Sections[name], st))
		}
		s.rows = append(s.rows, row{cells: cells})
	}
	d.table(s)
	for i := range d.r.Parts {
		if p := &d.r.Parts[i]; !d.set["part:"+p.ID] {
			d.space(10)
			d.part(p)
			d.flush()
		}
	}
}

// setOn is the page on which a part stands in the notes.
func (d *document) setOn(id string) string {
	if d.set["part:"+id] {
		return d.number("part:" + id)
	}
	return "below"
}

func (d *document) sectionCell(s eval.Section, st style) cell {
	switch {
	case !s.Noted:
		return d.words(st.in(verdictColour(eval.Open)), "blank")
	case s.Pages == "":
		return d.words(st, "noted")
	}
	return d.words(st, s.Pages)
}

// unplaced tells that some placement stands in no circuit block of the notes.
func (d *document) unplaced() bool { return len(d.otherPlacements()) > 0 }

func (d *document) otherPlacements() []*eval.Placement {
	in := map[string]bool{}
	for i := range d.r.Content {
		blocksOf(d.r.Content[i].Nodes, func(b *eval.BlockRef) {
			if b.Kind == "circuit" {
				for _, n := range b.Names {
					in[n] = true
				}
			}
		})
	}
	var list []*eval.Placement
	for i := range d.r.Placements {
		if p := &d.r.Placements[i]; !in[p.Ref] {
			list = append(list, p)
		}
	}
	return list
}

// placements are those that the notes do not show.
func (d *document) placements() { d.table(d.placementTable(d.otherPlacements())) }

func (d *document) partsList() {
	st := small()
	t := table{cols: []column{{head: "Qty", align: 'r', most: 30}, {head: "Designators"}, {head: "Order code"}, {head: "Package", most: 80}, {head: "Title"}, {head: "Maker"}, {head: "Status", most: 90}}}
	for _, l := range d.r.PartsList {
		order := cell{d.code(st, l.Order)}
		if l.Order == "" {
			order = d.words(st.in(verdictColour(eval.Open)), "no order code")
		}
		t.rows = append(t.rows, row{cells: []cell{
			d.words(st, itoa(l.Quantity)), d.words(st, strings.Join(l.Refs, ", ")), order, d.words(st, l.Package),
			d.words(st, joinText(": ", l.Part, l.Title)), d.words(st, l.Maker), d.words(st, l.Status),
		}})
	}
	d.table(dropEmpty(t))
}
