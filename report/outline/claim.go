package outline

import (
	"fmt"
	"slices"
	"strings"

	"guardband/eval/record"
	"guardband/report/internal/words"
)

// claim is one claim in full, where it stands in the notes: its sentence and
// verdict, each criterion with the numbers put in and its margin to scale,
// what it rests on, and the cited lines.
func (b *builder) claim(c *record.Claim) Block {
	b.set["claim:"+c.ID] = true
	g := Block{Kind: Group, Anchor: "claim:" + c.ID, Verdict: c.Verdict, Label: c.ID + ": " + string(c.Verdict), Once: true}
	g.Head = b.claimHead(c)
	g.Blocks = append(g.Blocks, para(styled(Strong, c.Statement)))
	about := words.Join(" · ", kindText(c), c.Method, c.Analysis, words.Prefixed("states ", strings.Join(c.States, ", ")),
		words.Prefixed("meets ", strings.Join(c.Meets, ", ")))
	g.Blocks = append(g.Blocks, smallPara(join(" · ", styled(Quiet, about), where(c.Position), b.hazards(c.Safety))))
	for i := range c.Criteria {
		g.Blocks = append(g.Blocks, b.criterion(&c.Criteria[i], len(c.Criteria) > 1, i+1)...)
	}
	g.Blocks = append(g.Blocks, b.claimNotes(c)...)
	if rests := b.rests(c.RestsOn); rests != nil {
		g.Blocks = append(g.Blocks, labelled("rests on", rests))
	}
	if len(c.Cites) > 0 {
		g.Blocks = append(g.Blocks, Block{Kind: Evidence, Cites: c.Cites})
	}
	return g
}

func (b *builder) claimHead(c *record.Claim) Text {
	head := join("  ", verdict(c.Verdict), Text{{Text: c.ID, Style: Code | Strong, To: "claim:" + c.ID}})
	if c.Verdict == record.Skipped { // whose reason is a line of its own
		return head
	}
	return join("  ", head, styled(Quiet, strings.TrimPrefix(c.Headline, string(c.Verdict)+", ")))
}

func kindText(c *record.Claim) string {
	switch {
	case c.Check != "":
		return c.Kind + " check " + c.Check
	case c.Kind == "claim":
		return ""
	}
	return c.Kind
}

// hazards are signs that lead to the safety messages; their text stands once.
func (b *builder) hazards(ids []string) Text {
	var out []Text
	for _, id := range ids {
		for i := range b.r.Safety {
			if c := &b.r.Safety[i]; c.ID == id {
				out = append(out, Text{{Text: "⚠ " + c.Word + " " + c.Hazard, Style: Strong, To: "caution:" + id}})
			}
		}
	}
	return join(", ", out...)
}

// mostCorner is how many inputs of a pass's worst corner are named in the
// line; their ranges are under "rests on".
const mostCorner = 4

func (b *builder) criterion(k *record.Criterion, many bool, n int) []Block {
	out := blocks{{Kind: Formula, Math: MathText(k.Math), Numbers: MathText(k.Numbers), Text: styled(Code, k.Text), Tests: k.Tests}}
	if namesAlone(k) { // the line below says what they come to
		out[0].Numbers = nil
	}
	if k.Statistics != nil { // the worst case is not what it is judged by
		out[0].Tests = nil
	}
	label := ""
	if many {
		label = fmt.Sprintf("%d ", n)
	}
	var state Text
	if k.State != "" {
		state = styled(Quiet, "in state "+k.State)
	}
	said := join(" · ", append([]Text{state}, tested(k)...)...)
	corner, used := b.corner(k), b.contributions(k.Contributions)
	var fold []Block
	if k.Verdict != record.Failed { // a pass says the same on one line
		if len(k.Corner) > mostCorner {
			fold = []Block{{Kind: Fold, Label: words.CornerName(k), Blocks: []Block{smallPara(plain(Plain(corner)))}}}
			corner = styled(Strong, k.CornerText)
		}
		if corner != nil {
			said = join(" · ", said, append(plain(words.CornerName(k)+" "), corner...))
		}
		if used != nil {
			said = join(" · ", said, append(plain("margin used "), used...))
		}
		corner, used = nil, nil
	}
	out.line(label+words.Join(" ", string(k.Verdict), k.Failure), said)
	out.line(words.CornerName(k), corner)
	out.line("margin used", used)
	out.add(fold...)
	out.add(b.openPoints(k.Open)...)
	return out
}

