package notebook

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// refusal is the code of the first complaint about a notebook, "" for none.
func refusal(text string) string {
	_, d := Read(NewSource("x.md", "x.md", []byte(text)))
	if list := d.Sorted(); len(list) > 0 {
		return list[0].Code
	}
	return ""
}

// What would take too much is refused by count, whatever the machine.
func TestCostIsBounded(t *testing.T) {
	require.Empty(t, refusal(strings.Repeat("# a\n", MaxLines-1)))
	require.Equal(t, "file-long", refusal(strings.Repeat("a\n", MaxLines)))
	require.Equal(t, "prose-marks", refusal(strings.Repeat(strings.Repeat("`a` ", 30)+"\n\n", maxPieces/60+1)))
	require.Equal(t, "prose-marks", refusal(strings.Repeat("http://a.b ", MaxMarks+1)))
	wide := "|" + strings.Repeat("a|", MaxColumns) + "\n|" + strings.Repeat("-|", MaxColumns) + "\n"
	require.Equal(t, "table-large", refusal(wide+strings.Repeat("|"+strings.Repeat("1|", MaxColumns)+"\n", maxPieces/MaxColumns)))
}

// The lines of all notebooks of a design count together.
func TestLinesOfADesign(t *testing.T) {
	dir := t.TempDir()
	put := func(name, text string) {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644))
	}
	put("board.md", "```design\ntitle: Many\ninclude: a.md, b.md, c.md\n```\n")
	for _, name := range []string{"a.md", "b.md", "c.md"} {
		put(name, strings.Repeat("a\n", MaxLines*2/5))
	}
	book, err := Load(filepath.Join(dir, "board.md"), Options{})
	require.NoError(t, err)
	list := book.Diags.Sorted()
	require.Len(t, list, 1)
	require.Equal(t, "file-long", list[0].Code)
	require.True(t, strings.HasSuffix(list[0].File, "c.md"))
}

// A long paragraph is read whole, and places in a long line are right.
func TestLongProse(t *testing.T) {
	var want strings.Builder
	for i := range 20_000 {
		fmt.Fprintf(&want, "line %d of one paragraph\n", i)
	}
	n, _ := Read(NewSource("x.md", "x.md", []byte(want.String())))
	require.Len(t, n.Content, 1)
	require.Equal(t, strings.TrimSuffix(want.String(), "\n"), plainText(n.Content[0].Children))

	line := strings.Repeat("µ `x` ", 1500)
	n, _ = Read(NewSource("x.md", "x.md", []byte(line)))
	for i, m := range n.Content[0].Children {
		require.Equal(t, 1+len([]rune(line[:m.Pos.Offset])), m.Pos.Col, i)
	}
}
