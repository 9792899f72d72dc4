package outline

import (
	"cmp"
	"fmt"
	"slices"
	"sort"
	"strings"

	"guardband/eval/record"
	"guardband/report/internal/words"
)

// requirements sets requirements against claims, those without a claim first.
func (b *builder) requirements() []Block {
	t := Table{Caption: "Requirements and the claims that answer them", Columns: []Column{
		{Head: "Requirement", Most: 110}, {Head: "Text"}, {Head: "Document", Most: 90}, {Head: "Claims"},
	}}
	for _, answered := range []bool{false, true} {
		for i := range b.r.Requirements {
			q := &b.r.Requirements[i]
			if len(q.Claims) > 0 != answered {
				continue
			}
			var claims []Text
			for _, id := range q.Claims {
				link := claimLink(id)
				if c := b.claims[id]; c != nil {
					link = join(" ", verdict(c.Verdict), link)
				}
				claims = append(claims, link)
			}
			answer := join(", ", claims...)
			if !answered {
				answer = styled(Strong|Notice, "no claim answers it")
			}
			t.Rows = append(t.Rows, Row{Cells: []Text{styled(Code, q.ID), plain(q.Text),
				{{Text: q.Source, Style: Code, To: "source:" + q.Source}}, answer}})
		}
	}
	return tableOf(t)
}

// bringUp is the table to fill in at the bench, after what was read so far: the
// quantities of the design that a claim of the notes compares with a limit.
// The hazards are named before it; their text stands on page one.
func (b *builder) bringUp() []Block {
	var all []string
	for i := range b.r.Readings {
		all = append(all, b.r.Readings[i].Name)
	}
	read := b.readings(all)
	t := Table{Ruled: true, Caption: "To measure: the predicted window is what the facts allow; widen it by the accuracy of the instrument", Columns: []Column{
		{Head: "Quantity", Most: 150}, {Head: "Predicted window", Most: 110}, {Head: "Must hold", Most: 100}, {Head: "Claim", Most: 120},
		{Head: "Reading", Width: 62}, {Head: "Instrument", Width: 60}, {Head: "In window", Width: 40},
	}}
	at := map[string]int{}
	for i := range b.r.Claims {
		c := &b.r.Claims[i]
		if c.Kind != "claim" {
			continue
		}
		for j := range c.Criteria {
			for k := range c.Criteria[j].Tests {
				x := &c.Criteria[j].Tests[k]
				value, limit, op := words.Sides(x)
				if strings.ContainsAny(value.Text, " (*/^") || !measurable(value.Unit) {
					continue
				}
				must := plain(sign(op) + "\u00a0" + limit.Shown)
				key := value.Text + "\x00" + value.Shown
				if n, ok := at[key]; ok {
					if strings.Contains(Plain(t.Rows[n].Cells[2]), must[0].Text) {
						continue
					}
					t.Rows[n].Cells[2] = join(", ", t.Rows[n].Cells[2], must)
					if last := t.Rows[n].Cells[3]; last[len(last)-1].Text != c.ID {
						t.Rows[n].Cells[3] = join(", ", last, claimLink(c.ID))
					}
					continue
				}
				at[key] = len(t.Rows)
				t.Rows = append(t.Rows, Row{Cells: []Text{styled(Code, value.Text), plain(value.Shown), must,
					claimLink(c.ID), nil, nil, plain("☐")}})
			}
		}
	}
	rows := append(read, tableOf(t)...)
	if len(rows) == 0 {
		return nil
	}
	var out []Block
	for i := range b.r.Safety {
		c := &b.r.Safety[i]
		out = append(out, para(Text{{Text: "⚠ " + c.Word + " " + c.Hazard, Style: Strong, To: "caution:" + c.ID},
			{Text: ": read it under Cautions before power is applied."}}))
	}
	return append(out, rows...)
}

// measurable are the units of what a person can measure on a built board with
// a meter, an oscilloscope or a thermometer.
func measurable(unit string) bool {
	switch unit {
	case "V", "A", "K", "W", "Ω", "s", "Hz", "F", "J", "m":
		return true
	}
	return false
}

type kindOf struct {
	kind string
	list []*record.Assumption
}

