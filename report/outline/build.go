package outline

import (
	"fmt"
	"strconv"
	"strings"

	"guardband/eval/record"
	"guardband/report/internal/words"
)

// builder finds what names of the record point to and keeps what is set.
type builder struct {
	r       *record.Record
	doc     *Document
	entries []Entry
	claims  map[string]*record.Claim
	parts   map[string]*record.Part
	values  map[string]*record.Value
	sources map[string]*record.Source
	placed  map[string]*record.Placement
	set     map[string]bool              // "claim:ID", "part:ID", ... set in full so far
	given   []kindOf                     // assumptions by kind
	cited   []*record.Cite               // all citations
	missing map[record.Position][]string // numbers that a citation's page does not show
}

func newBuilder(r *record.Record) *builder {
	b := &builder{
		r: r, doc: &Document{Anchors: map[string]bool{}}, claims: words.Claims(r), parts: map[string]*record.Part{},
		values: map[string]*record.Value{}, sources: map[string]*record.Source{}, placed: map[string]*record.Placement{},
		set: map[string]bool{}, missing: map[record.Position][]string{},
	}
	for i := range r.Parts {
		b.parts[r.Parts[i].ID] = &r.Parts[i]
	}
	for i := range r.Values {
		b.values[r.Values[i].Name] = &r.Values[i]
	}
	for i := range r.Placements {
		b.placed[r.Placements[i].Ref] = &r.Placements[i]
	}
	for i := range r.Sources {
		s := &r.Sources[i]
		b.sources[s.ID] = s
		for _, c := range s.Citations {
			if len(c.Missing) > 0 && c.Position != nil {
				b.missing[*c.Position] = c.Missing
			}
		}
	}
	return b
}

func plain(s string) Text {
	if s == "" {
		return nil
	}
	return Text{{Text: s}}
}

func styled(st Style, s string) Text {
	if s == "" {
		return nil
	}
	return Text{{Text: s, Style: st}}
}

// join puts texts after one another with a separator between those that are
// not empty.
func join(sep string, texts ...Text) Text {
	var out Text
	for _, t := range texts {
		if len(t) == 0 {
			continue
		}
		if len(out) > 0 {
			out = append(out, Span{Text: sep})
		}
		out = append(out, t...)
	}
	return out
}

// bracketed is a text in brackets behind another, nothing where it is empty.
func bracketed(t Text) Text {
	if len(t) == 0 {
		return nil
	}
	return append(append(plain(" ("), t...), Span{Text: ")"})
}

var newLine = Text{{Text: "\n"}}

// lines puts texts below one another.
func lines(texts ...Text) Text {
	var out Text
	for _, t := range texts {
		if len(out) > 0 && len(t) > 0 {
			out = append(out, newLine...)
		}
		out = append(out, t...)
	}
	return out
}

func verdict(v record.Verdict) Text { return Text{{Text: string(v), Verdict: v}} }

// claimLink is a claim's ID, leading to where the claim stands.
func claimLink(id string) Text {
	if id == "" {
		return nil
	}
	return Text{{Text: id, Style: Code, To: "claim:" + id}}
}

// attendLink leads to the claim among those that need attention, or to where it
// is set where it is not one of them. On paper it names the page.
func (b *builder) attendLink(id, text string) Text {
	to := "claim:" + id
	if b.set["attention:"+id] {
		to = "attention:" + id
	}
	return Text{{Text: text, Style: Code | Turn, To: to}}
}

// claimLinks are IDs in the order given; those of one built-in check are put
// together behind its name.
func (b *builder) claimLinks(ids []string) Text {
	var out Text
	last := "\x00"
	for _, id := range ids {
		check, text := "", id
		if c := b.claims[id]; c != nil && c.Check != "" && strings.HasPrefix(id, c.Check+".") {
			check, text = c.Check, id[len(c.Check)+1:]
		}
		switch {
		case check == last:
			out = append(out, Span{Text: ", "})
		case len(out) > 0:
			out = append(out, Span{Text: "; "})
		}
		if check != last && check != "" {
			out = append(out, Span{Text: check + " "})
		}
		last = check
		out = append(out, Span{Text: text, Style: Code, To: "claim:" + id})
	}
	return out
}

// basis is the name of a fact or value that something rests on.
func (b *builder) basis(name string) Text {
	to := "value:" + name
	if b.values[name] == nil {
		if ref, rest, dotted := strings.Cut(name, "."); dotted && b.placed[ref] != nil {
			to = "fact:" + b.placed[ref].Part + "." + rest
			if _, last, two := strings.Cut(rest, "."); !two {
				to = b.factNamed(b.placed[ref].Part, rest)
			} else if last == "" {
				to = "placed:" + ref
			}
		}
	}
	return Text{{Text: name, To: to}}
}

// factNamed is the anchor of the fact of a part that a short name means.
func (b *builder) factNamed(part, name string) string {
	if p := b.parts[part]; p != nil {
		for i := range p.Facts {
			if p.Facts[i].Name == name {
				return factAnchor(part, &p.Facts[i])
			}
		}
	}
	return "part:" + part
}