// namesAlone tells a criterion that compares one name with another.
func namesAlone(k *record.Criterion) bool {
	for i := range k.Tests {
		if strings.ContainsAny(k.Tests[i].Left.Text+k.Tests[i].Right.Text, " (*/^") {
			return false
		}
	}
	return len(k.Tests) > 0
}

// tested are the comparisons of a criterion, or what its statistics say.
func tested(k *record.Criterion) []Text {
	if k.Statistics != nil {
		return []Text{plain(k.Statistics.Text)}
	}
	var out []Text
	for i := range k.Tests {
		out = append(out, testLine(&k.Tests[i]))
	}
	return out
}

// reaches is what the test that decides a claim comes to, against its limit.
func reaches(c *record.Claim, x *record.Test) Text {
	for i := range c.Criteria {
		if k := &c.Criteria[i]; k.Statistics != nil && slices.ContainsFunc(k.Tests, func(t record.Test) bool { return t.Text == x.Text }) {
			return plain(k.Statistics.Text)
		}
	}
	value, limit, op := words.Sides(x)
	return plain(shown(value) + " " + sign(op) + "\u00a0" + limit.Shown)
}

// testLine is a comparison with what its sides come to and its margin.
func testLine(t *record.Test) Text {
	value, limit, op := words.Sides(t)
	out := plain(shown(value) + " " + sign(op) + "\u00a0" + shown(limit))
	if m := t.Margin; m != nil {
		out = join("; ", out, append(plain("margin "), styled(Strong, m.Text)...), plain(words.Prefixed("asked ", m.Required)))
	}
	return out
}

func shown(s record.Span) string {
	if s.Shown == "" {
		return s.Text
	}
	return words.Reach(s)
}

func (b *builder) corner(k *record.Criterion) Text {
	var vs []Text
	for _, v := range k.Corner {
		text := " = " + v.Text
		if v.End != "" {
			text += " (" + v.End + ")"
		}
		vs = append(vs, append(b.basis(v.Name), Span{Text: text}))
	}
	return join(": ", join(", ", vs...), styled(Strong, k.CornerText))
}

// contributions says how much of the margin each input uses, and at which
// value of it the verdict changes.
func (b *builder) contributions(cs []record.Contribution) Text {
	var out []Text
	for _, c := range cs {
		out = append(out, append(b.basis(c.Name), Span{Text: words.Join(", ", fmt.Sprintf(" %.0f %%", c.Share*100), c.Text)}))
	}
	return join("; ", out...)
}

// openPoints are reasons why a claim is open, each with what would settle it.
// Those that say the same of several things are one, and a hint that differs
// from the one before in what it quotes alone is left out.
func (b *builder) openPoints(list []record.OpenPoint) []Block {
	var out []Block
	last, same := "", ""
	for i := range list {
		o := &list[i]
		label, hint := words.Join(", ", "open", o.Reason), alikeHint(o.Settle)
		name, rest, named := strings.Cut(o.Text, ": ")
		key := label + rest + hint
		if named && key == same {
			for k := len(out) - 1; k >= 0; k-- {
				if out[k].Label == label {
					before, _, _ := strings.Cut(Plain(out[k].Text), ": ")
					out[k].Text = plain(before + ", " + name + ": " + rest)
					break
				}
			}
			continue
		}
		same = key
		out = append(out, labelled(label, plain(o.Text)))
		if hint != last {
			out = append(out, b.settle(o)...)
			last = hint
		}
	}
	return out
}

