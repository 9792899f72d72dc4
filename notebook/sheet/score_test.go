package sheet

import (
	"context"
	"fmt"
	"os"
	"sort"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// tally counts right and wrong answers.
type tally struct{ offered, right, wanted int }

func (t *tally) add(u tally) { t.offered += u.offered; t.right += u.right; t.wanted += u.wanted }

func (t tally) precision() float64 {
	if t.offered == 0 {
		return 1
	}
	return float64(t.right) / float64(t.offered)
}

func (t tally) recall() float64 {
	if t.wanted == 0 {
		return 1
	}
	return float64(t.right) / float64(t.wanted)
}

// plainForm is how cells are compared: without blanks, look-alikes folded.
func plainForm(s string) string {
	s = strings.Join(strings.Fields(foldString(s)), "")
	if strings.Trim(s, "-") == "" {
		return ""
	}
	return s
}

// readRow is a row as it was read, by columns.
func readRow(tb *Table, r *TableRow) map[Kind]string {
	out := map[Kind]string{}
	for i, c := range tb.Columns {
		out[c.Kind] = plainForm(r.Cells[i].Text)
		if c.Unit != "" && c.Kind.isLimit() {
			out[KindUnit] = plainForm(c.Unit)
		}
	}
	return out
}

// truthRow is a row as it was printed.
func truthRow(r corpusRow, l corpusLayout, ranges bool) map[Kind]string {
	out := map[Kind]string{KindName: r.Name, KindUnit: r.Unit}
	if ranges {
		out[KindSymbol] = r.Symbol
		out[KindValue] = r.Max
		if r.Min != "" {
			out[KindValue] = r.Min + "to" + r.Max
		}
	} else {
		for _, c := range l.Columns {
			switch c {
			case corpusSymbol:
				out[KindSymbol] = r.Symbol
			case corpusCondition:
				out[KindCondition] = r.Condition
			}
		}
		out[KindMin], out[KindTyp], out[KindMax] = r.Min, r.Typ, r.Max
	}
	for k, v := range out {
		out[k] = plainForm(v)
	}
	return out
}

// compare matches rows in order: a row read belongs to the truth it shares most cells with.
func compare(read, truth []map[Kind]string) (t tally, wrong []string) {
	for _, row := range truth {
		for _, v := range row {
			if v != "" {
				t.wanted++
			}
		}
	}
	owner := pair(read, truth)
	for j, r := range read {
		var want map[Kind]string
		if owner[j] >= 0 {
			want = truth[owner[j]]
		}
		for k, v := range r {
			if v == "" {
				continue
			}
			t.offered++
			if want[k] == v {
				t.right++
			} else {
				wrong = append(wrong, fmt.Sprintf("%s: read %q of %v, printed %q", k, v, r, want[k]))
			}
		}
	}
	return t, wrong
}

// pair gives every row read the row printed that it shares most cells with,
// the best pairs first, each row once; -1 where none is left.
func pair(read, truth []map[Kind]string) []int {
	type match struct{ read, truth, shared int }
	var all []match
	for j, r := range read {
		for i, w := range truth {
			n := 0
			for k, v := range w {
				if v != "" && r[k] == v {
					n++
				}
			}
			all = append(all, match{j, i, n})
		}
	}
	sort.SliceStable(all, func(a, b int) bool { return all[a].shared > all[b].shared })
	owner := make([]int, len(read))
	for j := range owner {
		owner[j] = -1
	}
	used := make([]bool, len(truth))
	for _, m := range all {
		if owner[m.read] < 0 && !used[m.truth] && m.shared > 0 {
			owner[m.read], used[m.truth] = m.truth, true
		}
	}
	return owner
}

func sheetTables(t *testing.T, l *Reader, path string, pages int) [][]*Table {
	out := make([][]*Table, pages+1)
	for n := 1; n <= pages; n++ {
		p, err := l.PageText(context.Background(), path, n)
		require.NoError(t, err)
		v := newView(&p)
		out[n] = v.tables()
	}
	return out
}

// TestTableCells reads every table of ratings and characteristics of the
// corpus and counts the cells.
func TestTableCells(t *testing.T) {
	l := shared
	total := tally{}
	for _, lay := range corpusLayouts() {
		sum := tally{}
		for _, d := range corpusDevices() {
			s := sheetOf(t, d, lay)
			d := s.Device
			path := pathOf(t, s)
			in, err := l.Inspect(context.Background(), path)
			require.NoError(t, err)
			var read, truth []map[Kind]string
			for _, tables := range sheetTables(t, l, path, in.Pages) {
				for _, tb := range tables {
					if !tb.hasLimits() {
						continue
					}
					for i := range tb.Rows {
						read = append(read, readRow(tb, &tb.Rows[i]))
					}
				}
			}
			for i, rows := range [][]corpusRow{d.AbsMax, d.Operating, d.Thermal, d.Electric} {
				if i == 2 && lay.TwoColumn {
					continue
				}
				for _, r := range rows {
					truth = append(truth, truthRow(r, lay, i == 0 && lay.Ranges || i == 1 && lay.Lists && r.Min != "" && r.Max != ""))
				}
			}
			c, wrong := compare(read, truth)
			sum.add(c)
			if os.Getenv("GUARDBAND_SHOW_WRONG") != "" {
				for _, w := range wrong {
					fmt.Println(s.Name, w)
				}
			}
		}
		total.add(sum)
		t.Logf("%-12s cells printed %4d  offered %4d  right %4d  precision %.3f  recall %.3f", lay.Name, sum.wanted,
			sum.offered, sum.right, sum.precision(), sum.recall())
	}
	t.Logf("%-12s cells printed %4d  offered %4d  right %4d  precision %.3f  recall %.3f", "all", total.wanted,
		total.offered, total.right, total.precision(), total.recall())
	require.GreaterOrEqual(t, total.precision(), 0.95)
	require.GreaterOrEqual(t, total.recall(), 0.95)
}
