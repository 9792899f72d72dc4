package eval

import (
	"fmt"
	"sort"
	"strconv"
	"strings"

	"guardband/eval/formula"
	"guardband/eval/record"
	"guardband/notebook"
	"guardband/units"
)

// partRecords lists the part types as noted.
func (c *compiler) partRecords() []record.Part {
	out := []record.Part{}
	for _, p := range c.parts.list {
		out = append(out, c.partRecord(p))
	}
	return out
}

func (c *compiler) partRecord(p *part) record.Part {
	r := record.Part{ID: p.id, Title: p.title, Order: []string{}, Package: p.pack, Maker: p.maker, Status: p.status, Checked: p.checked,
		Sections: c.sections(p), Facts: []record.Fact{}, Pins: []record.Pin{},
		Needs: []record.Need{}, Placed: []string{}, Position: position(p.block.Pos)}
	for _, o := range p.orders {
		r.Order = append(r.Order, o.code)
	}
	if len(p.orders) > 0 && p.code != nil {
		got, _ := c.decodedOf(p, p.orders[0].code)
		for _, d := range got {
			r.Decoded = append(r.Decoded, record.Field{Name: d.field, Value: d.code, Means: d.means})
		}
	}
	for _, f := range p.factOrder {
		for _, e := range f.rows {
			r.Facts = append(r.Facts, c.factRecord(p, f, e))
		}
	}
	for _, q := range p.pins {
		x := record.Pin{Numbers: q.row.Numbers, Name: q.row.Name, Type: q.row.Type, Flags: q.row.Flags}
		if q.row.Facts != "" {
			word := "obeys "
			if q.refers {
				word = "referred to "
			}
			x.Flags = append(append([]string(nil), x.Flags...), word+q.row.Facts)
		}
		x.Cites = c.citeRecords(q.entry)
		r.Pins = append(r.Pins, x)
	}
	for _, e := range p.needs {
		r.Needs = append(r.Needs, record.Need{Text: strings.TrimSpace(e.Text.S), MetBy: c.metBy(p, e), Cites: c.citeRecords(e)})
	}
	for _, m := range p.placed {
		r.Placed = append(r.Placed, m.ref)
	}
	for _, l := range []string{"body", "pitch", "height", "pads", "exposed pad", "land pattern", "temperature grade", "moisture", "marking", "pack", "alternates"} {
		if e := p.attrs[l]; e != nil {
			r.Notes = append(r.Notes, record.Field{Name: l, Value: value(e), Cites: c.citeRecords(e)})
		}
	}
	r.Notes = append(r.Notes, c.gaps(p)...)
	return r
}

func (c *compiler) citeRecords(e *notebook.Entry) []record.Cite {
	out := []record.Cite{}
	for _, k := range c.citesOf(e) {
		out = append(out, k.record(c))
	}
	return out
}

// factRecord is one row of a fact, its columns as printed in the notes.
func (c *compiler) factRecord(p *part, f *factDef, e *notebook.Entry) record.Fact {
	r := record.Fact{Section: f.section, Name: f.name, Pins: f.selectors, Text: strings.TrimSpace(e.RHS.S), At: condsText(e),
		Unconfirmed: e.Unconfirmed, Cites: c.citeRecords(e), Position: position(e.Text.Pos(0))}
	parts, err := units.Split(e.RHS.S)
	if err != nil {
		return r
	}
	lit := func(l units.Leaf) (string, bool) { return strings.TrimSpace(e.RHS.S[l.Off:l.End]), l.Present() }
	switch parts.Shape {
	case units.Single:
		t, _ := lit(parts.Single)
		if f.section == "spec" {
			r.TypText = t
		} else {
			r.MinText, r.MaxText = t, t
		}
	case units.Range:
		r.MinText, _ = lit(parts.Lo)
		r.MaxText, _ = lit(parts.Hi)
		if n, _ := statedNumbers(e.RHS.S); len(n) == 2 { // each end with the unit it shares: "-40 to 125 °C"
			for i, at := range []*string{&r.MinText, &r.MaxText} {
				if *at == n[i].Text {
					*at = numberText(n[i])
				}
			}
		}
	case units.Columns:
		for _, x := range []struct {
			l  units.Leaf
			at *string
		}{{parts.Min, &r.MinText}, {parts.Typ, &r.TypText}, {parts.Max, &r.MaxText}, {parts.MaxDev, &r.MaxText}} {
			if t, ok := lit(x.l); ok {
				*x.at = t
			}
		}
	case units.Deviated:
		r.TypText = r.Text
	}
	c.factNumbers(&r, p, f, e)
	return r
}