// kinds are the assumptions by kind, the largest group first.
func (b *builder) kinds() []kindOf {
	if b.given != nil {
		return b.given
	}
	at := map[string]int{}
	var out []kindOf
	for i := range b.r.Assumptions {
		a := &b.r.Assumptions[i]
		n, ok := at[a.Kind]
		if !ok {
			n = len(out)
			at[a.Kind] = n
			out = append(out, kindOf{kind: a.Kind})
		}
		out[n].list = append(out[n].list, a)
	}
	sort.SliceStable(out, func(i, j int) bool { return len(out[i].list) > len(out[j].list) })
	b.given = out
	return out
}

// kindTexts says what assumptions of a kind have in common, and names several.
var kindTexts = map[string]struct{ many, text string }{
	"at least zero":   {text: "declared non-negative"},
	"uncited value":   {"uncited values", "have no source"},
	"condition":       {"conditions", "stated at one condition and taken to hold over the range"},
	"assumed":         {text: "assumed, with the reason"},
	"bare figure":     {"bare figures", "have no tolerance and are used as exact"},
	"standard figure": {"standard figures", "figures of a standard or common practice"},
	"maximum rating":  {"maximum ratings", "passes that rest on a maximum rating"},
}

// assumptions are folded by kind: those that say the same of many quantities
// name the quantities alone.
func (b *builder) assumptions() []Block {
	t := Table{Caption: "Taken as given, by kind", Named: true, Columns: []Column{
		{Head: "What"}, {Head: "Claims that rest on it", Width: 150}, {Head: "Place", Width: 104},
	}}
	for _, k := range b.kinds() {
		title := words.Plural(len(k.list), "quantity", "quantities") + " " + kindTexts[k.kind].text
		if kindTexts[k.kind].text == "" {
			title = fmt.Sprint(len(k.list))
		}
		t.Rows = append(t.Rows, Row{Anchor: "assumption:" + k.kind, Shade: true, Title: append(styled(Strong, k.kind), Span{Text: "  " + title})})
		if k.kind != "assumed" {
			t.Rows = append(t.Rows, Row{Title: runOn(k.list)})
			continue
		}
		for _, a := range k.list {
			t.Rows = append(t.Rows, Row{Cells: []Text{plain(a.Text), b.claimsFew(a.Claims), where(a.Position)}})
		}
	}
	return tableOf(t)
}

// runOn names what assumptions of one kind are about, without what their kind
// says already.
func runOn(list []*record.Assumption) Text {
	out := make([]string, len(list))
	for i, a := range list {
		name, _, _ := strings.Cut(a.Text, " is declared non-negative")
		out[i] = strings.TrimSuffix(name, " has no source")
	}
	return plain(strings.Join(out, "; "))
}

// claimsFew names the first claims of a long list and counts the others.
func (b *builder) claimsFew(ids []string) Text {
	const most = 4
	if len(ids) <= most+1 {
		return b.claimLinks(ids)
	}
	return append(b.claimLinks(ids[:most]), Span{Text: fmt.Sprintf(" and %d more", len(ids)-most)})
}

func (b *builder) review() []Block {
	var out []Block
	for _, p := range b.r.Review.Participants {
		out = append(out, labelled(p.Value, plain(words.Join(", ", p.Name, p.Means))))
	}
	t := Table{Caption: "Actions", Columns: []Column{
		{Head: "Action", Most: 60}, {Head: "Text"}, {Head: "Claim", Most: 130}, {Head: "Owner", Most: 80}, {Head: "Due", Most: 60}, {Head: "Closed"},
	}}
	for _, a := range b.r.Review.Actions {
		closed := plain(a.Closed)
		if a.Closed == "" {
			closed = styled(Notice, "open")
		}
		claim := claimLink(a.Claim)
		if c := b.claims[a.Claim]; c != nil {
			claim = join(" ", claim, verdict(c.Verdict))
		}
		t.Rows = append(t.Rows, Row{Cells: []Text{styled(Code, a.ID), plain(a.Text), claim, plain(a.Owner), plain(a.Due), closed}})
	}
	return append(out, tableOf(t)...)
}

// cited is a page of a document with what was read there and what rests on it.
type cited struct {
	source, page string
	counted      int
	quotes       []string
	notes        Text
	claims       []string
	seen         map[string]bool
}

