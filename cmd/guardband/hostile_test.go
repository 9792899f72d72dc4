package main

import (
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

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