// factNumbers fills the columns that are exact numbers.
func (c *compiler) factNumbers(r *record.Fact, p *part, f *factDef, e *notebook.Entry) {
	for _, y := range c.factList {
		if y.comp == nil || y.comp.part != p || y.limit != (f.section != "spec") {
			continue
		}
		for _, w := range y.rows {
			if w.entry != e {
				continue
			}
			r.UsedBy = y.usedBy
			for i, at := range []**float64{&r.Min, &r.Typ, &r.Max} {
				v := w.cols[i]
				if v == nil || v.Class != formula.Number {
					continue
				}
				r.Unit = baseUnit(v.Type)
				if x, ok := c.b.ConstOf(v.Reg); ok {
					g := units.Float(x)
					*at = &g
				}
			}
			if r.Typ != nil && r.TypText == r.Text && r.Min != nil {
				r.MinText = units.Format(constOf(c, w.cols[0]), w.cols[0].Type, units.Style{Unit: w.cols[0].Unit})
				r.MaxText = units.Format(constOf(c, w.cols[2]), w.cols[2].Type, units.Style{Unit: w.cols[2].Unit})
				r.TypText = units.Format(constOf(c, w.cols[1]), w.cols[1].Type, units.Style{Unit: w.cols[1].Unit})
			}
			return
		}
	}
}

// sections says which of the six are noted, with the pages cited.
func (c *compiler) sections(p *part) map[string]record.Section {
	out := map[string]record.Section{}
	note := func(name string, entries ...*notebook.Entry) {
		s := out[name]
		pages := map[string]bool{}
		for _, x := range strings.Split(s.Pages, ", ") {
			if x != "" {
				pages[x] = true
			}
		}
		for _, e := range entries {
			if e == nil {
				continue
			}
			s.Noted = true
			for _, k := range c.citesOf(e) {
				if pg := k.page(); pg != "" {
					pages[pg] = true
				}
			}
		}
		var l []string
		for pg := range pages {
			l = append(l, pg)
		}
		sort.Slice(l, func(i, j int) bool {
			return pageNumber(l[i]) < pageNumber(l[j]) || pageNumber(l[i]) == pageNumber(l[j]) && l[i] < l[j]
		})
		s.Pages = strings.Join(l, ", ")
		out[name] = s
	}
	for _, n := range record.SheetSections {
		out[n] = record.Section{}
	}
	for _, o := range p.orders {
		note("order code", o.entry)
	}
	note("order code", p.code)
	note("package", p.attrs["package"], p.attrs["body"])
	for _, q := range p.pins {
		note("pins", q.entry)
	}
	for _, f := range p.factOrder {
		name := "characteristics"
		if f.section == "absmax" {
			name = "maximum ratings"
		}
		note(name, f.rows...)
	}
	note("application circuit", p.needs...)
	for label, name := range map[string]string{"pins": "pins", "application": "application circuit", "absmax": "maximum ratings"} {
		if e := p.attrs[label]; e != nil && value(e) == "none" {
			note(name, e)
		}
	}
	if p.standsAlone() && !out["application circuit"].Noted {
		out["application circuit"] = record.Section{Noted: true} // there is none to note
	}
	return out
}

