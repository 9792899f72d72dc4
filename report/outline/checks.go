package outline

import (
	"cmp"
	"regexp"
	"slices"
	"sort"
	"strings"

	"guardband/eval/record"
	"guardband/report/internal/words"
)

// checks are the claims that no block of the notes holds: built-in claims
// once, a row each, grouped by check; whatever else was not set, in full.
func (b *builder) checks() []Block {
	groups := map[string][]*record.Claim{}
	var names []string
	var full []Block
	for i := range b.r.Claims {
		c := &b.r.Claims[i]
		if b.set["claim:"+c.ID] {
			continue
		}
		if c.Kind == "claim" {
			full = append(full, b.claim(c))
			continue
		}
		check := c.Check
		if check == "" {
			check = c.Kind
		}
		if groups[check] == nil {
			names = append(names, check)
		}
		groups[check] = append(groups[check], c)
	}
	sort.Strings(names)
	t := Table{Caption: "Claims that follow from the facts and what is placed, by check", Columns: []Column{
		{Head: "Claim", Width: 112}, {Head: "Reaches; limit"}, {Head: "Least margin; asked", Width: 88}, {Head: "Page", Width: 106},
	}}
	cites := map[int][]record.Cite{}
	for _, n := range names {
		t.Rows = append(t.Rows, Row{Anchor: "check:" + n, Shade: true, Title: b.checkTitle(n, groups[n]), Fold: ruleFold(groups[n][0])})
		at := map[string]int{} // passes that say the same of different things are one row
		for _, c := range groups[n] {
			b.set["claim:"+c.ID] = true
			row := b.checkRow(c)
			key := template(c, Plain(row.Cells[1])+"\x00"+Plain(row.Cells[2]))
			if k, ok := at[key]; ok && c.Verdict == record.Passed {
				t.Rows[k].add(&row)
				cites[k] = append(cites[k], c.Cites...)
				t.Rows[k].Cells[3] = b.citesFew(cites[k], 1)
				continue
			}
			if c.Verdict == record.Passed {
				at[key] = len(t.Rows)
				cites[len(t.Rows)] = slices.Clone(c.Cites)
			}
			t.Rows = append(t.Rows, row)
		}
	}
	return append(full, tableOf(t)...)
}

// checkTitle is the check with its rule and how its claims came out.
func (b *builder) checkTitle(name string, claims []*record.Claim) Text {
	var s record.Summary
	for _, c := range claims {
		s.Add(c.Verdict)
	}
	return join("  ", styled(Strong, cmp.Or(name, "—")), plain(words.Counts(s)+"."), ruleText(claims[0]))
}

// ruleFold is the whole rule of a check where its title has the first sentence.
func ruleFold(c *record.Claim) []Block {
	if firstSentence(c.Rule) == c.Rule {
		return nil
	}
	return []Block{smallPara(plain(c.Rule))}
}

func firstSentence(s string) string {
	if i := strings.Index(s, ". "); i >= 0 {
		return s[:i+1]
	}
	return s
}

// add makes the row one of several claims.
func (r *Row) add(x *Row) {
	if r.Anchor != "" { // each claim has its place in what is folded
		r.Fold[0].Anchor, r.Anchor = r.Anchor, ""
		if len(r.Cells[2]) == 0 {
			r.Cells[1] = append(r.Cells[1], Span{Text: " Likewise the others."})
		}
	}
	x.Fold[0].Anchor = x.Anchor
	r.Cells[0] = join(", ", r.Cells[0], x.Cells[0])
	r.Fold = append(r.Fold, x.Fold...)
}

func (b *builder) checkRow(c *record.Claim) Row {
	r := Row{Anchor: "claim:" + c.ID, Verdict: c.Verdict}
	name := c.ID
	if len(c.Check) > 0 && len(c.ID) > len(c.Check)+1 && c.ID[:len(c.Check)+1] == c.Check+"." {
		name = c.ID[len(c.Check)+1:]
	}
	head := Text{{Text: name, Style: Code | Strong}}
	if c.Verdict != record.Passed {
		head = Text{{Text: name, Style: Code | Strong, To: "attention:" + c.ID}}
		head = join(" ", verdict(c.Verdict), head)
	}
	t := words.Thinnest(c)
	r.Cells = []Text{head, plain(c.Statement), nil, b.citesFew(c.Cites, 1)}
	switch {
	case c.Verdict == record.Skipped:
		r.Cells[1] = plain(c.Headline)
	case t == nil:
		r.Cells[2] = plain(strings.TrimPrefix(strings.TrimPrefix(c.Headline, string(c.Verdict)), ", "))
	default:
		value, _, _ := words.Sides(t)
		r.Cells[1] = join(" ", styled(Code, cutText(value.Text)), reaches(c, t))
		if words.AsAsked(c, t) {
			r.Cells[2] = plain("as asked")
		} else if t.Margin != nil {
			r.Cells[2] = plain(words.Join("; asked ", t.Margin.Text, t.Margin.Required))
		}
	}
	r.Fold = b.checkFold(c)
	return r
}

var wholeName = regexp.MustCompile(`[\pL\pN_]+( \([^)]*\))?`)

// template is a text about a claim without what its ID names and the brackets
// behind it: equal templates say the same of different things.
func template(c *record.Claim, s string) string {
	names := strings.Split(c.ID, ".")
	return wholeName.ReplaceAllStringFunc(s, func(w string) string {
		if name, _, _ := strings.Cut(w, " ("); slices.Contains(names, name) {
			return "·"
		}
		return w
	})
}

// checkFold is what a row leaves out, as plain text: a page with a thousand
// claims must stay light.
func (b *builder) checkFold(c *record.Claim) []Block {
	g := b.attend(c, true)
	var lines []Text
	for i := 1; i < len(g.Blocks); i++ {
		if x := &g.Blocks[i]; x.Label != "pages" {
			lines = append(lines, plain(x.Line()))
		}
	}
	out := []Block{smallPara(join("  ", styled(Code, c.ID), plain(c.Statement), styled(Quiet, words.Place(c.Position)), b.hazards(c.Safety))),
		smallPara(join(" · ", append(lines, plain(words.Join(", ", c.Method, c.Analysis)))...))}
	if t := b.rests(c.RestsOn); t != nil {
		out = append(out, smallPara(plain("Rests on "+Plain(t))))
	}
	var quotes []Text
	for i := range c.Cites {
		x := &c.Cites[i]
		quote := ""
		if x.Quote != "" {
			quote = "“" + x.Quote + "”"
		}
		quotes = append(quotes, plain(words.Join(" ", x.Source, pageText(x), quote)+": "+x.Text))
	}
	if len(quotes) > 0 {
		out = append(out, smallPara(join("; ", quotes...)))
	}
	return out
}

// cutText cuts an expression that says more than the row has room for; it is
// whole in what is folded.
func cutText(s string) string {
	const most = 48
	if r := []rune(s); len(r) > most {
		return string(r[:most]) + "…"
	}
	return s
}
