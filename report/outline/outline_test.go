package outline

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/eval/record"
	"guardband/report/internal/fixture"
	"guardband/report/internal/words"
)

// said is all text of the blocks, folds included.
func said(blocks []Block) string {
	var out strings.Builder
	add := func(t Text) { out.WriteString(Plain(t) + "\n") }
	for i := range blocks {
		x := &blocks[i]
		out.WriteString(x.Label + " ")
		add(x.Head)
		add(x.Text)
		if x.Table != nil {
			out.WriteString(x.Table.Caption + "\n")
			for _, r := range x.Table.Rows {
				add(r.Title)
				for _, c := range r.Cells {
					add(c)
				}
				out.WriteString(said(r.Fold))
			}
		}
		out.WriteString(said(x.Blocks))
	}
	return out.String()
}

// shared is a record of claims that fail by two facts.
func shared() *record.Record {
	cite := func(line int) []record.Cite {
		return []record.Cite{{Source: "reg", Page: "p.4", Checked: "words", Position: &record.Position{File: "a.md", Line: line}}}
	}
	claim := func(id string, bases []record.Basis, shares ...record.Contribution) record.Claim {
		m := &record.Margin{Absolute: fixture.N(-0.1), Percent: fixture.N(-3), Base: "limit", Required: "50 mV",
			Lacking: "150 mV", Text: "-0.1 V, -3 % of limit"}
		test := record.Test{Op: ">=", LimitRight: true, Verdict: record.Failed, Margin: m, Left: record.Span{Shown: "2.9 V"},
			Right: record.Span{Shown: "3 V"}}
		return record.Claim{ID: id, Kind: "claim", Verdict: record.Failed, Headline: "failed", RestsOn: bases,
			Criteria: []record.Criterion{{Verdict: record.Failed, Failure: "broken", Tests: []record.Test{test}, Contributions: shares}}}
	}
	drop := record.Basis{Name: "U2.V_DO", Shown: "max 410 mV", Cites: cite(1)}
	cell := record.Basis{Name: "V_CELL", Shown: "3.4 V", Assumed: "cutoff"}
	low := func(ref string) record.Basis {
		return record.Basis{Name: ref + ".operating.V_DD", Shown: "min 3.05 V", Cites: cite(2)}
	}
	r := &record.Record{
		Claims: []record.Claim{
			claim("A1", []record.Basis{cell, drop}, record.Contribution{Name: "V_CELL", Share: 0.6},
				record.Contribution{Name: "U2.V_DO", Share: 0.3, Text: "turns at 240 mV"}),
			claim("A2", []record.Basis{drop}, record.Contribution{Name: "U2.V_DO", Share: 0.7, Text: "turns at 230 mV"}),
			claim("range.U5", []record.Basis{low("U5")}, record.Contribution{Name: "U5.V_DD", Share: 1}),
			claim("range.U6", []record.Basis{low("U6")}, record.Contribution{Name: "U6.V_DD", Share: 1}),
			claim("alone", nil),
		},
		Sources: []record.Source{{ID: "reg",
			Citations: []record.Citation{{Page: "p.4", Missing: []string{"410 mV"},
				Position: &record.Position{File: "a.md", Line: 1}}}}},
	}
	r.Summary.Failed = len(r.Claims)
	return r
}

// Failures are told by the fact they share, a fact that its page does not show
// first, one fact of several parts as one.
func TestCauses(t *testing.T) {
	b := newBuilder(shared())
	var failed []*record.Claim
	for i := range b.r.Claims {
		failed = append(failed, &b.r.Claims[i])
	}
	var got [][]string
	for _, k := range b.group(failed) {
		var ids []string
		for _, c := range k.claims {
			ids = append(ids, c.ID)
		}
		got = append(got, ids)
	}
	require.Equal(t, [][]string{{"A1", "A2"}, {"range.U5", "range.U6"}, {"alone"}}, got)

	page := said(b.front())
	require.Contains(t, page, "Do not release: of 5 claims 5 failed, 0 passed.")
	require.Contains(t, page, "U2.V_DO = max 410 mV  reg p.4 (410 mV not on the page)")
	require.Contains(t, page, "U5.operating.V_DD, U6.operating.V_DD = min 3.05 V  reg p.4, found there")
	require.Contains(t, page, "150 mV; asked 50 mV")
	require.Contains(t, page, "U2.V_DO 240 mV")
	require.Contains(t, page, "each for a reason of its own")
}

// A page that shows its numbers is not told as one that lacks them.
func TestCauseIsTheLargestShareWherePagesHold(t *testing.T) {
	r := shared()
	r.Sources, r.Claims = nil, r.Claims[:1]
	b := newBuilder(r)
	k := b.best([]*record.Claim{&r.Claims[0]})
	require.Equal(t, "V_CELL", k.bases[0].Name)
}