func pageNumber(s string) int {
	n, _ := strconv.Atoi(strings.TrimLeft(s, "pdf."))
	return n
}

func (c *compiler) placements() []record.Placement {
	out := []record.Placement{}
	for _, m := range c.comps.list {
		r := record.Placement{Ref: m.ref, Part: m.kind, Nets: []record.Field{}, Position: position(m.entry.Text.Pos(0))}
		if m.part != nil {
			r.Part = m.part.id
		}
		var text []string
		if v := strings.TrimSpace(m.row.Value.S); v != "" {
			text = append(text, v)
		} else if m.kind == WithoutNote && m.from.cells != nil {
			text = append(text, m.from.cells.cells["value"])
		}
		for _, o := range m.row.Options {
			text = append(text, strings.TrimSpace(o.S))
		}
		r.Text = strings.Join(text, ", ")
		for _, k := range m.row.Conns {
			f := record.Field{Name: k.Pin, Value: c.netOf(m, k)}
			if m.unnoted() && c.fromFiles != nil {
				f.Means = c.fromFiles.pins[m.ref][k.Pin].name
			}
			r.Nets = append(r.Nets, f)
		}
		if p := m.from; p != nil {
			r.From = fmt.Sprintf("%s:%d", p.src.Path, p.line)
			if len(m.overruled) > 0 {
				r.From += "; the row overrules pins " + strings.Join(m.overruled, ", ")
			}
		}
		var use []string
		for _, k := range m.row.InUse {
			use = append(use, strings.TrimSpace(k.Text.S))
		}
		r.InUse = strings.Join(use, "; ")
		out = append(out, r)
	}
	return out
}

// netOf is the net a connection joins for this designator of its row.
func (c *compiler) netOf(m *component, k notebook.Conn) string {
	if len(k.Nets) == 0 {
		return k.Net
	}
	for i, ref := range m.row.Refs {
		if ref == m.ref && i < len(k.Nets) {
			return k.Nets[i]
		}
	}
	return k.Net
}

// partsList gathers equal placements into lines.
func (c *compiler) partsList() []record.PartsLine {
	out := []record.PartsLine{}
	by := map[string]int{}
	for _, m := range c.comps.list {
		if m.notFitted() {
			continue
		}
		l := record.PartsLine{Part: m.kind, Title: m.kind}
		if m.part != nil {
			l = record.PartsLine{Part: m.part.id, Order: m.codeOf(), Package: m.part.pack, Title: m.part.title,
				Maker: m.part.maker, Status: m.part.status}
		} else {
			text := []string{strings.TrimSpace(m.row.Value.S)}
			for _, o := range m.row.Options {
				text = append(text, strings.TrimSpace(o.S))
			}
			l.Title = m.kind + " " + strings.Join(text, ", ")
			if m.kind == WithoutNote && m.from.cells != nil {
				l.Order, l.Package = m.from.cells.cells["order code"], m.from.cells.cells["package"]
				l.Title = strings.TrimSpace(l.Title + m.from.cells.cells["value"])
			}
		}
		key := l.Part + "\x00" + l.Title + "\x00" + l.Order + "\x00" + l.Package
		i, ok := by[key]
		if !ok {
			i = len(out)
			by[key] = i
			out = append(out, l)
		}
		out[i].Quantity++
		out[i].Refs = append(out[i].Refs, m.ref)
	}
	buy := c.purchasing()
	for i := range out {
		pack := int64(0)
		if p, ok := c.parts.get(out[i].Part); ok {
			if e := p.attrs["pack"]; e != nil {
				pack, _ = c.count(e)
			}
		}
		buy.order(&out[i], pack)
	}
	return out
}

// notFitted says that a placement is left off the board.
func (m *component) notFitted() bool {
	for _, o := range m.row.Options {
		switch strings.ToLower(strings.TrimSpace(o.S)) {
		case "do not populate", "dnp", "not fitted":
			return true
		}
	}
	return false
}
