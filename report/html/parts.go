package html

import (
	"fmt"
	"slices"
	"strings"

	"guardband/eval"
	"guardband/report/internal/words"
)

// sixSections are the sections of a first look at a data sheet, in that order.
var sixSections = []string{"order code", "package", "pins", "characteristics", "maximum ratings", "application circuit"}

// factSections are the groups of facts with their headings.
var factSections = []struct{ key, name string }{
	{"absmax", "Absolute maximum ratings"},
	{"operating", "Operating limits"},
	{"spec", "Characteristics"},
}

// facts sets a part's facts as the tables of a data sheet.
func (p *page) facts(t *eval.Part) {
	p.set["facts "+t.ID] = true
	p.raw(markup(`<div class="wide" tabindex="0" role="group" aria-label="Facts"><table class="facts"><caption><span class="lab">Part</span> `))
	p.link("part", t.ID, t.ID)
	p.raw(" ", t.Title, " ")
	p.place(t.Position)
	p.raw(markup(`</caption><thead><tr><th scope="col">Fact</th><th scope="col" class="r">Min</th><th scope="col" class="r">Typ</th><th scope="col" class="r">Max</th><th scope="col">Conditions</th><th scope="col">Page</th></tr></thead>`))
	for _, group := range factSections {
		p.factGroup(t, group.key, group.name)
	}
	p.raw(markup("</table></div>\n"))
}

func (p *page) factGroup(t *eval.Part, key, name string) {
	first := true
	for _, f := range t.Facts {
		if f.Section != key {
			continue
		}
		if first {
			p.raw(markup(`<tbody><tr class="group"><th colspan="6" scope="rowgroup">`), name, markup(`</th></tr>`))
			first = false
		}
		p.fact(t, f)
	}
	if !first {
		p.raw(markup(`</tbody>`))
	}
}

func (p *page) fact(t *eval.Part, f eval.Fact) {
	p.raw(markup(`<tr`))
	p.id("fact", factName(t.ID, f))
	p.raw(markup(`><th scope="row">`))
	p.name(f.Name)
	if len(f.Pins) > 0 {
		p.raw(" (", strings.Join(f.Pins, ", "), ")")
	}
	p.raw(markup(`</th>`))
	if f.MinText == "" && f.TypText == "" && f.MaxText == "" {
		p.raw(markup(`<td colspan="3" class="num">`), f.Text, markup(`</td>`))
	} else {
		for _, s := range []string{f.MinText, f.TypText, f.MaxText} {
			p.raw(markup(`<td class="num r">`), s, markup(`</td>`))
		}
	}
	p.raw(markup(`<td>`), f.At, markup(`</td><td>`))
	p.citeLine(f.Cites)
	if f.Unconfirmed {
		p.raw(markup(` <span class="grade bad">unconfirmed</span>`))
	}
	p.usedBy(f.UsedBy)
	p.raw(markup(`</td></tr>`))
}

// parts is the section: what is noted of each part, then what is placed and
// the parts list.
func (p *page) parts() {
	p.open("parts")
	if len(p.r.Parts) > 0 {
		p.noted()
		for i := range p.r.Parts {
			p.part(&p.r.Parts[i])
		}
	}
	p.level = 3
	p.placements(p.unset("placed", len(p.r.Placements), func(i int) string { return p.r.Placements[i].Ref }))
	p.partsList()
	p.close()
}

// unset lists the names of what the notes did not set.
func (p *page) unset(kind string, n int, name func(int) string) []string {
	var out []string
	for i := range n {
		if !p.set[kind+" "+name(i)] {
			out = append(out, name(i))
		}
	}
	return out
}

// noted says which of the six sections each part has on record.
func (p *page) noted() {
	p.raw(markup(`<div class="wide" tabindex="0" role="group" aria-label="Sections noted"><table class="noted"><caption>Sections of the data sheet that are noted</caption><thead><tr><th scope="col">Part</th>`))
	for _, s := range sixSections {
		p.raw(markup(`<th scope="col">`), s, markup(`</th>`))
	}
	p.raw(markup(`</tr></thead><tbody>`))
	for i := range p.r.Parts {
		t := &p.r.Parts[i]
		p.raw(markup(`<tr><th scope="row">`))
		p.link("part", t.ID, t.ID)
		p.raw(markup(`</th>`))
		for _, s := range sixSections {
			switch sec := t.Sections[s]; {
			case !sec.Noted:
				p.raw(markup(`<td class="blank">not noted</td>`))
			case sec.Pages == "":
				p.raw(markup(`<td>noted</td>`))
			default:
				p.raw(markup(`<td>`), sec.Pages, markup(`</td>`))
			}
		}
		p.raw(markup(`</tr>`))
	}
	p.raw(markup("</tbody></table></div>\n"))
}