// A claim met by identity has no margin to tell; a margin of zero at one limit
// alone has.
func TestAsAsked(t *testing.T) {
	test := func(op, limit string) record.Test {
		return record.Test{Op: op, LimitRight: true, Left: record.Span{Text: "R5", Shown: "5.049 kΩ to 5.151 kΩ"}, Right: record.Span{Shown: limit},
			Margin: &record.Margin{Absolute: fixture.N(0), Text: "0 kΩ"}}
	}
	low, high := test(">=", "5.049 kΩ"), test("<=", "5.151 kΩ")
	both := &record.Claim{Verdict: record.Passed, Criteria: []record.Criterion{{Tests: []record.Test{low}}, {Tests: []record.Test{high}}}}
	require.True(t, words.AsAsked(both, &both.Criteria[0].Tests[0]))
	one := &record.Claim{Verdict: record.Passed, Criteria: []record.Criterion{{Tests: []record.Test{low}}}}
	require.False(t, words.AsAsked(one, &one.Criteria[0].Tests[0]))
	both.Verdict = record.Failed
	require.False(t, words.AsAsked(both, &both.Criteria[0].Tests[0]))
}

// Every claim that did not pass is named on page one and stands in full in the
// next chapter, whatever their number; a built-in claim is set once.
func TestAttentionIsNeverCut(t *testing.T) {
	for name, r := range map[string]*record.Record{"failures": fixture.Failures(), "many": fixture.Many(3000), "small": fixture.Small()} {
		o := Make(r, false)
		front, next := said(o.Front), said(o.Chapters[0].Blocks)
		require.Equal(t, "attention", o.Chapters[0].Anchor)
		for i := range r.Claims {
			c := &r.Claims[i]
			if c.Verdict == record.Passed {
				continue
			}
			require.Contains(t, front, strings.TrimPrefix(c.ID, c.Check+"."), name)
			require.Contains(t, next, c.ID, name)
			require.Contains(t, next, c.Statement, name)
			if c.Waiver != nil {
				require.Contains(t, next, c.Waiver.Reason, name)
			}
		}
		for i := range r.Claims {
			require.True(t, o.Anchors["claim:"+r.Claims[i].ID], r.Claims[i].ID)
		}
	}
}

func TestSentenceNeverSaysSafe(t *testing.T) {
	for _, s := range []record.Summary{{}, {Passed: 1}, {Passed: 2, Failed: 1}, {Passed: 2, Open: 1},
		{Passed: 3, Waived: 1, Skipped: 2}, {Errors: 2}} {
		require.NotContains(t, strings.ToLower(words.Sentence(s)), "safe")
	}
	require.Equal(t, "1 claim: all passed.", words.Sentence(record.Summary{Passed: 1}))
	require.Contains(t, words.Sentence(record.Summary{Errors: 2}), "The notebook has 2 errors: what rests on them was not judged.")
}

// Page one has the numbers of a reading, who saw what in person, and the first
// lines of a hazard; its message is whole in a chapter of its own.
func TestPageOneAnswers(t *testing.T) {
	r := fixture.Small()
	o := Make(r, true)
	front := said(o.Front)
	require.Contains(t, front, "no earlier record was given to compare with")
	require.Contains(t, front, r.Safety[0].Text[0])
	require.NotContains(t, front, r.Safety[0].Text[1])
	require.Contains(t, front, "polarity passed, M. Quill, 2026-11-02; reading of V3V0")
	require.Equal(t, "cautions", o.Chapters[1].Anchor)
	require.Contains(t, said(o.Chapters[1].Blocks), strings.Join(r.Safety[0].Text, " "))

	at := record.Position{File: "board.md", Line: 9, Column: 1}
	r.Claims = []record.Claim{{ID: "reading.X", Kind: "reading", Verdict: record.Failed, Headline: "failed", Position: &at}}
	r.Readings = []record.Reading{{Name: "X", Reading: "3.1 V", Predicted: "2.9 V to 3.0 V", Verdict: record.Failed, Position: &at}}
	front = said(Make(r, true).Front)
	require.Contains(t, front, "read 3.1 V\npredicted 2.9 V to 3.0 V")
	require.Contains(t, front, "Read 3.1 V, predicted 2.9 V to 3.0 V.")
}

