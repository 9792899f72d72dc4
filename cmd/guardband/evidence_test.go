package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/report/json"
)

// TestCommittedEvidence: a copy without the documents is judged as the one
// with them, by a file that says what they answered; what that file does not
// know is open, and a file that says otherwise than a page is an error.
func TestCommittedEvidence(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, os.CopyFS(dir, os.DirFS("../../examples/weirkeeper")))
	edit := func(name, from, to string) {
		path := filepath.Join(dir, name)
		data, err := os.ReadFile(path)
		require.NoError(t, err)
		require.Contains(t, string(data), from, name)
		require.NoError(t, os.WriteFile(path, []byte(strings.Replace(string(data), from, to, 1)), 0o644))
	}
	check := func() (code int, verdicts map[string]string, said string) {
		var out, errOut strings.Builder
		code = run(t.Context(), []string{"check", dir, "--on", "2026-11-24", "--format", "json"}, strings.NewReader(""), &out, &errOut)
		r, err := json.Read(strings.NewReader(out.String()))
		require.NoError(t, err)
		verdicts = map[string]string{}
		for _, c := range r.Claims {
			verdicts[c.ID] = string(c.Verdict)
		}
		for _, d := range r.Diagnostics {
			said += d.Code + " " + d.Message + "\n"
		}
		for _, s := range r.Sources {
			said += "state: " + s.State + "\n"
		}
		return code, verdicts, said
	}
	write := func() (int, string) {
		var out, errOut strings.Builder
		code := run(t.Context(), []string{"sources", dir, "--write-evidence"}, strings.NewReader(""), &out, &errOut)
		return code, out.String() + errOut.String()
	}
	code, said := write()
	require.Equal(t, exitMachine, code)
	require.Contains(t, said, "add `evidence: board.evidence.json` to its design block")

	wantCode, want, _ := check()
	edit("board.md", "include:  parts\n", "include:  parts\nevidence: board.evidence.json\n")
	_, _, said = check()
	require.Contains(t, said, "evidence-missing")
	code, said = write()
	require.Equal(t, exitClear, code, said)
	require.Contains(t, said, "wrote the evidence of ")
	file := filepath.Join(dir, "board.evidence.json")
	first, err := os.ReadFile(file)
	require.NoError(t, err)
	require.NotContains(t, string(first), `"line"`, "of the page nothing but what was asked")
	code, got, said := check()
	require.Equal(t, wantCode, code, said)
	require.Equal(t, want, got)
	require.NotContains(t, said, "evidence-")

	// The file that says otherwise than a page.
	edit("board.evidence.json", `"grade":"words"`, `"grade":"page"`)
	code, _, said = check()
	require.Equal(t, exitErrors, code)
	require.Contains(t, said, "evidence-differs")
	require.NoError(t, os.WriteFile(file, first, 0o644))

	// Without the documents.
	require.NoError(t, os.Rename(filepath.Join(dir, "sheets"), filepath.Join(t.TempDir(), "sheets")))
	code, got, said = check()
	require.Equal(t, wantCode, code, said)
	require.Equal(t, want, got)
	require.Contains(t, said, "its citations are as the committed evidence says")
	require.Contains(t, said, "state: not here; checked by committed evidence")
	code, _ = write()
	require.Equal(t, exitClear, code)
	again, err := os.ReadFile(file)
	require.NoError(t, err)
	require.Equal(t, string(first), string(again), "nothing is lost where no document is at hand")

	// A figure that was changed since is one that the evidence does not know.
	edit("parts/ozd-l2.md", "max 210 mV", "max 21 mV")
	_, got, _ = check()
	require.Equal(t, "passed", want["A2"])
	require.Equal(t, "open", got["A2"])
	edit("parts/ozd-l2.md", "max 21 mV", "max 210 mV")

	// A document of other bytes is not answered for.
	edit("parts/ozd-l2.md", "sha256:   692d", "sha256:   792d")
	code, _, said = check()
	require.Equal(t, exitErrors, code)
	require.Contains(t, said, "file-missing")
	edit("parts/ozd-l2.md", "sha256:   792d", "sha256:   692d")

	// What is no such file is told.
	require.NoError(t, os.WriteFile(file, []byte("{}"), 0o644))
	code, _, said = check()
	require.Equal(t, exitErrors, code)
	require.Contains(t, said, "is not a file of evidence")
}