func (p *page) part(t *eval.Part) {
	p.level = 2
	p.raw(markup(`<article class="part"`))
	p.id("part", t.ID)
	p.raw(markup(`><h3>`), t.ID, " ", markup(`<span class="sub">`), t.Title, markup(`</span></h3><dl class="fields">`))
	cell := func(name, value string) {
		if value != "" {
			p.raw(markup(`<div><dt>`), name, markup(`</dt><dd>`), value, markup(`</dd></div>`))
		}
	}
	cell("Order code", strings.Join(t.Order, ", "))
	cell("Package", t.Package)
	cell("Maker", t.Maker)
	cell("Status", t.Status)
	cell("Checked", t.Checked)
	for _, f := range t.Notes {
		cell(f.Name, words.Join(" ", f.Value, f.Means))
	}
	if len(t.Placed) > 0 {
		p.raw(markup(`<div><dt>Placed as</dt><dd>`))
		for i, ref := range t.Placed {
			if i > 0 {
				p.raw(", ")
			}
			p.link("placed", ref, ref)
		}
		p.raw(markup(`</dd></div>`))
	}
	p.raw(markup(`</dl>`))
	p.decoded(t.Decoded)
	if !p.set["facts "+t.ID] {
		p.facts(t)
	} else if len(t.Facts) > 0 {
		p.raw(markup(`<p class="small">`))
		p.link("fact", factName(t.ID, t.Facts[0]), words.Plural(len(t.Facts), "fact stands", "facts stand")+" in the notes")
		p.raw(markup(`</p>`))
	}
	p.pins(t.Pins)
	p.needs(t.Needs)
	p.raw(markup("</article>\n"))
}

func (p *page) decoded(fields []eval.Field) {
	if len(fields) == 0 {
		return
	}
	p.raw(markup(`<p><span class="lab">Order code decoded</span> `))
	for i, f := range fields {
		if i > 0 {
			p.raw("; ")
		}
		p.raw(f.Name, " ", markup(`<strong>`), f.Value, markup(`</strong>`), " = ", f.Means, " ")
		p.citeLine(f.Cites)
	}
	p.raw(markup(`</p>`))
}

func (p *page) pins(pins []eval.Pin) {
	if len(pins) == 0 {
		return
	}
	p.raw(markup(`<table class="pins"><caption>Pins</caption><thead><tr><th scope="col">Number</th><th scope="col">Name</th><th scope="col">Type</th><th scope="col">Page</th></tr></thead><tbody>`))
	for _, pin := range pins {
		p.raw(markup(`<tr><td class="num">`), strings.Join(pin.Numbers, ", "), markup(`</td><td>`), pin.Name, markup(`</td><td>`),
			words.Join(", ", append([]string{pin.Type}, pin.Flags...)...), markup(`</td><td>`))
		p.citeLine(pin.Cites)
		p.raw(markup(`</td></tr>`))
	}
	p.raw(markup(`</tbody></table>`))
}

func (p *page) needs(needs []eval.Need) {
	if len(needs) == 0 {
		return
	}
	p.raw(markup(`<table class="needs"><caption>Application circuit</caption><thead><tr><th scope="col">Asked for</th><th scope="col">Met by</th><th scope="col">Page</th></tr></thead><tbody>`))
	for _, n := range needs {
		p.raw(markup(`<tr><td>`), n.Text, markup(`</td><td>`))
		p.link("placed", n.MetBy, n.MetBy)
		p.raw(markup(`</td><td>`))
		p.citeLine(n.Cites)
		p.raw(markup(`</td></tr>`))
	}
	p.raw(markup(`</tbody></table>`))
}

// placements is the table of what stands on the board.
func (p *page) placements(refs []string) {
	refs = slices.DeleteFunc(slices.Clone(refs), func(r string) bool { return p.index.placed[r] == nil || p.set["placed "+r] })
	if len(refs) == 0 {
		return
	}
	p.raw(markup(`<div class="wide" tabindex="0" role="group" aria-label="Placed"><table class="placed"><caption>Placed</caption><thead><tr><th scope="col">Ref</th><th scope="col">Part</th><th scope="col">Nets</th><th scope="col">In use</th></tr></thead><tbody>`))
	for _, ref := range refs {
		pl := p.index.placed[ref]
		p.set["placed "+ref] = true
		p.raw(markup(`<tr`))
		p.id("placed", ref)
		p.raw(markup(`><th scope="row">`), ref, markup(`</th><td>`))
		p.link("part", pl.Part, pl.Part)
		p.raw(" ", pl.Text, markup(`</td><td>`))
		for i, net := range pl.Nets {
			if i > 0 {
				p.raw(" ")
			}
			p.raw(markup(`<span class="nb">`), words.Join("=", net.Name, net.Value), markup(`</span>`))
		}
		p.raw(markup(`</td><td>`), pl.InUse, markup(`</td></tr>`))
	}
	p.raw(markup("</tbody></table></div>\n"))
}

func (p *page) partsList() {
	if len(p.r.PartsList) == 0 {
		return
	}
	p.raw(markup(`<div class="wide" tabindex="0" role="group" aria-label="Parts list"><table class="list"><caption>Parts list</caption><thead><tr><th scope="col" class="r">Qty</th><th scope="col" class="r">To order</th><th scope="col">Designators</th><th scope="col">Order code</th><th scope="col">Description</th><th scope="col">Package</th><th scope="col">Maker</th><th scope="col">Status</th></tr></thead><tbody>`))
	pieces := 0
	for _, l := range p.r.PartsList {
		pieces += l.Quantity
		p.raw(markup(`<tr><td class="num r">`), fmt.Sprint(l.Quantity), markup(`</td><td class="num r">`), ordered(&l), markup(`</td><td>`), strings.Join(l.Refs, ", "), markup(`</td><td>`), l.Order, markup(`</td><td>`),
			l.Title, markup(`</td><td>`), l.Package, markup(`</td><td>`), l.Maker, markup(`</td><td>`), l.Status, markup(`</td></tr>`))
	}
	p.raw(markup("</tbody></table></div>\n<p class=\"small\">"), words.Plural(len(p.r.PartsList), "line", "lines"), ", ", words.Plural(pieces, "piece", "pieces"), markup(".</p>\n"))
}

// ordered is how many pieces to order, "" where the design does not say for
// how many boards.
func ordered(l *eval.PartsLine) string {
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
