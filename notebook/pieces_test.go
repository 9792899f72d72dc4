package notebook

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// readWhole reads a notebook in one piece, so that goldmark finds all fences.
func readWhole(src *Source) (*Notebook, []Diagnostic) {
	r := newReader(src)
	if r.acceptable() {
		r.take(r.readAll(wholeFile(src), newMarkBudget()))
	}
	return r.book, r.diags.Sorted()
}

func sameAsWhole(t require.TestingT, text string) {
	whole, want := readWhole(NewSource("n.md", "", []byte(text)))
	parted, diags := Read(NewSource("n.md", "", []byte(text)))
	require.Equal(t, want, diags.Sorted(), text)
	require.Equal(t, len(whole.Content), len(parted.Content), text)
	for i := range whole.Content {
		require.Equal(t, whole.Content[i], parted.Content[i], text)
	}
	require.Equal(t, whole.Blocks, parted.Blocks, text)
}

// TestPiecesReadAsWhole holds what is read piece by piece against what
// goldmark makes of the whole file, for lines of every kind in any order.
func TestPiecesReadAsWhole(t *testing.T) {
	lines := []string{
		"", "", "", "text *a* [reg p.3]", "lazy", "# H", "---", "===", "- item", "  more", "1. one", "   in it", "> quote", "> > deep", "    code", "\tcode",
		"```values", "```values", "```", "```", "A = 1 V", "~~~", "~~~~ claim c", "~~~~", "``` go x", "```a`b", "````", "```  ", "``",
		" ```values", "  ```", "   ~~~", "    ```", "\t```", "- ```values", "> ```", "- - ```claim d",
		"<div>", "</div>", "<a href='x'>", "<!-- c", "-->", "<!-- c -->", " <!-- x", "<script>", "</script>", "<?x", "?>", "<!X", "<![CDATA[", "]]>", "< no", "<pre", "</pre>", "x <!-- y", "<http://a.b>", "<x", "<p>",
		"[a]: /url", "[a]", "[b][a]", "[a]: <x", "'title'", "[b]: /b 'ti", "tle'", "[reg p.4]: said", "[^n]", "[^n]: note", "    in note",
		"Check 1: what (it) is, 5 % w/o \"x\"", "plain words.", "plain  ", "µ ok", "Ünder µ", "see www.x.org", "a http://x.y z", "to ftp://x", "mail a@b.co", "a ~~b~~", "a & b", "a &amp; b", "a > b", "HTTP://X.Y", "WWW.x.org", "| a | b |", "|---|---|", "| c |", "**", "[value A]", "[verdict c]", "\\", "a\\", "a  ",
	}
	rapid.Check(t, func(rt *rapid.T) {
		picked := rapid.SliceOfN(rapid.SampledFrom(lines), 1, 24).Draw(rt, "lines")
		end := rapid.SampledFrom([]string{"\n", "\n", "\n", "\r\n"}).Draw(rt, "line end")
		text := strings.Join(picked, end)
		if rapid.Bool().Draw(rt, "ended") {
			text += end
		}
		sameAsWhole(rt, text)
	})
}

// TestPiecesOfNotebooks does the same with notebooks as they are written.
func TestPiecesOfNotebooks(t *testing.T) {
	found := 0
	for _, pattern := range []string{"../examples/*/*.md", "../examples/*/*/*.md", "../README.md", "testdata/*.md", "testdata/*/*.md"} {
		files, err := filepath.Glob(pattern)
		require.NoError(t, err)
		for _, f := range files {
			data, err := os.ReadFile(f)
			require.NoError(t, err)
			sameAsWhole(t, string(data))
			found++
		}
	}
	require.Greater(t, found, 10)
	sameAsWhole(t, string(faulty(300)))
	sameAsWhole(t, string(bigNotebook(2000)))
}

// TestPiecesAreCut says that the ways to read are two: what stands at the left
// edge is cut out, and nothing behind what may reach over it.
func TestPiecesAreCut(t *testing.T) {
	kinds := func(text string) string {
		var b strings.Builder
		for _, p := range cut(NewSource("n.md", "", []byte(text))) {
			b.WriteByte(map[bool]byte{true: 'F', false: '.'}[p.fenced])
		}
		return b.String()
	}
	const block = "```values\nA = 1 V\n```\n"
	require.Equal(t, ".F.F", kinds("a\n"+block+"b\n"+block))
	require.Equal(t, "FF", kinds(block+block))
	require.Equal(t, "F.F", kinds(block+"[a]: /x\n"+block), "reference links are known to all pieces")
	require.Equal(t, ".F", kinds("<!-- ```values\n```\n-->\n"+block))
	require.Equal(t, ".F", kinds("<div>\n\n"+block))
	require.Equal(t, "F.", kinds(block+"<div>\n"+block))
	require.Equal(t, "F.", kinds(block+"- a\n\n  ```values\n"+block))
	require.Equal(t, "F.", kinds(block+"<script>\n\n"+block))
	require.Equal(t, ".", kinds(block+"a[^1]\n\n[^1]: b\n"+block))
}

// TestMarksInPieces: what may be spent on marks holds for the file, however it
// is parted.
func TestMarksInPieces(t *testing.T) {
	text := strings.Repeat(strings.Repeat("*a **b ", 600)+"\n\n```values\n```\n", 300)
	_, list := read(t, text)
	require.Contains(t, codes(list), "prose-marks")
	_, want := readWhole(NewSource("n.md", "", []byte(text)))
	require.Equal(t, len(want), len(list))
}
