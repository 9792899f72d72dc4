package notebook

import (
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/require"
)

// FuzzRead holds reading and formatting to what must hold for any bytes: no
// panic, every place in the file, formatting that settles at once and changes
// no meaning.
func FuzzRead(f *testing.F) {
	for _, chunk := range cases(f) {
		src, _ := parseCase(chunk)
		f.Add([]byte(src))
	}
	for _, s := range []string{
		"- x\n\n\t```values\n\tV = 3 V\n\t```\n", "> ```part P\n> pins:\n>   1 A input\n> ```", "```values\r\nV = 1 V\r\n",
		"```claim c\nstatement: a\n  #b\n  # c\n```", "```circuit\nU1 \"a b\"  X=\"c d\"\n```", "```values\nV = “a”b\" [x “\n```",
		"# a\n# a\n# a-2\n", "&#0;&amp;\\&amp;", "[a p.1\n> [b p.2]\n", "~~~values\nV=+-2mV at T=1K;\"x\" [a p.1-2] unconfirmed\n~~~",
		"| [a p.1] | `\\|` |\n|:-|-:|\n| x |\n", "[^1] [^1]\n\n[^1]: a\n    ```values\n    V = 1\n    ```\n", "\x00", "a\rb", "\xff",
	} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) > 1<<16 {
			return
		}
		src := NewSource("f.md", "", data)
		n, d := Read(src)
		for _, x := range d.Sorted() {
			require.LessOrEqual(t, x.Line, src.Lines())
			require.Positive(t, x.Line)
			width := utf8.RuneCountInString(src.Line(x.Line)) + 1
			require.LessOrEqual(t, x.Col, width+2) // CR and LF may be meant
			require.LessOrEqual(t, x.EndCol, width+2)
			require.True(t, x.EndCol == 0 || x.EndCol > x.Col)
			require.Equal(t, src.Line(x.Line), x.Source)
		}
		eachText(n, func(x Text) { checkText(t, x) })
		eachNode(n.Content, func(m *Node) {
			require.LessOrEqual(t, m.Pos.Offset, len(data))
			require.True(t, utf8.ValidString(m.Text))
		})
		Print(&strings.Builder{}, d.Sorted(), PrintOptions{Max: -1})
		checkFormat(t, data, n, d)
	})
}

func checkFormat(t *testing.T, data []byte, n *Notebook, d *Diagnostics) {
	once, d2 := Format(data)
	require.Equal(t, len(d.Sorted()), len(d2.Sorted()))
	m, d3 := Read(NewSource("f.md", "", once))
	require.Equal(t, d.Errors(), d3.Errors(), "%q", once)
	require.Equal(t, meaning(n), meaning(m), "%q", once)
	twice, _ := Format(once)
	require.Equal(t, string(once), string(twice))
}

// meaning is what all blocks say.
func meaning(n *Notebook) string {
	var b strings.Builder
	for _, x := range n.Blocks {
		b.WriteString("\n=" + x.Kind + " " + x.ID)
		for _, e := range x.Entries {
			writeMeaning(&b, e)
		}
	}
	return b.String()
}
