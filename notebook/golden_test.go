package notebook

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "rewrite golden files")

func golden(t *testing.T, path, got string) {
	t.Helper()
	if *update {
		require.NoError(t, os.WriteFile(path, []byte(got), 0o644))
	}
	want, err := os.ReadFile(path)
	require.NoError(t, err)
	require.Equal(t, string(want), got)
}

// TestGolden reads whole notebooks and compares the tree of prose and what
// the blocks say, and their laid-out form.
func TestGolden(t *testing.T) {
	files, err := filepath.Glob("../testdata/notebook/golden/*.md")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	for _, f := range files {
		t.Run(filepath.Base(f), func(t *testing.T) {
			data, err := os.ReadFile(f)
			require.NoError(t, err)
			src := NewSource(filepath.Base(f), "", data)
			n, d := Read(src)
			var b strings.Builder
			dump(&b, n.Content, 0)
			for _, x := range d.Sorted() {
				fmt.Fprintf(&b, "%d:%d %s %s\n", x.Line, x.Col, x.Severity, x.Code)
			}
			golden(t, f+".tree.txt", b.String())
			laid, _ := Format(data)
			golden(t, f+".laid.txt", string(laid))
		})
	}
}

func dump(b *strings.Builder, nodes []*Node, depth int) {
	for _, n := range nodes {
		fmt.Fprintf(b, "%s%s %d:%d", strings.Repeat("  ", depth), n.Kind, n.Pos.Line, n.Pos.Col)
		for _, f := range []struct{ name, value string }{{"id", n.ID}, {"text", n.Text}, {"unit", n.Unit},
			{"url", n.URL}, {"info", n.Info}, {"align", n.Align}, {"checked", n.Checked}, {"src", n.Src.S}} {
			if f.value != "" {
				fmt.Fprintf(b, " %s=%q", f.name, f.value)
			}
		}
		if n.Level > 0 || n.Ordered || n.Head {
			fmt.Fprintf(b, " level=%d ordered=%v start=%d head=%v", n.Level, n.Ordered, n.Start, n.Head)
		}
		if n.Cite != nil {
			fmt.Fprintf(b, " cite=%s|%s|%s|%s", n.Cite.Source, n.Cite.From, n.Cite.To, n.Cite.Quote)
		}
		b.WriteByte('\n')
		if n.Block != nil {
			var m strings.Builder
			for _, e := range n.Block.Entries {
				writeMeaning(&m, e)
			}
			b.WriteString(strings.TrimPrefix(m.String(), "\n"))
			b.WriteByte('\n')
		}
		dump(b, n.Children, depth+1)
	}
}