// Passes of one check that say the same of different things are one row, each
// with its place; what differs in a number, or did not pass, has its own.
func TestChecksThatSayTheSameAreOneRow(t *testing.T) {
	pass := func(id, statement string, v record.Verdict) record.Claim {
		return record.Claim{ID: id, Kind: "built-in", Check: "pin-map", Statement: statement, Verdict: v, Headline: string(v)}
	}
	r := &record.Record{Claims: []record.Claim{
		pass("pin-map.U1", "Every pin of U1 (QX30) is connected.", record.Passed),
		pass("pin-map.U2", "Every pin of U2 (QX41) is connected.", record.Passed),
		pass("pin-map.U3", "Every pin of U3 (QX30) is connected.", record.Failed),
		pass("pin-map.U4", "Every pin of U4 but 3 is connected.", record.Passed),
		pass("pin-map.U12", "Every pin of U12 but U1 is connected.", record.Passed),
	}}
	o := Make(r, false)
	var rows []string
	for _, c := range o.Chapters {
		if c.Anchor == "checks" {
			for _, x := range c.Blocks[0].Table.Rows[1:] {
				rows = append(rows, Plain(x.Cells[0])+": "+Plain(x.Cells[1]))
			}
		}
	}
	require.Equal(t, []string{"U1, U2: Every pin of U1 (QX30) is connected. Likewise the others.", "failed U3: Every pin of U3 (QX30) is connected.",
		"U4: Every pin of U4 but 3 is connected.", "U12: Every pin of U12 but U1 is connected."}, rows)
	for i := range r.Claims {
		require.True(t, o.Anchors["claim:"+r.Claims[i].ID], r.Claims[i].ID)
	}
}

// Criteria that differ in their text alone are said once.
func TestCriteriaAlikeAreOne(t *testing.T) {
	k := func(text, shown string) record.Criterion {
		return record.Criterion{Text: text, Verdict: record.Failed, Tests: []record.Test{{Op: ">=", LimitRight: true,
			Left: record.Span{Text: "V3V0", Shown: shown}, Right: record.Span{Shown: "3.05 V"}}}}
	}
	got := alike([]record.Criterion{k("a", "2.9 V"), k("b", "2.8 V"), k("c", "2.9 V")})
	require.Len(t, got, 2)
	require.Equal(t, "a; c", got[0].Text)
}

// A claim judged by statistics shows its yield or half-width, and nowhere the
// worst case that it is not judged by.
func TestStatisticsAreShownNotTheWorstCase(t *testing.T) {
	x := record.Test{Text: "V <= 2.55 V", Op: "<=", LimitRight: true, Verdict: record.Passed, Left: record.Span{Text: "V", Shown: "2.45 V to 2.56 V"},
		Right: record.Span{Shown: "2.55 V"}, Margin: &record.Margin{Absolute: fixture.N(0.02), Text: "0.02 V"}}
	c := record.Claim{ID: "rss", Kind: "claim", Verdict: record.Failed, Criteria: []record.Criterion{{Verdict: record.Failed, Tests: []record.Test{x},
		Statistics: &record.Statistics{Text: "0.05 V at the centres, less 0.03 V"}}}}
	o := Make(&record.Record{Claims: []record.Claim{c}}, false)
	all := said(o.Front)
	for _, chapter := range o.Chapters {
		all += said(chapter.Blocks)
	}
	require.Contains(t, all, "0.05 V at the centres, less 0.03 V")
	require.NotContains(t, all, "2.56 V")
}

// What changed since an earlier record is told with the facts behind it, claims
// that turned alike in one row.
func TestSince(t *testing.T) {
	r := shared()
	r.Since = &record.Since{Name: "old.json", AsOf: "2026-10-01",
		Verdicts: []record.Change{{Name: "A1", Old: "passed", New: "failed", Way: record.Worse},
			{Name: "A2", Old: "passed", New: "failed", Way: record.Worse}, {Name: "alone", New: "failed", Way: record.Worse}},
		Facts: []record.Change{{Name: "OZD V_DO", Old: "max 210 mV", New: "max 410 mV"}},
		Eased: []record.Change{{Name: "skip of drivers.MISO", New: "seen", Way: record.Worse}}}
	o := Make(r, true)
	require.Contains(t, said(o.Front), "3 verdicts worse, 0 better; 1 fact, 0 given values and 0 documents changed; 1 thing was judged more easily")
	var table *Table
	for _, b := range o.Chapters[0].Blocks {
		if b.Table != nil && b.Table.Caption == "Changes since old.json" {
			table = b.Table
		}
	}
	require.NotNil(t, table)
	var rows []string
	for _, r := range table.Rows {
		line := Plain(r.Title)
		for _, c := range r.Cells {
			line += Plain(c) + "|"
		}
		rows = append(rows, line)
	}
	require.Equal(t, []string{"Verdicts", "A1, A2|passed|failed|", "alone|—|failed|", "Facts", "OZD V_DO|max 210 mV|max 410 mV|",
		"Judged more easily", "skip of drivers.MISO|—|seen|"}, rows)
}