// pages goes from each cited page to the claims that rest on it.
func (b *builder) pages() []Block {
	var list []*cited
	at := map[string]*cited{}
	see := func(c *record.Cite, claim string) {
		key := PageAnchor(c.Source, c.Page)
		e := at[key]
		if e == nil {
			e = &cited{source: c.Source, page: c.Page, counted: c.Counted, seen: map[string]bool{}}
			at[key] = e
			list = append(list, e)
		}
		if c.Quote != "" && !e.seen["q"+c.Quote] {
			e.seen["q"+c.Quote] = true
			e.quotes = append(e.quotes, "“"+c.Quote+"”")
		}
		if note := b.notFound(c); note != "" && !e.seen["n"+note] {
			e.seen["n"+note] = true
			if text := c.Text; c.Checked != "page" && text != "" && !strings.Contains(note, " not on the page") {
				note = text
			}
			e.notes = join("; ", e.notes, styled(Notice, note))
		}
		if claim != "" && !e.seen["c"+claim] {
			e.seen["c"+claim] = true
			e.claims = append(e.claims, claim)
		}
	}
	b.eachCite(see)
	slices.SortStableFunc(list, func(x, y *cited) int {
		return cmp.Or(strings.Compare(x.source, y.source), cmp.Compare(x.counted, y.counted), strings.Compare(x.page, y.page))
	})
	t := Table{Caption: "Cited pages and the claims that rest on them", Named: true, Columns: []Column{
		{Head: "Page", Width: 44}, {Head: "Cited words, found unless said otherwise"}, {Head: "Claims that rest on it",
			Width: 216}, {Head: "Seen", Width: 24},
	}}
	last := "\x00"
	for _, e := range list {
		if e.source != last {
			last = e.source
			title := Text{{Text: e.source, Style: Code | Strong, To: "source:" + e.source}}
			if s := b.sources[e.source]; s != nil {
				title = join("  ", title, styled(Strong, s.Title), plain(words.Join(", ", words.Prefixed("revision ", s.Revision), s.Date)))
			}
			t.Rows = append(t.Rows, Row{Title: title, Shade: true})
		}
		page := e.page
		if e.counted > 0 && strings.TrimPrefix(strings.TrimPrefix(page, "p."), "pdf.") != fmt.Sprint(e.counted) {
			page += fmt.Sprintf(" (page %d of the file)", e.counted)
		}
		t.Rows = append(t.Rows, Row{Anchor: PageAnchor(e.source, e.page), Cells: []Text{
			plain(cmp.Or(page, "—")), join(" ", plain(strings.Join(e.quotes, ", ")), e.notes), b.claimGroups(e.claims),
		}})
	}
	return tableOf(t)
}

// claimGroups are IDs, those of a check counted where they are many.
func (b *builder) claimGroups(ids []string) Text {
	const most = 2
	n := map[string]int{}
	for _, id := range ids {
		if c := b.claims[id]; c != nil && c.Check != "" {
			n[c.Check]++
		}
	}
	var few []string
	var many []Text
	for _, id := range ids {
		switch c := b.claims[id]; {
		case c == nil || n[c.Check] <= most:
			few = append(few, id)
		case n[c.Check] > most && n[c.Check] < 1<<30:
			many = append(many, Text{{Text: fmt.Sprintf("%s (%d)", c.Check, n[c.Check]), To: "check:" + c.Check}})
			n[c.Check] = 1 << 30
		}
	}
	return join("; ", append([]Text{b.claimLinks(few)}, many...)...)
}

// eachCite calls see for every citation of the record, first those that a claim
// rests on, with the claim.
func (b *builder) eachCite(see func(c *record.Cite, claim string)) {
	for i := range b.r.Claims {
		c := &b.r.Claims[i]
		for k := range c.Cites {
			see(&c.Cites[k], c.ID)
		}
		for k := range c.RestsOn {
			for n := range c.RestsOn[k].Cites {
				see(&c.RestsOn[k].Cites[n], c.ID)
			}
		}
	}
	if b.cited == nil { // the walk is the long part of it
		b.r.Each(func(x any) {
			if c, ok := x.(*record.Cite); ok {
				b.cited = append(b.cited, c)
			}
		})
	}
	for _, c := range b.cited {
		see(c, "")
	}
}

