package eval

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/eval/formula"
	"guardband/notebook"
)

// signalCases are the cases of a file in testdata/checks/signal: what stands
// before the first `## ` is common to all, `expect: VERDICT ID words` says what
// a claim must come to and what its record must say ("none": no such claim).
func signalCases(t *testing.T, path string, run func(t *testing.T, text string, expect [][]string)) {
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	chunks := strings.Split(string(data), "\n## ")
	require.Greater(t, len(chunks), 1, path)
	for _, chunk := range chunks[1:] {
		name, body, _ := strings.Cut(chunk, "\n")
		var expect [][]string
		var text []string
		for _, l := range strings.Split(body, "\n") {
			if e, ok := strings.CutPrefix(l, "expect: "); ok {
				expect = append(expect, strings.SplitN(e, " ", 3))
				continue
			}
			text = append(text, l)
		}
		require.NotEmpty(t, expect, name)
		t.Run(name, func(t *testing.T) { run(t, chunks[0]+"\n"+strings.Join(text, "\n"), expect) })
	}
}

func TestCheckSignalCases(t *testing.T) {
	files, err := filepath.Glob("testdata/checks/signal/*.md")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	seen := map[string]map[string]bool{}
	for _, path := range files {
		t.Run(filepath.Base(path), func(t *testing.T) {
			signalCases(t, path, func(t *testing.T, text string, expect [][]string) {
				r := compileText(t, text)
				for _, d := range r.Diagnostics {
					require.NotEqual(t, notebook.Err, d.Severity, "%s: %s", d.Code, d.Message)
				}
				for _, e := range expect {
					requireClaim(t, r, e)
					check, _, _ := strings.Cut(e[1], ".")
					if seen[check] == nil {
						seen[check] = map[string]bool{}
					}
					seen[check][e[0]] = true
				}
			})
		})
	}
	for _, b := range signalChecks() {
		if contains([]string{"pin-list", "parts-list", "netlist"}, b.name) {
			continue // TestExported...
		}
		for _, v := range []string{"passed", "failed", "open", "skipped"} {
			if b.name == "unused-inputs" && v == "open" {
				continue // what the notes say of an input always decides it
			}
			require.True(t, seen[b.name][v], "%s has no case that is %s", b.name, v)
		}
		require.NotEmpty(t, b.rule)
		require.NotEmpty(t, b.source)
	}
}

// requireClaim asks for the verdict of a claim and for words of its record.
func requireClaim(t *testing.T, r *Record, expect []string) {
	t.Helper()
	for _, c := range r.Claims {
		if c.ID != expect[1] {
			continue
		}
		said := c.Headline
		for _, p := range c.Open {
			said += "\n" + p.Text + " -> " + p.Settle
		}
		for _, k := range c.Criteria {
			said += "\n" + string(k.Verdict) + ": " + k.Text
			for _, p := range k.Open {
				said += "\n" + p.Text
			}
		}
		require.Equal(t, expect[0], string(c.Verdict), said)
		if len(expect) > 2 {
			require.Contains(t, said, expect[2])
		}
		return
	}
	var ids []string
	for _, c := range r.Claims {
		ids = append(ids, c.ID)
	}
	require.Equal(t, "none", expect[0], "no claim %s among %v", expect[1], ids)
}

// compileFolder compiles a notebook that stands among other files.
func compileFolder(t *testing.T, files map[string]string) *Record {
	t.Helper()
	dir := t.TempDir()
	for name, text := range files {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644))
	}
	book, err := notebook.Load(filepath.Join(dir, "board.md"), notebook.Options{})
	require.NoError(t, err)
	return Compile(context.Background(), book, Options{On: "2026-11-24", Language: formula.NewLanguage(nil)})
}
