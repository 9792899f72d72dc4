package sheet

import (
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"testing"

	"github.com/stretchr/testify/require"
)

// variant changes a layout by chance: size, padding, rules, spans, headings in
// the table, alignment, lowered type, marks for nothing, tables side by side.
func variant(r *rand.Rand, n int) corpusLayout {
	all := corpusLayouts()
	l := all[r.IntN(len(all))]
	l.Name = fmt.Sprintf("%s-v%d", l.Name, n)
	l.Size *= 0.85 + 0.25*r.Float64()
	l.Padding = []float64{0, 0.5, 1, 2, 3, 4}[r.IntN(6)]
	l.Rules, l.Groups, l.Centre = r.IntN(2) == 0, r.IntN(2) == 0, r.IntN(2) == 0
	l.Right = r.IntN(3) == 0
	l.Merge = []string{"", "top", "middle"}[r.IntN(3)]
	l.Blank = []string{"", "-", "—", "–"}[r.IntN(4)]
	l.Lowered = r.IntN(3) == 0
	if l.Font == "core" {
		l.Lowered, l.Blank = false, "-"
	}
	if l.Landscape && l.Beside == "" && r.IntN(2) == 0 {
		l.Size, l.Beside = 6+r.Float64(), []string{"level", "low"}[r.IntN(2)]
	}
	return l
}

// TestTableCellsOfVariants reads tables in layouts changed by chance. In some of
// them text runs over its cell or a heading cannot be told from a wrapped name,
// so names may come out wrong now and then; numbers and units must not.
func TestTableCellsOfVariants(t *testing.T) {
	r := rand.New(rand.NewPCG(20250302, 1))
	devices := corpusDevices()
	count := 120
	if testing.Short() {
		count = 24
	}
	var cells, limits tally
	for n := range count {
		lay := variant(r, n)
		s, err := corpusWrite(devices[r.IntN(len(devices))], lay)
		require.NoError(t, err)
		var read, truth []map[Kind]string
		path := put(t, "s.pdf", s.PDF)
		in, err := shared.Inspect(context.Background(), path)
		require.NoError(t, err)
		for _, tables := range sheetTables(t, shared, path, in.Pages) {
			for _, tb := range tables {
				for i := range tb.Rows {
					if tb.hasLimits() {
						read = append(read, readRow(tb, &tb.Rows[i]))
					}
				}
			}
		}
		for i, rows := range [][]corpusRow{s.Device.AbsMax, s.Device.Operating, s.Device.Thermal, s.Device.Electric} {
			for _, row := range rows {
				if i != 2 || !lay.TwoColumn {
					truth = append(truth, truthRow(row, lay, i == 0 && lay.Ranges || i == 1 && lay.Lists && row.Min != "" && row.Max != ""))
				}
			}
		}
		c, wrong := compare(read, truth)
		cells.add(c)
		limits.add(limitCells(read, truth))
		if os.Getenv("GUARDBAND_SHOW_WRONG") != "" && len(wrong) > 0 {
			fmt.Printf("%s %s %+v\n  %v\n", lay.Name, s.Device.Name, lay, wrong)
		}
	}
	t.Logf("%d variants: cells printed %d  offered %d  right %d  precision %.4f  recall %.4f; of numbers and units precision %.4f  recall %.4f",
		count, cells.wanted, cells.offered, cells.right, cells.precision(), cells.recall(), limits.precision(), limits.recall())
	require.GreaterOrEqual(t, cells.precision(), 0.995)
	require.GreaterOrEqual(t, cells.recall(), 0.99)
	require.GreaterOrEqual(t, limits.precision(), 0.9995)
}

// limitCells counts the numbers and units of rows alone, paired by all cells.
func limitCells(read, truth []map[Kind]string) (n tally) {
	is := func(k Kind) bool { return k.isLimit() || k == KindUnit }
	for _, row := range truth {
		for k, v := range row {
			if is(k) && v != "" {
				n.wanted++
			}
		}
	}
	owner := pair(read, truth)
	for j, r := range read {
		for k, v := range r {
			if !is(k) || v == "" {
				continue
			}
			n.offered++
			if owner[j] >= 0 && truth[owner[j]][k] == v {
				n.right++
			}
		}
	}
	return n
}
