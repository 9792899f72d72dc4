package main

import (
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// Cells that a spreadsheet would run are made inert; numbers stay numbers.
func TestCellsAreInert(t *testing.T) {
	for in, want := range map[string]string{
		"": "", "10k": "10k", "-5 V": "-5 V", "+3.3": "+3.3", "-40 °C": "-40 °C", "=1+1": "'=1+1", "@SUM(A1)": "'@SUM(A1)",
		"+cmd|' /C calc'!A0": "'+cmd|' /C calc'!A0", "-2+3": "'-2+3", "\t=1": "'\t=1", "\r=1": "'\r=1", "-": "'-",
	} {
		require.Equal(t, want, inert(in), "%q", in)
	}
}

// The name of a file steers no terminal, wherever it is printed.
func TestNamesAreClean(t *testing.T) {
	if runtime.GOOS == "windows" {
		return // such names cannot be made there
	}
	dir := filepath.Join(t.TempDir(), "a\x1b]0;x\x07b\u202e")
	require.NoError(t, os.Mkdir(dir, 0o755))
	file := filepath.Join(dir, "n\x1b[31m\nfalse: passed.md")
	text := strings.Replace(small, "title: Small", "title: Small\x1b[31m\nodd: label", 1) + "```values\nA=1 V\n```\n"
	require.NoError(t, os.WriteFile(file, []byte(text), 0o644))
	for _, args := range [][]string{
		{"check", file}, {"check", dir}, {"check", file + "none"}, {"format", "--check", file}, {"format", dir},
		{"report", file, "--out", filepath.Join(dir, "out"), "--format", "json"}, {"draft", file}, {"sources", file},
		{"parts", file}, {"explain", "V", "--in", file}, {"compare", file, file}, {"compare", "HEAD", "HEAD", "--in", file},
	} {
		_, out := command(append(args, "--no-cache")...)
		require.NotContains(t, out, "\x1b", args)
		require.NotContains(t, out, "\x07", args)
		require.NotContains(t, out, "\u202e", args)
		require.NotContains(t, out, "\nfalse: passed", args)
	}
}
