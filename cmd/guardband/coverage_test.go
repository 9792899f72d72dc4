package main

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/eval/trade"
)

// TestCoverage: every row of the table of what is covered names checks and
// formulas that there are, and a case that is there.
func TestCoverage(t *testing.T) {
	root := filepath.Join("..", "..")
	text, err := os.ReadFile(filepath.Join(root, "examples", "guide", "coverage.md"))
	require.NoError(t, err)
	guide, err := os.ReadFile(filepath.Join(root, "examples", "guide", "guide.md"))
	require.NoError(t, err)
	formulas := map[string]bool{}
	for _, f := range trade.Functions() {
		formulas[f.Name] = true
	}
	tests := testNames(t, root)
	quoted := regexp.MustCompile("`([^`]+)`")
	rows := regexp.MustCompile(`(?m)^\| \d+ \|.*$`).FindAllString(string(text), -1)
	require.Len(t, rows, 49+26)
	for _, row := range rows {
		cells := strings.Split(row, "|")
		require.Len(t, cells, 6, row)
		how, shown := cells[3], quoted.FindAllStringSubmatch(cells[4], -1)
		for _, part := range strings.Split(how, ";") {
			kind, names, _ := strings.Cut(part, ":")
			for _, m := range quoted.FindAllStringSubmatch(names, -1) {
				switch strings.TrimSpace(kind) {
				case "built in", "the language, and built in":
					named := strings.Contains(string(guide), "`"+m[1]+"`") || strings.Contains(string(guide), "`"+m[1]+".")
					require.True(t, named, "%s in %s", m[1], row)
				case "formula":
					require.True(t, formulas[m[1]], "%s in %s", m[1], row)
				}
			}
		}
		require.NotEmpty(t, shown, row)
		for _, m := range shown {
			if name, _, _ := strings.Cut(m[1], "/"); strings.HasPrefix(name, "Test") {
				require.True(t, tests[name], "%s is not a test", m[1])
			} else {
				require.FileExists(t, filepath.Join(root, m[1]))
			}
		}
	}
}
