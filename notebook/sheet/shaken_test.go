package sheet

import (
	"context"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// shake moves, drops, joins and turns pieces of a page's text, and moves and
// drops its ruled lines.
func shake(r *rand.Rand, p *Page) *Page {
	out := *p
	out.Lines, out.rules, out.marks = nil, nil, p.marks
	rate := []float64{0.01, 0.05, 0.3}[r.IntN(3)]
	shift := func() float64 { return r.NormFloat64() * []float64{1, 6, 60}[r.IntN(3)] }
	for _, l := range p.Lines {
		line := Line{Box: l.Box}
		for _, w := range l.Words {
			if r.Float64() < rate {
				switch dx, dy := shift(), shift(); r.IntN(5) {
				case 0:
					continue
				case 1:
					w.Box.X0, w.Box.X1, w.Box.Y0, w.Box.Y1 = w.Box.X0+dx, w.Box.X1+dx, w.Box.Y0+dy, w.Box.Y1+dy
				case 2: // joined to the word before
					if n := len(line.Words); n > 0 {
						line.Words[n-1].Text += w.Text
						line.Words[n-1].Box.X1 = w.Box.X1
						continue
					}
				case 3:
					w.Turn = uint8(r.IntN(5))
				case 4:
					w.Size *= 0.2 + 2*r.Float64()
				}
			}
			line.Words = append(line.Words, w)
		}
		if len(line.Words) == 0 {
			continue
		}
		texts := make([]string, len(line.Words))
		for i, w := range line.Words {
			texts[i] = w.Text
		}
		line.Text = strings.Join(texts, " ")
		out.Lines = append(out.Lines, line)
	}
	for _, u := range p.rules {
		switch {
		case r.Float64() >= rate:
		case r.IntN(2) == 0:
			continue
		default:
			dx, dy := shift(), shift()
			u = rect{u.x0 + dx, u.y0 + dy, u.x1 + dx, u.y1 + dy}
		}
		out.rules = append(out.rules, u)
	}
	return &out
}

// TestShakenPages: whatever is moved, dropped or joined on a page, reading it
// ends without a fault, and no row has a number that the page does not show.
// GUARDBAND_SHAKEN is how many pages are shaken; GUARDBAND_REAL_SHEETS adds a
// folder of sheets to those of the project.
func TestShakenPages(t *testing.T) {
	n := 200
	if s := os.Getenv("GUARDBAND_SHAKEN"); s != "" {
		var err error
		n, err = strconv.Atoi(s)
		require.NoError(t, err)
	}
	var paths []string
	for _, f := range sheetFiles(t) {
		paths = append(paths, f.path)
	}
	if dir := os.Getenv("GUARDBAND_REAL_SHEETS"); dir != "" {
		more, err := filepath.Glob(filepath.Join(dir, "*.pdf"))
		require.NoError(t, err)
		paths = append(paths, more...)
	}
	var pages []*Page
	for _, path := range paths {
		in, err := shared.Inspect(context.Background(), path)
		if err != nil {
			continue
		}
		for k := 1; k <= min(in.Pages, 12); k++ {
			if p, err := shared.PageText(context.Background(), path, k); err == nil && len(p.Lines) > 0 {
				pages = append(pages, &p)
			}
		}
	}
	require.NotEmpty(t, pages)
	r := rand.New(rand.NewPCG(20261129, 7))
	rows := 0
	for range n {
		d := &drafter{}
		shown := ""
		from := r.IntN(len(pages))
		for k := from; k < min(from+2, len(pages)); k++ { // tables go on
			p := shake(r, pages[k])
			for _, l := range p.Lines {
				for _, w := range l.Words {
					shown += strings.ReplaceAll(foldString(w.Text), "'", "") + " "
				}
			}
			s := readSignals(newView(p))
			d.page(&s)
		}
		d.sortOrders()
		d.settlePackages()
		d.settlePins()
		for _, list := range [][]DraftRow{d.Ratings, d.Operating, d.Spec, d.Unplaced} {
			for _, row := range list {
				rows++
				for _, cell := range []string{row.Min, row.Typ, row.Max, row.Value} {
					for _, num := range numberRuns().FindAllString(strings.ReplaceAll(foldString(cell), "'", ""), -1) {
						if !strings.Contains(cell, "e") { // a power is put together
							require.True(t, strings.Contains(shown, num), "%s is not on the page: %+v", num, row)
						}
					}
				}
			}
		}
	}
	require.Greater(t, rows, n)
}

var numberRuns = pattern(`\d+(\.\d+)?`)