func (b *builder) settle(o *record.OpenPoint) []Block {
	if o.Settle == "" {
		return nil
	}
	t := plain(o.Settle)
	if o.Source != "" {
		t = append(t, bracketed(Text{{Text: words.Join(" ", o.Source, o.Page), To: PageAnchor(o.Source, o.Page)}})...)
	}
	return []Block{labelled("to settle", t)}
}

// claimNotes are the lines about the whole claim.
func (b *builder) claimNotes(c *record.Claim) []Block {
	var out blocks
	if in := c.Inspection; in != nil {
		out.line("to inspect", plain(in.Text))
		if in.Result == "" {
			out.line("result", styled(Notice, "not yet inspected"))
		} else {
			out.line("result", plain(words.Join(", ", in.Result, in.Date, in.Person, in.Note)))
		}
	}
	var open []record.OpenPoint
	for _, o := range c.Open {
		switch {
		case c.Verdict == record.Failed && o.Reason == "citation": // "pages" tells what its pages do not show
		case o.Reason == "no result" && c.Inspection != nil: // told above
			out.add(b.settle(&o)...)
		default:
			open = append(open, o)
		}
	}
	out.add(b.openPoints(open)...)
	if c.Waiver != nil {
		out.line("waiver", b.waiver(c))
	}
	if c.Verdict == record.Skipped {
		out.line("reason", plain(c.Reason))
	} else {
		out.small("reason", plain(c.Reason))
	}
	for _, a := range c.Actions {
		out.small("action "+a.ID, action(&a))
	}
	var assumes []Text
	others := map[string]int{}
	for _, i := range c.Assumes {
		if i < 0 || i >= len(b.r.Assumptions) {
			continue
		}
		if a := &b.r.Assumptions[i]; a.Kind == "assumed" {
			assumes = append(assumes, Text{{Text: a.Text, To: "assumption:" + a.Kind}})
		} else {
			others[a.Kind]++
		}
	}
	for _, k := range b.kinds() { // those that say the same of many quantities are listed once
		if n := others[k.kind]; n > 0 {
			assumes = append(assumes, Text{{Text: fmt.Sprintf("%d %s", n, k.kind), Style: Quiet, To: "assumption:" + k.kind}})
		}
	}
	out.small("assumes", join("; ", assumes...))
	return out
}

func (b *builder) waiver(c *record.Claim) Text {
	w := c.Waiver
	text := words.Join(" ", string(c.Under), "accepted until", w.Until, words.Prefixed("by ", w.Person))
	text = words.Join(": ", words.Join(", ", text, words.Prefixed("up to a miss of ", w.Accepts)), w.Reason)
	out := plain(text)
	if !w.InForce {
		out = append(out, Span{Text: ". Not in force" + words.Prefixed(": ", w.Why), Style: Strong | Notice})
	}
	return out
}

func action(a *record.Action) Text {
	out := join(" ", plain(a.Text), styled(Quiet, words.Join(", ", a.Owner, words.Prefixed("due ", a.Due))))
	if a.Closed != "" {
		return append(out, Span{Text: ". Closed: " + a.Closed})
	}
	return append(out, Span{Text: ". Open", Style: Notice})
}

// rests is every fact under a claim, with its page, and every value that is
// not derived from others.
func (b *builder) rests(list []record.Basis) Text {
	var out []Text
	for i := range list {
		x := &list[i]
		shown, assumed := x.Shown, x.Assumed
		if v := b.values[x.Name]; v != nil {
			if v.Derived && len(x.Cites) == 0 && x.Assumed == "" {
				continue
			}
			shown, assumed = v.Text, ""
		}
		t := append(b.basis(x.Name), Span{Text: " = " + shown})
		t = join(" ", t, styled(Quiet, words.Prefixed("at ", x.At)), styled(Notice, words.Prefixed("assumed: ", assumed)))
		out = append(out, append(t, bracketed(b.cites(x.Cites))...))
	}
	return join("; ", out...)
}
