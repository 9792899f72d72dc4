package notebook

import (
	"fmt"
	"runtime"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

func read(t *testing.T, s string) (*Notebook, []Diagnostic) {
	t.Helper()
	n, d := Read(NewSource("h.md", "", []byte(s)))
	return n, d.Sorted()
}

// allocated is how many bytes f asks for.
func allocated(f func()) uint64 {
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	f()
	runtime.ReadMemStats(&after)
	return after.TotalAlloc - before.TotalAlloc
}

func codes(list []Diagnostic) []string {
	var out []string
	for _, d := range list {
		out = append(out, d.Code)
	}
	return out
}

func TestRefused(t *testing.T) {
	cases := map[string]struct {
		src, code string
		line, col int
	}{
		"NUL":           {"abc\nµd\x00e", "text-nul", 2, 3},
		"not UTF-8":     {"abc\nµ\xff", "text-encoding", 2, 2},
		"cut short":     {"abc\n\xe2\x82", "text-encoding", 2, 1},
		"UTF-16":        {"\xff\xfea\x00", "text-encoding", 1, 1},
		"lone CR":       {"a\r\nb\rc", "text-cr", 2, 2},
		"CR at the end": {"a\r", "text-cr", 1, 2},
		"hidden":        {"V = 3\u202e V", "text-hidden", 1, 6},
		"hidden fence":  {"a\n\n > \u200b```claim c\n```", "text-hidden", 3, 4},
		"mark in it":    {"a\n\n\ufeff~~~values\n~~~", "text-hidden", 3, 1},
	}
	for name, c := range cases {
		t.Run(name, func(t *testing.T) {
			n, list := read(t, c.src)
			require.Equal(t, []string{c.code}, codes(list))
			require.Equal(t, []int{c.line, c.col}, []int{list[0].Line, list[0].Col})
			require.Empty(t, n.Content)
			require.NotNil(t, n.Src)
		})
	}
	n, list := read(t, "")
	require.Empty(t, list)
	require.Empty(t, n.Content)
}

func TestTooLargeSource(t *testing.T) {
	_, list := read(t, strings.Repeat("words \n", MaxBytes/7+1))
	require.Equal(t, []string{"file-large"}, codes(list))
}

func TestLineEnds(t *testing.T) {
	src := "# A\n\n```values\nV = 3 V\n  + 1 V [r p.6]\n\nW = 2 V # x\n```\n"
	unix, list := read(t, src)
	require.Empty(t, list)
	dos, list := read(t, strings.ReplaceAll(src, "\n", "\r\n"))
	require.Empty(t, list)
	for i, e := range unix.Blocks[0].Entries {
		f := dos.Blocks[0].Entries[i]
		require.Equal(t, e.RHS.S, f.RHS.S)
		require.Equal(t, e.Lines, f.Lines)
		require.Equal(t, e.RHS.Pos(1).Col, f.RHS.Pos(1).Col)
	}
	require.Equal(t, "V = 3 V\n  + 1 V [r p.6]\n\nW = 2 V # x\n", unix.Blocks[0].Lines)
}

func TestByteOrderMark(t *testing.T) {
	dir := tree(t, map[string]string{"a.md": "\ufeff```values\nV = 3 V\n```\n"})
	b, err := Load("a.md", Options{Dir: dir})
	require.NoError(t, err)
	require.Empty(t, printed(b))
	require.Len(t, b.Notebooks[0].Blocks, 1)
	require.Equal(t, 4, b.Notebooks[0].Blocks[0].Pos.Col)
}

// TestSoups reads what is made to take time or memory without bound. Memory is
// bounded here; time that is not bounded would run into the limit of go test.
func TestSoups(t *testing.T) {
	cases := map[string]struct{ src, code string }{
		"emphasis":           {strings.Repeat("*a **b ", 40000), "prose-marks"},
		"emphasis in pieces": {strings.Repeat(strings.Repeat("*a **b ", 600)+"\n\n", 300), "prose-marks"},
		"underscores":        {strings.Repeat("_a __b ", 40000), "prose-marks"},
		"brackets":           {strings.Repeat("[", 100000), "prose-marks"},
		"open and closed":    {strings.Repeat("[a](", 50000), "prose-marks"},
		"code marks":         {strings.Repeat("` `` ``` ", 20000), "prose-marks"},
		"tags":               {strings.Repeat("<a <!-- <? ", 20000), "prose-marks"},
		"heading":            {"# " + strings.Repeat("*a **b ", 40000), "prose-marks"},
		"setext heading":     {strings.Repeat("*a **b ", 40000) + "\n===\n", "prose-marks"},
		"wide table":         {strings.Repeat("|a", 5000) + "|\n" + strings.Repeat("|-", 5000) + "|\n", "table-wide"},
		"ragged table":       {strings.Repeat("|a", 100) + "|\n" + strings.Repeat("|-", 100) + "|\n" + strings.Repeat("|\n", 30000), "table-ragged"},
		"deep list":          {strings.Repeat("- ", 20000) + "a", "prose-deep"},
		"deep quote":         {strings.Repeat(">", 20000) + "a", "prose-deep"},
		"deep by lines":      {deepList(600), "prose-deep"},
		"long entry":         {"```values\nV = " + strings.Repeat("1 + ", 50000) + "1\n```\n", "entry-long"},
		"long continuation":  {"```values\nV = 1\n" + strings.Repeat("  + 1\n", 50000) + "```\n", "entry-long"},
		"deep parentheses":   {"```values\nV = " + strings.Repeat("(", 30000) + "\n```\n", ""},
		"many designators":   {"```circuit\nC1-C999999999  capacitor 1 µF  A B\n```\n", "range-bad"},
		"many pins":          {"```part P\npins:\n  1-99999999  A  input\n```\n", "range-bad"},
		"nothing but faults": {"```values\n" + strings.Repeat("x\n", 100000) + "```\n", "too-many"},
		"fences":             {strings.Repeat("```values\n```\n", 30000), ""},
		"open citations":     {"```values\nV = 1 " + strings.Repeat("[a ", 15000) + "\n```\n", ""},
		"quotes":             {"```values\nV = 1 " + strings.Repeat("“a ", 12000) + "\n```\n", ""},
		"prose cites":        {"```claim c\nstatement: " + strings.Repeat("[a p.1 ", 9000) + "\n```\n", ""},
		"same headings":      {strings.Repeat("# a\n", 30000), ""},
		"one footnote":       {strings.Repeat("[^a]: x\n", 20000) + strings.Repeat("[^a]\n\n", 20000), ""},
		"footnotes":          {footnotes(20000), "footnote-many"},
		"references":         {strings.Repeat("[a]: /x\n", 50000), ""},
		"comment":            {strings.Repeat("<!-- \n", 50000), ""},
	}
	for name, c := range cases {
		t.Run(name, func(t *testing.T) {
			var list []Diagnostic
			used := allocated(func() { _, list = read(t, c.src) })
			require.Less(t, used, uint64(600<<20))
			if c.code != "" {
				require.Contains(t, codes(list), c.code)
			}
			require.LessOrEqual(t, len(list), MaxDiagnostics+1)
		})
	}
}

func footnotes(n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, "[^%d]: x\n\n[^%d]\n\n", i, n-i)
	}
	return b.String()
}

func deepList(n int) string {
	var b strings.Builder
	for i := range n {
		b.WriteString(strings.Repeat("  ", i) + "- a\n")
	}
	return b.String()
}
