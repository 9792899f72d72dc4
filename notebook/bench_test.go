package notebook

import (
	"fmt"
	"strings"
	"testing"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/extension"
	"github.com/yuin/goldmark/text"
)

// bigNotebook makes a notebook of n blocks with prose between them, about 210
// bytes each.
func bigNotebook(n int) []byte {
	var b strings.Builder
	for i := range n {
		switch i % 4 {
		case 0:
			fmt.Fprintf(&b, "## Rail %d\n\nThe rail *must* hold [reg p.%d] while the [value V_%d in mV] load runs.\n\n", i, i%90+1, i)
			fmt.Fprintf(&b, "```values\nV_%d = 3.0 V to 3.6 V    [reg p.%d \"Input voltage\"]\nR_%d = 100 kΩ ± 1 %%   # divider\n```\n\n", i, i%90+1, i)
		case 1:
			fmt.Fprintf(&b, "```claim c-%d\nstatement: The rail stays inside its range.\ncriterion: V_%d <= 3.6 V\nmargin:    5 %%\nreason:    Brown-out corrupts the log. [mcu p.88]\n```\n\n", i, i-1)
		case 2:
			fmt.Fprintf(&b, "```part P%d\ntitle: A regulator\nsource: reg\noperating V_IN = 1.9 V to 5.6 V [p.5]\nspec V_OUT = 3.0 V ± 2 %% at I_OUT = 1 mA to 150 mA [p.6]\npins:\n  1  VIN  supply\n  2  GND  ground\n```\n\n", i)
		default:
			fmt.Fprintf(&b, "Some words of prose that say why, with **weight** and `code`.\n\n```circuit\nU%d  P%d  VIN=V_%d GND=GND  in use: T_A = 25 °C\n```\n\n", i, i-1, i-3)
		}
	}
	return []byte(b.String())
}

// BenchmarkRead is to be held against BenchmarkFloor of the same run: the
// Markdown parser alone on the same bytes.
func BenchmarkRead(b *testing.B) {
	data := bigNotebook(48000)
	b.SetBytes(int64(len(data)))
	b.ReportAllocs()
	for b.Loop() {
		n, _ := Read(NewSource("big.md", "", data))
		if len(n.Blocks) != 48000 {
			b.Fatal(len(n.Blocks))
		}
	}
}

func BenchmarkFloor(b *testing.B) {
	data := bigNotebook(48000)
	b.SetBytes(int64(len(data)))
	b.ReportAllocs()
	p := goldmark.New(goldmark.WithExtensions(extension.GFM, extension.Footnote)).Parser()
	for b.Loop() {
		p.Parse(text.NewReader(data))
	}
}
