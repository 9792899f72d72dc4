package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// TestPageOne holds the picture that README.md shows to page one of the demo's
// record, by its text. GUARDBAND_UPDATE=1 makes both anew.
func TestPageOne(t *testing.T) {
	for _, program := range []string{"pdftotext", "pdftoppm"} {
		if _, err := exec.LookPath(program); err != nil {
			require.Empty(t, os.Getenv("GUARDBAND_NO_SKIP"), "%s is not here", program)
			t.Skip(program + " is not here")
		}
	}
	atRoot(t)
	dir := t.TempDir() // outside version control: the picture names no commit
	demo := filepath.Join(dir, "weirkeeper")
	require.NoError(t, os.CopyFS(demo, os.DirFS(filepath.Join("examples", "weirkeeper"))))
	code, out, errOut := guardband(t, "report", demo, "--out", dir, "--format", "pdf", "--pictures", "off", "--on", "2026-11-24")
	require.Zero(t, code, out+errOut)
	pdf, shown := filepath.Join(dir, "record.pdf"), filepath.Join("examples", "page-one")
	text, err := exec.Command("pdftotext", "-f", "1", "-l", "1", "-raw", pdf, "-").Output()
	require.NoError(t, err)
	if os.Getenv("GUARDBAND_UPDATE") != "" {
		require.NoError(t, exec.Command("pdftoppm", "-r", "80", "-f", "1", "-l", "1", "-singlefile", "-png", pdf, shown).Run())
		require.NoError(t, os.WriteFile(shown+".txt", text, 0o644))
	}
	want, err := os.ReadFile(shown + ".txt")
	require.NoError(t, err)
	require.Equal(t, string(want), string(text), "GUARDBAND_UPDATE=1 go test ./cmd/guardband -run PageOne")
	require.FileExists(t, shown+".png")
}

// TestRecapOfReadme holds the recap that README.md shows to what check prints of
// the demo with one number mistyped. GUARDBAND_UPDATE=1 writes it anew.
func TestRecapOfReadme(t *testing.T) {
	atRoot(t)
	demo := filepath.Join(t.TempDir(), "weirkeeper")
	require.NoError(t, os.CopyFS(demo, os.DirFS(filepath.Join("examples", "weirkeeper"))))
	note := filepath.Join(demo, "parts", "ozd-l2.md")
	text, err := os.ReadFile(note)
	require.NoError(t, err)
	require.Contains(t, string(text), "max 210 mV  at I_OUT")
	text = []byte(strings.Replace(string(text), "max 210 mV  at I_OUT", "max 410 mV  at I_OUT", 1))
	require.NoError(t, os.WriteFile(note, text, 0o644))
	code, out, _ := guardband(t, "check", demo, "-q", "--on", "2026-11-24")
	require.Equal(t, exitClaims, code)
	readme, err := os.ReadFile("README.md")
	require.NoError(t, err)
	_, recap, _ := strings.Cut(out, "To look up\n")
	require.Contains(t, recap, "2 failed")
	recap = strings.TrimSuffix(strings.ReplaceAll("\nTo look up\n"+recap, "\n", "\n    "), "    ")
	recap = strings.ReplaceAll(recap, "\n    \n", "\n\n")
	const begin, end = "\n    To look up\n", "\nWhat a verdict means:"
	before, rest, _ := strings.Cut(string(readme), begin)
	_, after, _ := strings.Cut(rest, end)
	want := before + recap + end + after
	if os.Getenv("GUARDBAND_UPDATE") != "" {
		require.NoError(t, os.WriteFile("README.md", []byte(want), 0o644))
		return
	}
	require.Equal(t, want, string(readme), "GUARDBAND_UPDATE=1 go test ./cmd/guardband -run RecapOf")
}
