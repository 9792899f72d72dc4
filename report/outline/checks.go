package outline

import (
	"cmp"
	"fmt"
	"sort"
	"strings"

	"guardband/eval/record"
	"guardband/report/draw"
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
		{Head: "Claim", Width: 76}, {Head: "Reaches; limit"}, {Head: "Least margin; asked", Width: 88}, {Head: "Page", Width: 100},
	}}
	for _, n := range names {
		t.Rows = append(t.Rows, Row{Anchor: "check:" + n, Shade: true, Title: b.checkTitle(n, groups[n])})
		for _, c := range groups[n] {
			b.set["claim:"+c.ID] = true
			row := b.checkRow(c)
			row.Terse = c.Headline == string(record.Passed) && words.Thinnest(c) == nil && template(c) == template(groups[n][0])
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
	r.Cells = []Text{head, plain(c.Statement), nil, b.citesFew(c.Cites, 4)}
	switch {
	case c.Verdict == record.Skipped:
		r.Cells[1] = plain(c.Headline)
	case t == nil:
		r.Cells[2] = plain(strings.TrimPrefix(strings.TrimPrefix(c.Headline, string(c.Verdict)), ", "))
	default:
		value, limit, op := words.Sides(t)
		r.Cells[1] = join(" ", styled(Code, value.Text), plain(shown(value)), plain(draw.Sign(op)+"\u00a0"+limit.Shown))
		if words.AsAsked(c, t) {
			r.Cells[2] = plain("as asked")
		} else if t.Margin != nil {
			r.Cells[2] = plain(words.Join("; asked ", t.Margin.Text, t.Margin.Required))
		}
	}
	r.Fold = b.checkFold(c)
	return r
}

// template is a claim's statement without what its ID names and what stands in
// brackets: equal templates say the same of different things.
func template(c *record.Claim) string {
	s := c.Statement
	for {
		i := strings.IndexByte(s, '(')
		k := strings.IndexByte(s[i+1:], ')')
		if i < 0 || k < 0 {
			break
		}
		s = s[:i] + s[i+k+2:]
	}
	for _, name := range strings.Split(c.ID, ".") {
		s = strings.ReplaceAll(s, name, "·")
	}
	return s
}

// checkFold is what a row leaves out, as plain text: a page with a thousand
// claims must stay light.
func (b *builder) checkFold(c *record.Claim) []Block {
	out := []Block{smallPara(join("  ", styled(Code, c.ID), plain(c.Statement), where(c.Position), b.hazards(c.Safety)))}
	for i := range c.Criteria {
		k := &c.Criteria[i]
		var tests []Text
		for j := range k.Tests {
			tests = append(tests, testLine(&k.Tests[j]))
		}
		t := join(" · ", append([]Text{styled(Code, k.Text), plain(prefixed("state ", k.State))}, tests...)...)
		t = join(" · ", t, b.corner(k), plain(contributionText(k.Contributions)))
		out = append(out, smallPara(plain(text(t))))
	}
	if c.Headline != "" && c.Verdict == record.Passed {
		out = append(out, smallPara(plain(words.Join(" · ", strings.TrimPrefix(c.Headline, "passed, "), c.Reason,
			words.Join(", ", c.Method, c.Analysis)))))
	}
	if t := b.rests(c.RestsOn); t != nil {
		out = append(out, smallPara(plain("Rests on "+text(t))))
	}
	var quotes []Text
	for i := range c.Cites {
		x := &c.Cites[i]
		quotes = append(quotes, plain(words.Join(" ", x.Source, pageText(x), quoted(x.Quote))+": "+x.Text))
	}
	if len(quotes) > 0 {
		out = append(out, smallPara(join("; ", quotes...)))
	}
	return out
}

func contributionText(cs []record.Contribution) string {
	out := ""
	for _, c := range cs {
		out = words.Join("; ", out, words.Join(", ", fmt.Sprintf("%s %.0f %%", c.Name, c.Share*100), c.Text))
	}
	return prefixed("margin used: ", out)
}

func quoted(s string) string {
	if s == "" {
		return ""
	}
	return "“" + s + "”"
}
