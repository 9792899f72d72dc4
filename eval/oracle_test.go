package eval_test

import (
	"context"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/eval"
	"guardband/eval/formula"
	"guardband/eval/record"
	"guardband/notebook"
)

// verdicts compiles a notebook and gives the verdicts of its written claims.
func verdicts(t testing.TB, text string) (map[string]int, []string) {
	t.Helper()
	book, err := notebook.Load("-", notebook.Options{Stdin: []byte(text)})
	require.NoError(t, err)
	r := eval.Compile(context.Background(), book, eval.Options{Checks: eval.TestChecks, On: "2026-11-24", Language: formula.NewLanguage(nil)})
	var errs []string
	for _, d := range r.Diagnostics {
		if d.Severity == "error" {
			errs = append(errs, d.Message)
		}
	}
	out := map[string]int{}
	for _, c := range r.Claims {
		if c.Kind == "claim" || c.Kind == "reading" {
			out[c.ID] = map[record.Verdict]int{record.Passed: 1, record.Failed: -1}[c.Verdict]
		}
	}
	return out, errs
}

// claimText is what a claim says and the lines that define its names.
func claimText(text, id string) string {
	_, rest, _ := strings.Cut(text, "```claim "+id+"\n")
	block, _, _ := strings.Cut(rest, "```")
	if name, ok := strings.CutPrefix(id, "reading."); ok {
		block = "  reading of " + name + "\n"
	}
	for _, name := range slices.Compact(regexp.MustCompile(`[QXPED]_[0-9]+|ambient|I_OUT`).FindAllString(block+" I_OUT", -1)) {
		for _, l := range strings.Split(text, "\n") {
			if regexp.MustCompile(`^(spec |ambient: |at least zero: .*)?\b`+name+`\b`).MatchString(l) ||
				name == "I_OUT" && strings.HasPrefix(l, "U1 ") {
				block += "    " + l + "\n"
			}
		}
	}
	return block
}

// oracleClaims is how many claims the oracle writes: 1,000 in an ordinary run,
// more where GUARDBAND_ORACLE_CLAIMS says so.
func oracleClaims(t *testing.T) int {
	if s := os.Getenv("GUARDBAND_ORACLE_CLAIMS"); s != "" {
		n, err := strconv.Atoi(s)
		require.NoError(t, err)
		return n
	}
	return 1000
}

// agrees says that a verdict is what the oracle wants.
func agrees(want, got int) bool { return want == got || want == notPassed && got < 1 }

// TestOracle compares verdicts of notebooks with those of an oracle that wrote
// them, and that shares no code with the compiler.
func TestOracle(t *testing.T) {
	const each = 20
	count, wrong := map[int]int{}, 0
	for seed := range uint64(oracleClaims(t) / each) {
		text, want := writeNotebook(seed+1, each)
		got, errs := verdicts(t, text)
		require.Empty(t, errs, "notebook %d", seed+1)
		require.Len(t, got, len(want))
		for id, v := range want {
			count[v]++
			if agrees(v, got[id]) {
				continue
			}
			if wrong++; wrong <= 10 {
				t.Errorf("claim %s of notebook %d: oracle %d, compiler %d\n%s", id, seed+1, v, got[id], claimText(text, id))
			}
		}
	}
	t.Logf("%d passed, %d open, %d failed, %d not passed by the oracle; %d judged otherwise",
		count[1], count[0], count[-1], count[notPassed], wrong)
	for _, v := range []int{1, 0, -1} {
		require.Greater(t, count[v], oracleClaims(t)/20, "too few verdicts of one kind to mean anything")
	}
}
