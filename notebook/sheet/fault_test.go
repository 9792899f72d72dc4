package sheet

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// oddWords are what titles, numbers and units of a page are put together
// from: forms that folding changes in length, brackets that do not close,
// letters whose small form is longer, empty and lone characters.
var oddWords = strings.Fields("（V） （ ） ( ) [ ] ［mA］ Max（V） Max(V) Min( Typ[ Symbol（ ȺȺ( ȺȺȺ（V İİ(mV) ﬁ( ﷺ( ½ ⅞V ㎂ ㎷（max） K Ω µA " +
	"－５ ±3 ±（ -- – … .. ... .5 5. 5,5 1e9 1·10⁻³ ≤ ≥3 ~ 12V 3V3 0x1F 100n V_DROP V(BR) R_{θJA} Parameter Unit Units Min Typ Max " +
	"Conditions Pin Name Function Description Order code Package Marking Symbol Value °C ° C % / /V V/A A/ at for to up max. min. typ. " +
	"Figure 7. Table 2: 1.2.3 Absolute Maximum Ratings Electrical Characteristics Recommended Operating Application Information " +
	"10 µF 22Ω ceramic capacitor close to from VIN SOT-23-5 QX{volts}{case} QX-33AD ¯ ̈ ́ \u200d \ufeff \u00ad \ufffd \U0001F50B ß ẞ ŉ ǰ ΐ Ⱦ")

func oddPage(r *rand.Rand, n int) *Page {
	p := &Page{Number: n, Label: fmt.Sprint(n), Width: 595, Height: 842}
	word := func() string {
		w := oddWords[r.IntN(len(oddWords))]
		switch r.IntN(6) {
		case 0:
			w += oddWords[r.IntN(len(oddWords))]
		case 1:
			if s := []rune(w); len(s) > 1 {
				w = string(s[r.IntN(len(s)):])
			}
		}
		return w
	}
	y := 40.0
	for range 10 + r.IntN(40) {
		size := float64(6 + 2*r.IntN(3))
		var l Line
		for x := 40.0; x < 500 && r.IntN(9) > 0; {
			text := word()
			w := size * 0.5 * float64(len([]rune(text)))
			l.Words = append(l.Words, Word{Text: text, Size: size, Box: Box{Page: n, X0: x, Y0: y, X1: x + w, Y1: y + size}})
			x += w + []float64{size * 0.3, size * 0.3, 60, 90}[r.IntN(4)]
		}
		if len(l.Words) > 0 {
			p.Lines = append(p.Lines, l.sum(n))
		}
		y += size * []float64{1.1, 1.1, 1.6, 3}[r.IntN(4)]
	}
	return p
}

// Whatever stands on a page, reading it, searching it, judging citations and
// drafting from it ends without a fault.
func TestOddPagesAreRead(t *testing.T) {
	for seed := range uint64(300) {
		r := rand.New(rand.NewPCG(seed, 1))
		p := oddPage(r, 1)
		read := func() {
			v := newView(p)
			b := newIndexer()
			b.add(v)
			v.hits(parseSearch("Max 12 V " + oddWords[r.IntN(len(oddWords))]))
			k := checker{head: &header{Pages: 1}, views: map[int]*view{1: v}}
			for range 4 {
				q := Query{From: "1", Counted: true, Name: oddWords[r.IntN(len(oddWords))]}
				for range r.IntN(3) {
					q.Numbers = append(q.Numbers, Number{Text: "12", Value: 12, Unit: []string{"V", "mA", "", "°C"}[r.IntN(4)],
						Column: []string{"", "min", "typ", "max"}[r.IntN(4)]})
				}
				if r.IntN(2) == 0 && len(p.Lines) > 0 {
					q.Quote = p.Lines[r.IntN(len(p.Lines))].Text
				}
				if q.Quote != "" && len(findQuote(p, v.text(), new(folded))) == 0 {
					quote := foldQuote(q.Quote)
					if len(findQuote(p, v.text(), &quote)) == 0 {
						continue // would look for it on other pages, which are not there
					}
				}
				_, err := k.check(q)
				require.NoError(t, err)
			}
			s := readSignals(newView(p))
			d := &drafter{}
			d.page(&s)
			d.sortOrders()
			d.settlePackages()
			d.settlePins()
			d.notFound()
			rank([]pageSignals{s}, &header{Pages: 1})
		}
		require.NotPanics(t, read, "page %d", seed)
	}
}

// A fault on a page is told of that citation; the others are answered.
func TestFaultLosesOnePage(t *testing.T) {
	err := onPage(3, func() error {
		var p *Page
		p.Lines[0].Text = ""
		return nil
	})
	require.ErrorIs(t, err, ErrFault)
	require.True(t, lasting(err))
	require.Regexp(t, `^page 3: a fault of guardband at fault_test\.go:\d+ \(runtime error: .*\), please report it$`, err.Error())
}

// A bracket of full width opens a unit as any other does.
func TestFullWidthBracket(t *testing.T) {
	for _, title := range []string{"Max（V）", "Max (V)", "Max［V］", "MAX（V)"} {
		kind, m, ok := headKind(title)
		require.True(t, ok, title)
		require.Equal(t, KindMax, kind, title)
		require.Equal(t, "V", unitText(title, m), title)
	}
	for _, title := range []string{"ȺȺ(V)", "İİİ（mV）", "（V）", "(V"} {
		_, m, _ := headKind(title)
		unitText(title, m)
	}
}
