package eval

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"guardband/eval/circuit"
	"guardband/eval/formula"
	"guardband/eval/record"
	"guardband/notebook"
	"guardband/units"
)

// partRecords lists the part types as noted.
func (c recorder) partRecords() []record.Part {
	out := []record.Part{}
	for _, p := range c.Parts.List {
		out = append(out, c.partRecord(p))
	}
	return out
}

func (c recorder) partRecord(p *circuit.Part) record.Part {
	r := record.Part{ID: p.ID, Title: p.Title, Order: []string{}, Package: p.Pack, Maker: p.Maker, Status: p.Status, Checked: p.Checked,
		Sections: c.Sections(p), Facts: []record.Fact{}, Pins: []record.Pin{},
		Needs: []record.Need{}, Placed: []string{}, Position: position(p.Block.Pos)}
	for _, o := range p.Orders {
		r.Order = append(r.Order, o.Code)
	}
	if len(p.Orders) > 0 && p.Code != nil {
		got, _ := circuit.DecodedOf(p, p.Orders[0].Code)
		for _, d := range got {
			r.Decoded = append(r.Decoded, record.Field{Name: d.Field, Value: d.Code, Means: d.Means})
		}
	}
	for _, f := range p.FactOrder {
		for _, e := range f.Rows {
			r.Facts = append(r.Facts, c.factRecord(p, f, e))
		}
	}
	for _, q := range p.Pins {
		x := record.Pin{Numbers: q.Row.Numbers, Name: q.Row.Name, Type: q.Row.Type, Flags: q.Row.Flags}
		if q.Row.Facts != "" {
			word := "obeys "
			if q.Refers {
				word = "referred to "
			}
			x.Flags = append(append([]string(nil), x.Flags...), word+q.Row.Facts)
		}
		x.Cites = c.citeRecords(q.Entry)
		r.Pins = append(r.Pins, x)
	}
	for _, e := range p.Needs {
		r.Needs = append(r.Needs, record.Need{Text: strings.TrimSpace(e.Text.S), MetBy: c.met[e], Cites: c.citeRecords(e)})
	}
	for _, m := range p.Placed {
		r.Placed = append(r.Placed, m.Ref)
	}
	for _, l := range []string{"body", "pitch", "height", "pads", "exposed pad", "land pattern", "temperature grade",
		"moisture", "marking", "pack", "alternates"} {
		if e := p.Attrs[l]; e != nil {
			r.Notes = append(r.Notes, record.Field{Name: l, Value: e.Trimmed(), Cites: c.citeRecords(e)})
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
func (c recorder) factRecord(p *circuit.Part, f *circuit.Fact, e *notebook.Entry) record.Fact {
	r := record.Fact{Section: f.Section, Name: f.Name, Pins: f.Selectors, Text: strings.TrimSpace(e.RHS.S), At: condsText(e),
		Unconfirmed: e.Unconfirmed, Cites: c.citeRecords(e), Position: position(e.Text.Pos(0))}
	parts, err := units.Split(e.RHS.S)
	if err != nil {
		return r
	}
	lit := func(l units.Leaf) (string, bool) { return strings.TrimSpace(e.RHS.S[l.Off:l.End]), l.Present() }
	switch parts.Shape {
	case units.Single:
		t, _ := lit(parts.Single)
		if f.Section == "spec" {
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
func (c recorder) factNumbers(r *record.Fact, p *circuit.Part, f *circuit.Fact, e *notebook.Entry) {
	for _, y := range c.factList {
		if y.comp == nil || y.comp.Part != p || y.limit != (f.Section != "spec") {
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
				if x := w.ends[i]; x != nil {
					*at = floatOf(x)
				}
			}
			if r.Typ != nil && r.TypText == r.Text && r.Min != nil {
				for i, at := range []*string{&r.MinText, &r.TypText, &r.MaxText} {
					*at = units.Format(w.ends[i], w.cols[i].Type, units.Style{Unit: w.cols[i].Unit})
				}
			}
			return
		}
	}
}

// Sections says which of the six are noted, with the pages cited.
func (c *compiler) Sections(p *circuit.Part) map[string]record.Section {
	out, pages := map[string]record.Section{}, map[string][]string{}
	note := func(name string, entries ...*notebook.Entry) {
		for _, e := range entries {
			if e == nil {
				continue
			}
			out[name] = record.Section{Noted: true}
			for _, k := range c.citesOf(e) {
				pages[name] = circuit.AddTo(pages[name], k.page())
			}
		}
	}
	for _, n := range record.SheetSections {
		out[n] = record.Section{}
	}
	for _, o := range p.Orders {
		note("order code", o.Entry)
	}
	note("order code", p.Code)
	note("package", p.Attrs["package"], p.Attrs["body"])
	for _, q := range p.Pins {
		note("pins", q.Entry)
	}
	for _, f := range p.FactOrder {
		name := "characteristics"
		if f.Section == "absmax" {
			name = "maximum ratings"
		}
		note(name, f.Rows...)
	}
	note("application circuit", p.Needs...)
	for label, name := range map[string]string{"pins": "pins", "application": "application circuit", "absmax": "maximum ratings"} {
		if e := p.Attrs[label]; e != nil && e.Trimmed() == "none" {
			note(name, e)
		}
	}
	for name, l := range pages {
		slices.SortFunc(l, func(a, b string) int { return cmp.Or(cmp.Compare(pageNumber(a), pageNumber(b)), cmp.Compare(a, b)) })
		l = slices.DeleteFunc(l, func(page string) bool { return page == "" })
		out[name] = record.Section{Noted: true, Pages: strings.Join(l, ", ")}
	}
	if circuit.StandsOnItsOwn(p) && !out["application circuit"].Noted {
		out["application circuit"] = record.Section{Noted: true} // there is none to note
	}
	return out
}

func pageNumber(s string) int {
	n, _ := strconv.Atoi(strings.TrimLeft(s, "pdf."))
	return n
}

func (c recorder) placements() []record.Placement {
	out := []record.Placement{}
	for _, m := range c.Comps.List {
		r := record.Placement{Ref: m.Ref, Part: m.Kind, Nets: []record.Field{}, Position: position(m.Entry.Text.Pos(0))}
		if m.Part != nil {
			r.Part = m.Part.ID
		}
		var text []string
		if v := strings.TrimSpace(m.Row.Value.S); v != "" {
			text = append(text, v)
		} else if m.Kind == circuit.WithoutNote && c.placedBy[m].cells != nil {
			text = append(text, c.placedBy[m].cells.Cells["value"])
		}
		for _, o := range m.Row.Options {
			text = append(text, strings.TrimSpace(o.S))
		}
		r.Text = strings.Join(text, ", ")
		for _, k := range m.Row.Conns {
			f := record.Field{Name: k.Pin, Value: c.netOf(m, k)}
			if m.Unnoted() && c.fromFiles != nil {
				q := c.fromFiles.pins[m.Ref][k.Pin]
				f.Means, f.Type = q.Name, q.Type
			}
			r.Nets = append(r.Nets, f)
		}
		if p := c.placedBy[m]; p != nil {
			r.From = fmt.Sprintf("%s:%d", p.src.Path, p.line)
			if len(m.Overruled) > 0 {
				r.From += "; the row overrules pins " + strings.Join(m.Overruled, ", ")
			}
		}
		var use []string
		for _, k := range m.Row.InUse {
			use = append(use, strings.TrimSpace(k.Text.S))
		}
		for _, k := range m.Row.Roles {
			use = circuit.AddTo(use, strings.TrimSpace(k.Text.S))
		}
		r.InUse = strings.Join(use, "; ")
		out = append(out, r)
	}
	return out
}

// netOf is the net a connection joins for this designator of its row.
func (c *compiler) netOf(m *circuit.Component, k notebook.Conn) string {
	if len(k.Nets) == 0 {
		return k.Net
	}
	for i, ref := range m.Row.Refs {
		if ref == m.Ref && i < len(k.Nets) {
			return k.Nets[i]
		}
	}
	return k.Net
}

// partsList gathers equal placements into lines.
func (c recorder) partsList() []record.PartsLine {
	out := []record.PartsLine{}
	by := map[string]int{}
	for _, m := range c.Comps.List {
		if m.NotFitted() {
			continue
		}
		l := record.PartsLine{Part: m.Kind, Title: m.Kind}
		if m.Part != nil {
			l = record.PartsLine{Part: m.Part.ID, Order: circuit.CodeOf(m), Package: m.Part.Pack, Title: m.Part.Title,
				Maker: m.Part.Maker, Status: m.Part.Status}
		} else {
			text := []string{strings.TrimSpace(m.Row.Value.S)}
			for _, o := range m.Row.Options {
				text = append(text, strings.TrimSpace(o.S))
			}
			l.Title = m.Kind + " " + strings.Join(text, ", ")
			if m.Kind == circuit.WithoutNote && c.placedBy[m].cells != nil {
				l.Order, l.Package = c.placedBy[m].cells.Cells["order code"], c.placedBy[m].cells.Cells["package"]
				l.Title = strings.TrimSpace(l.Title + c.placedBy[m].cells.Cells["value"])
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
		out[i].Refs = append(out[i].Refs, m.Ref)
	}
	buy := c.purchasing()
	for i := range out {
		pack := int64(0)
		if p, ok := c.Parts.Get(out[i].Part); ok {
			if e := p.Attrs["pack"]; e != nil {
				pack, _ = c.count(e)
			}
		}
		buy.order(&out[i], pack)
	}
	return out
}
