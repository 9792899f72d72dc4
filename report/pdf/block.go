package pdf

import (
	"strings"

	"guardband/eval"
)

// block sets a block of the notes as what it is. What the record does not
// hold under the block's name is set as typed, so that nothing is lost.
func (d *document) block(b *eval.BlockRef) {
	if b == nil {
		return
	}
	if set := d.blockSetter(b); set != nil {
		d.space(8)
		set()
		d.flush()
		d.space(6)
		return
	}
	d.asTyped(b)
}

func (d *document) blockSetter(b *eval.BlockRef) func() {
	switch b.Kind {
	case "claim":
		if c := d.claims[b.ID]; c != nil {
			return func() { d.claim(c) }
		}
	case "part":
		if p := d.parts[b.ID]; p != nil {
			return func() { d.part(p) }
		}
	case "source":
		if s := d.sources[b.ID]; s != nil {
			return func() { d.sourceBlock(s) }
		}
	case "values":
		return d.valuesBlock(b)
	case "circuit":
		return d.circuitBlock(b)
	case "budget":
		return d.budgetBlock(b)
	case "shortlist":
		return d.shortlistBlock(b)
	case "readings":
		return d.readingsBlock(b)
	case "design":
		return func() { d.fields(b, "Design") }
	case "review":
		return func() { d.fields(b, "Review") }
	}
	return nil
}

// blockHead is the line above a block's content.
func (d *document) blockHead(kind, id string, rest []span, pos *eval.Position, anchor string) {
	st := small()
	head := []span{d.sp(st.in(soft), kind+" ")}
	if id != "" {
		head = append(head, d.code(body(), id))
	}
	if len(rest) > 0 {
		head = append(head, d.sp(st, "  "))
		head = append(head, rest...)
	}
	if w := d.where(pos, tiny()); w != nil {
		head = append(head, d.sp(st, "  "))
		head = append(head, w...)
	}
	if anchor != "" {
		d.keep(0, func() { d.mark(anchor) })
	}
	d.keepPara(head...)
}

// fields is a block of attributes as a list of label and text.
func (d *document) fields(b *eval.BlockRef, kind string) {
	if len(b.Fields) == 0 {
		d.asTyped(b)
		return
	}
	d.blockHead(kind, b.ID, nil, b.Position, "")
	for _, f := range b.Fields {
		d.labelled(f.Name, 82, d.sp(small(), f.Value))
	}
}

// asTyped sets the block's lines as they stand in the notebook.
func (d *document) asTyped(b *eval.BlockRef) {
	d.space(8)
	d.blockHead(b.Kind, b.ID, nil, b.Position, "")
	d.codeBlock(b.Lines)
	d.space(6)
}

func (d *document) sourceBlock(s *eval.Source) {
	st := small()
	rest := d.join(st, " · ", d.words(st, s.Title), d.words(st, s.Issuer), d.words(st, prefixed("revision ", s.Revision)), d.words(st, s.Date), d.words(st.in(soft), s.State))
	d.keep(0, func() { d.mark("noted-source:" + s.ID) })
	out := append([]span{d.sp(st.in(soft), "document "), d.code(body().to("source:"+s.ID), s.ID), d.sp(st, "  ")}, rest...)
	d.para(out...)
}

func (d *document) circuitBlock(b *eval.BlockRef) func() {
	var list []*eval.Placement
	for _, n := range b.Names {
		if p := d.placed[n]; p != nil {
			list = append(list, p)
		}
	}
	if len(list) == 0 {
		return nil
	}
	return func() {
		d.blockHead("circuit", b.ID, nil, b.Position, "")
		d.table(d.placementTable(list))
	}
}

func (d *document) placementTable(list []*eval.Placement) table {
	st := small()
	t := table{cols: []column{{head: "Designator", most: 70}, {head: "Part", most: 110}, {head: "Value and options"}, {head: "Nets"}, {head: "In use"}}}
	for _, p := range list {
		part := d.code(st, p.Part)
		if d.parts[p.Part] != nil {
			part = d.code(st.to("part:"+p.Part), p.Part)
		}
		t.rows = append(t.rows, row{anchor: "placed:" + p.Ref, cells: []cell{
			{d.sp(st.with(bold), p.Ref)}, {part}, d.words(st, p.Text), d.words(st, netText(p.Nets)), d.words(st, p.InUse),
		}})
	}
	return dropEmpty(t)
}

func netText(nets []eval.Field) string {
	var b strings.Builder
	for i, n := range nets {
		if i > 0 {
			b.WriteByte(' ')
		}
		if n.Name != "" {
			b.WriteString(n.Name + "=")
		}
		b.WriteString(n.Value)
	}
	return b.String()
}

// dropEmpty leaves out columns in which no row has anything.
func dropEmpty(t table) table {
	used := make([]bool, len(t.cols))
	for _, r := range t.rows {
		for i, c := range r.cells {
			if i < len(used) && len(c) > 0 {
				used[i] = true
			}
		}
	}
	var out table
	out.ruled = t.ruled
	for i, c := range t.cols {
		if used[i] {
			out.cols = append(out.cols, c)
		}
	}
	for _, r := range t.rows {
		cells := r.cells[:0:0]
		for i, c := range r.cells {
			if i < len(used) && used[i] {
				cells = append(cells, c)
			}
		}
		r.cells = cells
		out.rows = append(out.rows, r)
	}
	return out
}