// Failed claims of one check that say the same are told once, each with its own
// criterion and pages, and each with its place.
func TestAlikeFailuresAreToldOnce(t *testing.T) {
	r := &record.Record{}
	for _, ref := range []string{"U5", "U6", "U7"} {
		k := record.Criterion{Text: "V inside " + ref + ".operating.V_DD", Verdict: record.Failed, CornerText: "2.9 V ≥ 3 V does not hold",
			Tests: []record.Test{{Op: ">=", LimitRight: true, Left: record.Span{Shown: "2.9 V"}, Right: record.Span{Shown: "3 V"}}}}
		if ref == "U7" {
			k.CornerText = "2.8 V ≥ 3 V does not hold"
		}
		r.Claims = append(r.Claims, record.Claim{ID: "range." + ref, Kind: "built-in", Check: "range", Verdict: record.Failed,
			Criteria: []record.Criterion{k}, Cites: []record.Cite{{Source: "sheet" + ref, Page: "p.3"}}})
	}
	r.Summary.Failed = 3
	o := Make(r, true)
	groups := 0
	for _, b := range o.Chapters[0].Blocks {
		if b.Kind == Group {
			groups++
		}
	}
	require.Equal(t, 2, groups)
	require.Contains(t, said(o.Chapters[0].Blocks), "likewise \nrange.U6  V inside U6.operating.V_DD  sheetU6 p.3")
	for _, id := range []string{"attention:range.U5", "attention:range.U6", "attention:range.U7"} {
		require.True(t, o.Anchors[id], id)
	}
}

// Each cited page that was not found as cited is listed once, by how far it was
// looked up.
func TestPagesToTurnTo(t *testing.T) {
	cites := []record.Cite{{Source: "reg", Page: "p.9", Counted: 9, Checked: "page"}, {Source: "reg", Page: "p.4", Counted: 4, Checked: "page"},
		{Source: "reg", Page: "p.4", Counted: 4, Checked: "page"}, {Source: "dmm", Checked: "no file"}, {Source: "reg", Page: "p.5", Checked: "words"}}
	b := newBuilder(&record.Record{Claims: []record.Claim{{ID: "A", Cites: cites}}})
	list := b.toCheck()
	require.Len(t, list, 2)
	require.Equal(t, "page only: reg p.4, p.9", list[0].Line())
	require.Equal(t, "no file: dmm", list[1].Line())
}

// Ratings are listed by how much of them is used; what is not known comes first,
// and a part without a stated derating says so.
func TestRatingsByRatio(t *testing.T) {
	claim := func(id, derating string, stress, limit float64) record.Claim {
		k := record.Test{Op: "<=", LimitRight: true, Left: record.Span{Shown: id, Min: fixture.N(0), Max: fixture.N(stress)},
			Right: record.Span{Shown: "limit", Min: fixture.N(limit), Max: fixture.N(limit)}}
		return record.Claim{ID: id, Derating: derating, Criteria: []record.Criterion{{Tests: []record.Test{k}}}}
	}
	unknown := claim("R4", "none stated", 1, 2)
	unknown.Criteria[0].Tests[0].Left.Max = nil
	r := &record.Record{Claims: []record.Claim{claim("R1", "none stated", 1, 20), claim("R2", "80 %", 1, 4), claim("R3", "none stated", 3, 4),
		unknown, {ID: "X"}}}
	require.Equal(t, []string{"R4 not known   none stated", "R3 R3 limit 75 % none stated", "R2 R2 limit 25 % 80 %"}, rows(newBuilder(r).stresses())[:3])
}

func rows(bs []Block) (out []string) {
	for _, r := range bs[0].Table.Rows {
		var cells []string
		for _, c := range r.Cells {
			cells = append(cells, Plain(c))
		}
		out = append(out, strings.Join(cells, " "))
	}
	return out
}

// A complaint that many lines have is told three times in full, then by place.
func TestLikeComplaintsAreTold(t *testing.T) {
	r := &record.Record{}
	for i := range 40 {
		for _, m := range []string{"a capacitor connects 2 nets", "unknown name"} {
			r.Diagnostics = append(r.Diagnostics, record.Diagnostic{Code: m[:7], Severity: "error", File: "b.md", Line: i + 1, Column: 1, Message: m})
		}
	}
	list := newBuilder(r).diagnostics("error")
	rows := list[0].Table.Rows
	require.Len(t, rows, 8)
	require.Equal(t, "b.md:3:1", Plain(rows[4].Cells[0]))
	for _, n := range []int{6, 7} {
		require.Equal(t, 37, strings.Count(Plain(rows[n].Cells[2]), "b.md:"))
	}
}
