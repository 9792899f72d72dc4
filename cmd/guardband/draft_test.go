package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/report/json"
)

// TestDraftsCompile drafts a note from every sheet of a demo, and compiles
// them all: no error, every drafted fact cited with words that stand on its
// page, and a claim on a drafted fact open until a person has confirmed it.
func TestDraftsCompile(t *testing.T) {
	root := atRoot(t)
	sheets, err := filepath.Glob(filepath.Join(root, "examples", "weirkeeper", "sheets", "*.pdf"))
	require.NoError(t, err)
	require.Greater(t, len(sheets), 10)
	dir := t.TempDir()
	require.NoError(t, os.Mkdir(filepath.Join(dir, "sheets"), 0o755))
	facts := 0
	for _, s := range sheets {
		name := filepath.Base(s)
		data, err := os.ReadFile(s)
		require.NoError(t, err)
		pdf := filepath.Join(dir, "sheets", name)
		require.NoError(t, os.WriteFile(pdf, data, 0o644))
		note := filepath.Join(dir, "parts", strings.TrimSuffix(name, ".pdf")+".md")
		code, out, errOut := guardband(t, "draft", pdf, "--write", note)
		require.Zero(t, code, out+errOut)
		code, _, errOut = guardband(t, "draft", pdf, "--write", note)
		require.Equal(t, exitMachine, code)
		require.Contains(t, errOut, "never overwritten")
	}
	board := "```design\ntitle: Drafted\ninclude: parts\n```\n```claim vin\nstatement: the regulator's output stays in range\ncriterion: OZDL2.VOUT <= 3.1 V\n```\n"
	require.NoError(t, os.WriteFile(filepath.Join(dir, "board.md"), []byte(board), 0o644))
	code, out, errOut := guardband(t, "check", filepath.Join(dir, "board.md"), "--format", "json")
	r, err := json.Read(strings.NewReader(out))
	require.NoError(t, err)
	for _, d := range r.Diagnostics {
		require.NotEqual(t, "error", d.Severity, fmt.Sprintf("%+v", d))
	}
	require.Equal(t, exitClaims, code, errOut)
	require.Equal(t, "open", string(r.Claims[0].Verdict))
	require.Contains(t, out, "nobody has confirmed it")
	for _, p := range r.Parts {
		for _, f := range p.Facts {
			facts++
			require.True(t, f.Unconfirmed, p.ID+" "+f.Name)
			require.Len(t, f.Cites, 1)
			require.Equal(t, "words", f.Cites[0].Checked, p.ID+" "+f.Name+" "+f.Cites[0].Text)
		}
	}
	require.Greater(t, facts, 100)
}
