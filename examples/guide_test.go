package examples_test

import (
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/eval/checks"
	"guardband/eval/record"
	"guardband/notebook"
)

// The guide names every fence and every label of the language.
func TestGuideNamesEveryLabel(t *testing.T) {
	data, err := os.ReadFile("guide/guide.md")
	require.NoError(t, err)
	guide := string(data)
	for _, kind := range notebook.Kinds() {
		require.Contains(t, guide, "\n```"+kind, "no %s block", kind)
		for _, l := range notebook.Labels(kind) {
			typed := regexp.MustCompile("(?m)^\\s*" + l + "( \\S+)?:|`" + l + "[`: ]|`[^`]*, " + l + "`")
			require.Regexp(t, typed, guide, "label %s of %s", l, kind)
		}
	}
}

// The guide's section of built-in checks has a row for each: their names stand
// at the head of their files.
func TestGuideNamesEveryBuiltInCheck(t *testing.T) {
	data, err := os.ReadFile("guide/guide.md")
	require.NoError(t, err)
	_, section, ok := strings.Cut(string(data), "## 10. Built-in checks")
	require.True(t, ok)
	section, _, _ = strings.Cut(section, "\n## 12.")
	for _, k := range checks.All() {
		require.Contains(t, section, "`"+k.Name+".")
	}
}

// The readings that the guide shows agree with its notes.
func TestGuideReadings(t *testing.T) {
	r := compile(t, "guide/guide.md", "guide")
	require.NotEmpty(t, r.Readings)
	for _, x := range r.Readings {
		require.Equal(t, record.Passed, x.Verdict, "%s: %s", x.Name, x.Text)
	}
}
