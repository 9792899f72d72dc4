package eval

import (
	"context"
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/eval/record"
	"guardband/notebook"
)

// mixed is a notebook with claims of every verdict, formulas, columns, names
// that are not there and claims that cannot be read, n of each.
func mixed(n int) string {
	var b strings.Builder
	b.WriteString("```design\ntitle: mixed\n```\n")
	for i := range n {
		fmt.Fprintf(&b, "```values\nA%d = %d V ± 2 %%\nB%[1]d = min 1 V\nC%[1]d = A%[1]d * 2 + 1 V\nD%[1]d = %[2]d V to 90 V\nE%[1]d = 5 V\nF%[1]d = 5 X\n```\n", i, i%7+3)
		for k, criterion := range []string{
			"A%d <= 10 V", "A%d <= 5 V", "B%d <= 9 V", "C%d > A%[1]d and D%[1]d <= 90 V", "E%d == 5 V", "A%d.max <= 10 V and D%[1]d.min >= 1 V",
			"G%d <= 2 V", "A%d <= ", "F%d <= 2 V", "A%d / (A%[1]d - 4 V) >= 0", "A%d inside D%[1]d.min to D%[1]d.max",
		} {
			fmt.Fprintf(&b, "```claim c%d-%d\nstatement: it holds\ncriterion: "+criterion+
				"\n```\nIt is [verdict c%[3]d-%[4]d] at [value A%[3]d in mV] or [value H%[3]d].\n\n", k, i, i, k)
		}
	}
	return b.String()
}

func compiled(t testing.TB, text string, opt Options) *record.Record {
	t.Helper()
	book, err := notebook.Load("-", notebook.Options{Stdin: []byte(text)})
	require.NoError(t, err)
	opt.On = "2026-11-24"
	return Compile(context.Background(), book, opt)
}

func TestWorkersChangeNothing(t *testing.T) {
	text := mixed(40)
	for _, detail := range []int{0, 3} {
		for _, typeset := range []bool{false, true} {
			one, err := json.Marshal(compiled(t, text, Options{Checks: TestChecks, Workers: 1, Detail: detail, Typeset: typeset}))
			require.NoError(t, err)
			for _, workers := range []int{2, 7} {
				many, err := json.Marshal(compiled(t, text, Options{Checks: TestChecks, Workers: workers,
					Detail: detail, Typeset: typeset}))
				require.NoError(t, err)
				require.Equal(t, string(one), string(many))
			}
		}
	}
}

// What is left out where few claims are shown changes no verdict and no
// complaint, and what is shown is the same.
func TestDetailKeepsVerdictsAndComplaints(t *testing.T) {
	const detail = 4
	text := mixed(30)
	whole, brief := compiled(t, text, Options{Checks: TestChecks}), compiled(t, text,
		Options{Checks: TestChecks, Workers: 2, Detail: detail})
	require.Equal(t, whole.Summary, brief.Summary)
	require.Equal(t, whole.Diagnostics, brief.Diagnostics)
	require.Equal(t, whole.LookUp, brief.LookUp)
	require.Equal(t, whole.Safety, brief.Safety)
	require.NotEmpty(t, whole.Diagnostics)
	all := map[string]*record.Claim{}
	first := map[record.Verdict][]string{} // of each verdict, in the order of the notes
	for i := range whole.Claims {
		w := &whole.Claims[i]
		all[w.ID] = w
		if len(first[w.Verdict]) < detail {
			first[w.Verdict] = append(first[w.Verdict], w.ID)
		}
	}
	shown, held := 0, map[record.Verdict]int{}
	for i := range brief.Claims {
		b := &brief.Claims[i]
		w := all[b.ID]
		require.Equal(t, w.Verdict, b.Verdict, w.ID)
		if held[b.Verdict]++; held[b.Verdict] <= len(first[b.Verdict]) && b.Verdict != record.Passed {
			require.Equal(t, first[b.Verdict][held[b.Verdict]-1], b.ID)
		}
		require.Len(t, b.Criteria, len(w.Criteria), w.ID)
		for k := range b.Criteria {
			require.Equal(t, w.Criteria[k].Text, b.Criteria[k].Text, w.ID)
			if len(b.Criteria[k].Tests) > 0 {
				shown++
				require.Equal(t, w.Criteria[k].Tests, b.Criteria[k].Tests, w.ID)
				require.Equal(t, w.Criteria[k].Corner, b.Criteria[k].Corner, w.ID)
			}
		}
	}
	require.Greater(t, shown, 8)
	require.Equal(t, map[record.Verdict]int{record.Passed: held[record.Passed], record.Failed: whole.Summary.Failed,
		record.Open: whole.Summary.Open}, held,
		"what failed or is open is shown whatever its number")
	require.LessOrEqual(t, held[record.Passed], detail+mostAttention)
	for _, id := range brief.Attention {
		require.Contains(t, whole.Attention, id)
	}
	for _, v := range []record.Verdict{record.Failed, record.Open, record.Passed} {
		for _, id := range first[v] {
			require.True(t, slices.ContainsFunc(brief.Claims, func(b record.Claim) bool { return b.ID == id }), id)
		}
	}
}

// A waiver that accepts a small miss is judged by the numbers of its claim,
// however many claims fail before it.
func TestDetailKeepsWaiversHonest(t *testing.T) {
	var b strings.Builder
	b.WriteString("```design\ntitle: waivers\n```\n```values\nA = 10 V ± 1 %\n```\n")
	for i := range 6 {
		fmt.Fprintf(&b, "```claim c%d\nstatement: it holds\ncriterion: A <= 8 V\nwaiver: 2028-06-30, A. Person, known\naccepts: -3 %%\n```\n", i)
	}
	for _, detail := range []int{0, 2} {
		r := compiled(t, b.String(), Options{Checks: TestChecks, Detail: detail})
		require.Equal(t, record.Summary{Failed: 6}, r.Summary)
	}
}

func TestPanicInAWorkerIsRaisedWhereItIsWaitedFor(t *testing.T) {
	c := &compiler{opt: Options{Checks: TestChecks, Workers: 3}}
	require.PanicsWithValue(t, "fault", func() {
		c.each(100, func(i int) {
			if i == 70 {
				panic("fault")
			}
		})
	})
}
