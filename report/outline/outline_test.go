package outline

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/eval"
	"guardband/report/internal/fixture"
	"guardband/report/internal/words"
)

// said is all text of the blocks, folds included.
func said(blocks []Block) string {
	var out strings.Builder
	add := func(t Text) { out.WriteString(text(t) + "\n") }
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
func shared() *eval.Record {
	cite := func(line int) []eval.Cite {
		return []eval.Cite{{Source: "reg", Page: "p.4", Checked: "words", Position: &eval.Position{File: "a.md", Line: line}}}
	}
	claim := func(id string, bases []eval.Basis, shares ...eval.Contribution) eval.Claim {
		m := &eval.Margin{Absolute: fixture.N(-0.1), Percent: fixture.N(-3), Base: "limit", Required: "50 mV", Lacking: "150 mV", Text: "-0.1 V, -3 % of limit"}
		test := eval.Test{Op: ">=", LimitRight: true, Verdict: eval.Failed, Margin: m, Left: eval.Span{Shown: "2.9 V"},
			Right: eval.Span{Shown: "3 V"}}
		return eval.Claim{ID: id, Kind: "claim", Verdict: eval.Failed, Headline: "failed", RestsOn: bases,
			Criteria: []eval.Criterion{{Verdict: eval.Failed, Failure: "broken", Tests: []eval.Test{test}, Contributions: shares}}}
	}
	drop := eval.Basis{Name: "U2.V_DO", Shown: "max 410 mV", Cites: cite(1)}
	cell := eval.Basis{Name: "V_CELL", Shown: "3.4 V", Assumed: "cutoff"}
	low := func(ref string) eval.Basis {
		return eval.Basis{Name: ref + ".operating.V_DD", Shown: "min 3.05 V", Cites: cite(2)}
	}
	r := &eval.Record{
		Claims: []eval.Claim{
			claim("A1", []eval.Basis{cell, drop}, eval.Contribution{Name: "V_CELL", Share: 0.6}, eval.Contribution{Name: "U2.V_DO", Share: 0.3, Text: "turns at 240 mV"}),
			claim("A2", []eval.Basis{drop}, eval.Contribution{Name: "U2.V_DO", Share: 0.7, Text: "turns at 230 mV"}),
			claim("range.U5", []eval.Basis{low("U5")}, eval.Contribution{Name: "U5.V_DD", Share: 1}),
			claim("range.U6", []eval.Basis{low("U6")}, eval.Contribution{Name: "U6.V_DD", Share: 1}),
			claim("alone", nil),
		},
		Sources: []eval.Source{{ID: "reg",
			Citations: []eval.Citation{{Page: "p.4", Missing: []string{"410 mV"},
				Position: &eval.Position{File: "a.md", Line: 1}}}}},
	}
	r.Summary.Failed = len(r.Claims)
	return r
}

// Failures are told by the fact they share, a fact that its page does not show
// first, one fact of several parts as one.
func TestCauses(t *testing.T) {
	b := newBuilder(shared())
	var failed []*eval.Claim
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
	require.Contains(t, page, "150 mV of 50 mV")
	require.Contains(t, page, "U2.V_DO at 240 mV")
	require.Contains(t, page, "no fact in common")
}

// A page that shows its numbers is not told as one that lacks them.
func TestCauseIsTheLargestShareWherePagesHold(t *testing.T) {
	r := shared()
	r.Sources, r.Claims = nil, r.Claims[:1]
	b := newBuilder(r)
	k := b.best([]*eval.Claim{&r.Claims[0]})
	require.Equal(t, "V_CELL", k.bases[0].Name)
}

// A claim met by identity has no margin to tell; a margin of zero at one limit
// alone has.
func TestAsAsked(t *testing.T) {
	test := func(op, limit string) eval.Test {
		return eval.Test{Op: op, LimitRight: true, Left: eval.Span{Text: "R5", Shown: "5.049 kΩ to 5.151 kΩ"}, Right: eval.Span{Shown: limit},
			Margin: &eval.Margin{Absolute: fixture.N(0), Text: "0 kΩ"}}
	}
	low, high := test(">=", "5.049 kΩ"), test("<=", "5.151 kΩ")
	both := &eval.Claim{Verdict: eval.Passed, Criteria: []eval.Criterion{{Tests: []eval.Test{low}}, {Tests: []eval.Test{high}}}}
	require.True(t, words.AsAsked(both, &both.Criteria[0].Tests[0]))
	one := &eval.Claim{Verdict: eval.Passed, Criteria: []eval.Criterion{{Tests: []eval.Test{low}}}}
	require.False(t, words.AsAsked(one, &one.Criteria[0].Tests[0]))
	both.Verdict = eval.Failed
	require.False(t, words.AsAsked(both, &both.Criteria[0].Tests[0]))
}

// Every claim that did not pass is named on page one and stands in full in the
// next chapter, whatever their number; a built-in claim is set once.
func TestAttentionIsNeverCut(t *testing.T) {
	for name, r := range map[string]*eval.Record{"failures": fixture.Failures(), "many": fixture.Many(3000), "small": fixture.Small()} {
		o := Make(r, Options{})
		front, next := said(o.Front), said(o.Chapters[0].Blocks)
		require.Equal(t, "attention", o.Chapters[0].Anchor)
		for i := range r.Claims {
			c := &r.Claims[i]
			if c.Verdict == eval.Passed {
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
	for _, s := range []eval.Summary{{}, {Passed: 1}, {Passed: 2, Failed: 1}, {Passed: 2, Open: 1},
		{Passed: 3, Waived: 1, Skipped: 2}, {Errors: 2}} {
		require.NotContains(t, strings.ToLower(words.Sentence(s)), "safe")
	}
	require.Equal(t, "1 claim: all passed.", words.Sentence(eval.Summary{Passed: 1}))
	require.Contains(t, words.Sentence(eval.Summary{Errors: 2}), "The notebook has 2 errors: what rests on them was not judged.")
}
