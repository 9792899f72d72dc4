package formula

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "rewrite golden files")

// TestGolden shows what becomes of each formula of testdata/formulas.txt: its
// canonical text with the shape of its tree, or its complaints under the
// characters they speak of.
func TestGolden(t *testing.T) {
	in, err := os.ReadFile(filepath.Join("testdata", "formulas.txt"))
	require.NoError(t, err)
	var out strings.Builder
	for _, line := range strings.Split(strings.TrimRight(string(in), "\n"), "\n") {
		if strings.HasPrefix(line, "# ") {
			out.WriteString(line + "\n")
			continue
		}
		out.WriteString(show(line))
	}
	golden := filepath.Join("testdata", "formulas.golden")
	if *update {
		require.NoError(t, os.WriteFile(golden, []byte(out.String()), 0o644))
	}
	want, err := os.ReadFile(golden)
	require.NoError(t, err)
	wants, gots := strings.Split(string(want), "\n"), strings.Split(out.String(), "\n")
	for i := range min(len(wants), len(gots)) {
		require.Equal(t, wants[i], gots[i], "line %d; -update rewrites the file", i+1)
	}
	require.Len(t, gots, len(wants))
}

// message leaves out the words of complaints that package units makes.
func message(x *Error) string {
	for _, own := range []string{"formula-", "name-", "designator-", "range-"} {
		if strings.HasPrefix(x.Code, own) {
			return x.Code + ": " + x.Error()
		}
	}
	return x.Code
}

func show(text string) string {
	e, errs := Parse(text)
	var b strings.Builder
	b.WriteString("  " + text + "\n")
	for _, x := range errs {
		off := utf8.RuneCountInString(text[:x.Off])
		width := max(1, utf8.RuneCountInString(text[x.Off:x.End]))
		fmt.Fprintf(&b, "  %s%s %s\n", strings.Repeat(" ", off), strings.Repeat("^", width), message(x))
	}
	if len(errs) == 0 {
		fmt.Fprintf(&b, "= %s\n", e.Root.Canonical(text))
		fmt.Fprintf(&b, "  %s\n", shape(e.Root, text))
	}
	return b.String()
}

// shape writes a tree with the text each node covers.
func shape(n *Node, text string) string {
	name := [...]string{"bad", "literal", "range", "text", "bool", "name", "unary", "binary", "chain", "inside", "if",
		"call", "list", "field", "paren"}[n.Kind]
	if len(n.Args) == 0 {
		return name + "<" + text[n.Off():n.End()] + ">"
	}
	var args []string
	for _, a := range n.Args {
		args = append(args, shape(a, text))
	}
	return name + "<" + text[n.Off():n.End()] + ">{" + strings.Join(args, " ") + "}"
}