// register is every document and notebook with its hash.
func (b *builder) register() []Block {
	t := Table{Caption: "Documents", Named: true, Columns: []Column{
		{Head: "Document", Width: 42}, {Head: "Title, issuer, revision; file and SHA-256"}, {Head: "Pages; citations by check; state", Width: 146},
	}}
	for i := range b.r.Sources {
		s := &b.r.Sources[i]
		state := plain(s.State)
		if s.Changed || !s.OnFile {
			state = styled(Notice, s.State)
		}
		title := join(" · ", plain(s.Title),
			styled(Quiet, words.Join(", ", s.Issuer, words.Prefixed("revision ", s.Revision), s.Date,
				words.Prefixed("corrects ", s.Corrects), s.Age)))
		var file Text
		if s.File != "" {
			file = Text{{Text: s.File, Style: Quiet, File: s.File}}
		}
		title = lines(title, join("  ", file, styled(Code|Quiet, s.SHA256)))
		if s.Recorded != "" && s.Recorded != s.SHA256 {
			title = lines(title, join(" ", styled(Notice, "recorded in the notes:"), styled(Code|Notice, s.Recorded)))
		}
		pages := ""
		if s.Pages > 0 {
			pages = words.Plural(s.Pages, "page", "pages")
		}
		state = join("; ", plain(pages), plain(grades(s)), state)
		t.Rows = append(t.Rows, Row{Anchor: "source:" + s.ID, Cells: []Text{{{Text: s.ID, Style: Code}}, title, state}})
	}
	out := tableOf(t)
	n := Table{Caption: "Notebooks", Columns: []Column{{Head: "File"}, {Head: "SHA-256"}}}
	for _, f := range b.r.Design.Notebooks {
		n.Rows = append(n.Rows, Row{Cells: []Text{{{Text: f.Path, File: f.Path}}, styled(Code|Quiet, f.SHA256)}})
	}
	return append(out, tableOf(n)...)
}

// grades is how many citations the document carries, by how far each was
// checked.
func grades(s *record.Source) string {
	var keys []string
	for g := range s.Checked {
		keys = append(keys, g)
	}
	sort.Strings(keys)
	out := ""
	for _, g := range keys {
		out = words.Join(", ", out, fmt.Sprintf("%s %d", g, s.Checked[g]))
	}
	return words.Join(": ", fmt.Sprint(s.Cited)+" cited", out)
}

// signOff leaves room for names, dates and signatures.
func (b *builder) signOff() []Block {
	t := Table{Ruled: true, Caption: "Sign-off", Named: true, Columns: []Column{
		{Head: "Role", Most: 110}, {Head: "Name", Most: 150}, {Head: "Accepted, accepted with actions, or rejected", Width: 110},
		{Head: "Date", Width: 76}, {Head: "Signature", Width: 90},
	}}
	people := slices.Clone(b.r.Review.Participants)
	if len(people) == 0 {
		people = []record.Field{{Name: b.r.Design.Author, Value: "author"}, {Value: "reviewer"}}
	}
	for _, p := range append(people, record.Field{Value: "decides"}) {
		t.Rows = append(t.Rows, Row{Cells: []Text{plain(p.Value), plain(p.Name)}})
	}
	return tableOf(t)
}

// limits says what the record is not. Nothing leaves it out.
func (b *builder) limits() []Block {
	var out []Block
	for _, s := range []string{
		"This record is computed from the entries of its author and the documents they name. It is not a certificate, not a test report and not an approval by any authority. " +
			"What is not noted was not considered.",
		"Passed means that the criterion as written holds for every value that the noted facts allow, the margin asked included, under what is taken as given. " +
			"It says nothing of the board in hand.",
		"A checked citation shows that words or numbers are on a page. Whether they are the right ones, a person judges.",
		"Where mains, batteries, stored energy, heat or motion can hurt someone, the applicable standard, the local code and the judgement of a licensed or " +
			"qualified person come before this record. Passing claims are not an approval to energise.",
	} {
		out = append(out, para(plain(s)))
	}
	return out
}
