package notebook

import (
	"fmt"
	"runtime"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// faulty is a notebook of n blocks, with a mistake in the prose before every
// third and in the entries of every second.
func faulty(n int) []byte {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, "Block %d.\n\n", i)
		if i%3 == 0 {
			fmt.Fprintf(&b, "    ```claim c%d\n    statement: swallowed\n\nText [S%d p.1 p.2].\n\n", i, i)
		}
		fmt.Fprintf(&b, "```values\nA%d = %d V\n", i, i)
		if i%2 == 0 {
			fmt.Fprintf(&b, "B%d %d V\nlabel: x\n", i, i)
		}
		b.WriteString("```\n\n")
		if i%5 == 0 {
			b.WriteString("```claim a b\nstatement: two words\n```\n\n")
		}
	}
	return []byte(b.String())
}

func TestBlocksReadSideBySide(t *testing.T) {
	for _, n := range []int{1, 63, 64, 65, 130, 2500} {
		text := faulty(n)
		read := func(procs int) (*Notebook, []Diagnostic) {
			defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(procs))
			book, diags := Read(NewSource("n.md", "", text))
			return book, diags.list
		}
		one, first := read(1)
		for range 3 {
			many, again := read(4)
			require.Equal(t, first, again)
			require.Equal(t, len(one.Blocks), len(many.Blocks))
			for i := range one.Blocks {
				require.Equal(t, one.Blocks[i].Entries, many.Blocks[i].Entries)
			}
		}
		require.LessOrEqual(t, len(first), MaxDiagnostics+1)
		if n == 2500 {
			require.Equal(t, "too-many", first[len(first)-1].Code)
			require.Regexp(t, `^[0-9]+ more complaints`, first[len(first)-1].Message)
			inOrder(t, first[:MaxDiagnostics])
		}
	}
}

// inOrder checks that complaints of fences and entries stand in the order of
// the file; those of the prose come first of all.
func inOrder(t *testing.T, list []Diagnostic) {
	line := 0
	for _, d := range list {
		if strings.HasPrefix(d.Code, "cite") {
			continue
		}
		require.GreaterOrEqual(t, d.Line, line, d.Code)
		line = d.Line
	}
}

func TestFormatLeavesFaultyBlocks(t *testing.T) {
	const good, inside, fence = "```values\nA=1 V\n```\n", "```values\nB=2 V\nC 3 V\n```\n", "```values x\nD=4 V\n```\n"
	out, _ := Format([]byte(good + inside + fence + good[:len(good)-6] + "\n```\n"))
	require.Contains(t, string(out), "A = 1 V")
	require.Contains(t, string(out), inside)
	require.Contains(t, string(out), fence)
}