func factAnchor(part string, f *record.Fact) string {
	return "fact:" + strings.Join(append([]string{part, f.Section, f.Name}, f.Pins...), ".")
}

// PageAnchor is the row of a page in the list of pages.
func PageAnchor(source, page string) string { return "page:" + source + "\x00" + page }

// pageText is the page as cited; both numbers where printed and counted differ.
func pageText(c *record.Cite) string {
	page := words.Join(" ", words.Prefixed("§", c.Section), c.Page)
	if c.Counted > 0 && c.Printed != "" && c.Printed != strconv.Itoa(c.Counted) {
		page += " (printed " + c.Printed + ", page " + strconv.Itoa(c.Counted) + " of the file)"
	}
	return page
}

// notFound is what a reader must know of a citation that was not found as it
// stands, "" of one that was.
func (b *builder) notFound(c *record.Cite) string {
	if c.Position != nil && len(b.missing[*c.Position]) > 0 {
		return strings.Join(b.missing[*c.Position], ", ") + " not on the page"
	}
	switch c.Checked {
	case "words", "numbers", "":
		return ""
	case "page":
		return "page only"
	case "not found":
		return "not on the page"
	}
	return c.Checked
}

// cites are citations in the line, each page once, a document named once. What
// was not found there is said in words.
func (b *builder) cites(cs []record.Cite) Text {
	var out Text
	seen := map[string]bool{}
	last := ""
	for i := range cs {
		c := &cs[i]
		note := b.notFound(c)
		key := words.Join("\x00", c.Source, c.Section, c.Page, note)
		if seen[key] {
			continue
		}
		seen[key] = true
		text := pageText(c)
		if c.Source != last || text == "" {
			if len(out) > 0 {
				out = append(out, Span{Text: "; "})
			}
			text = words.Join(" ", c.Source, text)
		} else {
			out = append(out, Span{Text: ", "})
		}
		last = c.Source
		out = append(out, Span{Text: text, To: PageAnchor(c.Source, c.Page)})
		if note != "" {
			out = append(out, Span{Text: " (" + note + ")", Style: Notice})
		}
	}
	return out
}

// citesFew are the first of many pages, with the number of the others.
func (b *builder) citesFew(cs []record.Cite, most int) Text {
	seen, n := map[string]bool{}, 0
	for i := range cs {
		if key := cs[i].Source + "\x00" + cs[i].Page; !seen[key] {
			seen[key] = true
			if len(seen) <= most {
				n = i + 1
			}
		}
	}
	if len(seen) <= most+1 {
		return b.cites(cs)
	}
	return append(b.cites(cs[:n]), Span{Text: fmt.Sprintf(" and %d more", len(seen)-most), Style: Quiet})
}

// where is a place in the notes: file and line.
func where(at *record.Position) Text {
	if at == nil || at.File == "" {
		return nil
	}
	return Text{{Text: words.Place(at), Style: Quiet, File: at.File}}
}

func para(t Text) Block      { return Block{Kind: Paragraph, Text: t} }
func smallPara(t Text) Block { return Block{Kind: Paragraph, Text: t, Small: true} }

func labelled(label string, t Text) Block { return Block{Kind: Labelled, Label: label, Text: t} }

// blocks collects blocks; of lines those that say something.
type blocks []Block

func (l *blocks) line(label string, t Text) {
	if len(t) > 0 {
		*l = append(*l, labelled(label, t))
	}
}

// small is a line for a second look.
func (l *blocks) small(label string, t Text) {
	if len(t) > 0 {
		*l = append(*l, Block{Kind: Labelled, Label: label, Text: t, Small: true})
	}
}

func (l *blocks) add(list ...Block) { *l = append(*l, list...) }

// tableOf is a table without the columns in which no row has anything.
func tableOf(t Table) []Block {
	if len(t.Rows) == 0 {
		return nil
	}
	used := make([]bool, len(t.Columns))
	for i, c := range t.Columns {
		used[i] = i == 0 || c.Gauge || t.Ruled && c.Width > 0 || c.Head == "Seen"
	}
	for _, r := range t.Rows {
		for i := range r.Cells {
			used[i] = used[i] || len(r.Cells[i]) > 0
		}
	}
	out := Table{Caption: t.Caption, Ruled: t.Ruled, Named: t.Named, Halves: t.Halves, Rows: make([]Row, 0, len(t.Rows))}
	for i, c := range t.Columns {
		if used[i] {
			out.Columns = append(out.Columns, c)
		}
	}
	for _, r := range t.Rows {
		cells := make([]Text, 0, len(out.Columns))
		for i := range t.Columns {
			if !used[i] {
				continue
			}
			if i < len(r.Cells) {
				cells = append(cells, r.Cells[i])
			} else {
				cells = append(cells, nil)
			}
		}
		if r.Title == nil {
			r.Cells = cells
		}
		out.Rows = append(out.Rows, r)
	}
	return []Block{{Kind: TableBlock, Table: &out}}
}
