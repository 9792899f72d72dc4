package examples_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/eval/record"
)

// TestMutations makes one mistake at a time in a demo and asks that some claim
// no longer passes, or that an error is told. The table holds kind, file, text
// and what stands in its place, in facts on which some passed claim rests; a
// fifth column names what a mistake waits for, and those are counted apart.
func TestMutations(t *testing.T) {
	table, err := os.ReadFile("testdata/mutations.txt")
	require.NoError(t, err)
	dir := t.TempDir()
	before := map[string]*record.Record{}
	for _, demo := range []string{"weirkeeper", "granary"} {
		require.NoError(t, os.CopyFS(filepath.Join(dir, demo), os.DirFS(demo)))
		before[demo] = compileWith(t, filepath.Join(dir, demo, "board.md"), filepath.Join(dir, demo), library)
	}
	all, turned, waiting := 0, 0, map[string]int{}
	for _, line := range strings.Split(strings.TrimSpace(string(table)), "\n") {
		f := strings.Split(strings.ReplaceAll(line, `\n`, "\n"), "|")
		require.GreaterOrEqual(t, len(f), 4, line)
		path := filepath.Join(dir, f[1])
		was, err := os.ReadFile(path)
		require.NoError(t, err)
		require.Equal(t, 1, strings.Count(string(was), f[2]), line)
		require.NoError(t, os.WriteFile(path, []byte(strings.Replace(string(was), f[2], f[3], 1)), 0o600))
		demo, _, _ := strings.Cut(f[1], "/")
		after := compileWith(t, filepath.Join(dir, demo, "board.md"), filepath.Join(dir, demo), library)
		require.NoError(t, os.WriteFile(path, was, 0o600))
		what := leavesGreen(before[demo], after)
		switch {
		case len(f) > 4:
			waiting[f[4]]++
		case what != "":
			all, turned = all+1, turned+1
		default:
			all++
			t.Logf("left green: %s", line)
		}
		if os.Getenv("GUARDBAND_SHOW_MUTATIONS") != "" {
			t.Logf("%s: %s", line, what)
		}
	}
	t.Logf("%d of %d mistakes turned a verdict; waiting: %v", turned, all, waiting)
	require.GreaterOrEqual(t, all+len(waiting), 80)
	require.GreaterOrEqual(t, 20*turned, 19*all, "too many mistakes leave everything green")
}

// leavesGreen says what is told after a mistake that was not told before: an
// error, a claim that passed, a claim that was not there.
func leavesGreen(before, after *record.Record) string {
	if after.Summary.Errors > before.Summary.Errors {
		return "an error"
	}
	was := map[string]record.Verdict{}
	for _, c := range before.Claims {
		was[c.ID] = c.Verdict
	}
	var out []string
	for _, c := range after.Claims {
		if v, ok := was[c.ID]; c.Verdict != record.Passed && c.Verdict != v && (!ok || v == record.Passed || c.Verdict == record.Failed) {
			out = append(out, c.ID+" "+string(c.Verdict))
		}
	}
	return strings.Join(out, ", ")
}
