package main

import (
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/notebook/sheet"
	"guardband/notebook/sheet/draft"
	"guardband/report/json"
)

// TestDraftsCompile drafts a note from every sheet of the demos, and compiles
// them all: no complaint, and a claim on a drafted fact is open until a person
// has confirmed it.
func TestDraftsCompile(t *testing.T) {
	root := atRoot(t)
	dir := t.TempDir()
	require.NoError(t, os.Mkdir(filepath.Join(dir, "sheets"), 0o755))
	for _, s := range demoSheets(t, root) {
		data, err := os.ReadFile(s.pdf)
		require.NoError(t, err)
		pdf := filepath.Join(dir, "sheets", filepath.Base(s.pdf))
		require.NoError(t, os.WriteFile(pdf, data, 0o644))
		code, out, errOut := guardband(t, "draft", pdf, "--write", filepath.Join(dir, "parts"))
		require.Zero(t, code, out+errOut)
		require.NotContains(t, out, "could not be kept as entries", "the compiler refused a drafted line")
		code, _, errOut = guardband(t, "draft", pdf, "--write", filepath.Join(dir, "parts"))
		require.Equal(t, exitMachine, code)
		require.Contains(t, errOut, "never overwritten")
	}
	board := "```design\ntitle: Drafted\ninclude: parts\n```\n```claim vin\nstatement: the regulator's output stays in range\ncriterion: OZDL2.V_OUT <= 3.1 V\n```\n"
	require.NoError(t, os.WriteFile(filepath.Join(dir, "board.md"), []byte(board), 0o644))
	code, out, errOut := guardband(t, "check", filepath.Join(dir, "board.md"), "--format", "json")
	r, err := json.Read(strings.NewReader(out))
	require.NoError(t, err)
	require.Empty(t, r.Diagnostics, errOut)
	require.Equal(t, exitClaims, code, errOut)
	require.Equal(t, "open", string(r.Claims[0].Verdict))
	require.Contains(t, out, "nobody has confirmed it")
	facts := 0
	for _, p := range r.Parts {
		for _, f := range p.Facts {
			facts++
			require.True(t, f.Unconfirmed, p.ID+" "+f.Name)
			require.Len(t, f.Cites, 1)
			require.Equal(t, "words", f.Cites[0].Checked, p.ID+" "+f.Name+" "+f.Cites[0].Text)
		}
	}
	require.Greater(t, facts, 300)
}

var (
	citedWords = regexp.MustCompile(`\[(?:\S+ )?pdf\.(\d+) "([^"]+)"\]`)
	factCells  = regexp.MustCompile(`\b(min|typ|max) (-?[0-9.]+) ([^\s,]+)`)
)

// TestDraftsInventNothing holds every line of every draft to its sheet: the
// words quoted stand on the page, each number of a fact stands in the row and
// the column it is said to be of, and every entry waits for a person.
func TestDraftsInventNothing(t *testing.T) {
	root := atRoot(t)
	cache, err := os.UserCacheDir()
	require.NoError(t, err)
	l := sheet.Open(filepath.Join(cache, "guardband"))
	defer l.Close()
	lines, quotes, numbers := 0, 0, 0
	for _, s := range demoSheets(t, root) {
		note := filepath.Join(t.TempDir(), "draft.md")
		code, out, errOut := guardband(t, "draft", s.pdf, "--write", note)
		require.Zero(t, code, out+errOut)
		data, err := os.ReadFile(note)
		require.NoError(t, err)
		var ask []sheet.Query
		var of []string
		for _, line := range strings.Split(string(data), "\n") {
			line, _, _ = strings.Cut(line, "  # ") // what it asks
			cites := citedWords.FindAllStringSubmatch(line, -1)
			if strings.HasSuffix(line, " "+draft.Mark) {
				lines++
				require.NotEmpty(t, cites, line)
			} else if _, section, ok := strings.Cut(line, "= "); ok && !strings.HasPrefix(line, "    ") {
				require.NotContains(t, section, "min ", "an entry that does not wait for a person: "+line)
			}
			for _, c := range cites {
				q := sheet.Query{From: c[1], Counted: true, Quote: c[2]}
				if strings.Contains(line, " = ") && !strings.HasPrefix(line, " ") && !strings.HasPrefix(line, "field") {
					left, _, _ := strings.Cut(line, "  [")
					for _, m := range factCells.FindAllStringSubmatch(left, -1) {
						v, err := strconv.ParseFloat(m[2], 64)
						require.NoError(t, err)
						q.Numbers = append(q.Numbers, sheet.Number{Text: m[2], Value: v, Unit: m[3], Column: m[1]})
						numbers++
					}
					q.Name, _, _ = strings.Cut(strings.Join(strings.Fields(line)[1:], " "), " ")
				}
				ask, of = append(ask, q), append(of, line)
				quotes++
			}
		}
		_, found, err := l.Check(t.Context(), s.pdf, ask)
		require.NoError(t, err)
		for i, f := range found {
			require.Equal(t, sheet.GradeWords, f.Grade, filepath.Base(s.pdf)+": "+of[i])
			require.Empty(t, f.Slip, filepath.Base(s.pdf)+": "+of[i])
			require.Empty(t, f.Missing, filepath.Base(s.pdf)+": "+of[i])
		}
	}
	t.Logf("%d drafted lines, %d quotes and %d numbers, all on their pages", lines, quotes, numbers)
	require.Greater(t, numbers, 400)
}
