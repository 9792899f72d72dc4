package sheet

import (
	"context"
	"fmt"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// statement is a number of a row as a notebook would give it.
func statement(text, unit, column string) (Number, bool) {
	v, err := strconv.ParseFloat(text, 64)
	return Number{Text: text, Value: v, Unit: unit, Column: column}, err == nil
}

// rowQueries makes a query per number of a row.
func rowQueries(r corpusRow, page int) (qs []Query) {
	for col, text := range map[string]string{"min": r.Min, "typ": r.Typ, "max": r.Max} {
		if n, ok := statement(text, r.Unit, col); ok {
			qs = append(qs, Query{From: strconv.Itoa(page), To: strconv.Itoa(page + 1), Counted: true, Quote: r.Name,
				Name: r.Symbol, Numbers: []Number{n}})
		}
	}
	return qs
}

// TestTrueStatementsAreNotBlamed cites every number of every table rightly.
func TestTrueStatementsAreNotBlamed(t *testing.T) {
	l := shared
	n := 0
	for _, lay := range corpusLayouts() {
		for _, d := range corpusDevices() {
			s := sheetOf(t, d, lay)
			d := s.Device
			path := pathOf(t, s)
			var qs []Query
			for _, r := range d.Operating {
				qs = append(qs, rowQueries(r, s.Pages[corpusRecommended])...)
			}
			for _, r := range d.Electric {
				qs = append(qs, rowQueries(r, s.Pages[corpusElectrical])...)
			}
			_, fs, err := l.Check(context.Background(), path, qs)
			require.NoError(t, err)
			for i, f := range fs {
				n++
				at := fmt.Sprintf("%s: %+v -> %+v", s.Name, qs[i], f)
				require.Equal(t, GradeWords, f.Grade, at)
				require.Empty(t, f.Missing, at)
				require.Empty(t, f.Slip, at)
				require.Empty(t, f.Unlike, at)
				require.NotEmpty(t, f.Boxes, at)
			}
		}
	}
	t.Logf("%d true statements", n)
}

// TestTrueStatementsOfFiles does the same with the sheets of other programs. Of
// type that does not say what it shows no number may be blamed nor confirmed.
func TestTrueStatementsOfFiles(t *testing.T) {
	n := 0
	for _, f := range sheetFiles(t) {
		var qs []Query
		for _, r := range f.device().Electric {
			for _, q := range rowQueries(r, f.SpecPages[0]) {
				q.To = strconv.Itoa(f.SpecPages[1])
				qs = append(qs, q)
			}
		}
		require.NotEmpty(t, qs, f.name)
		_, fs, err := shared.Check(context.Background(), f.path, qs)
		require.NoError(t, err)
		for i, got := range fs {
			n++
			at := fmt.Sprintf("%s: %+v -> %+v", f.name, qs[i], got)
			want := GradeWords
			if f.guessed() {
				want = GradeNoText
			}
			require.Equal(t, want, got.Grade, at)
			require.Empty(t, got.Missing, at)
			require.Empty(t, got.Slip, at)
			require.Empty(t, got.Unlike, at)
			require.Equal(t, f.guessed(), got.Problem != "", at)
		}
	}
	t.Logf("%d true statements", n)
}

// slipCount counts seeded slips and those that were noticed.
type slipCount struct{ typed, typedCaught, rows, rowsCaught int }

// seed states numbers of a device's characteristics wrongly: typical values for
// maxima and numbers of other rows.
func (c *slipCount) seed(t *testing.T, path, from, to string, rows []corpusRow) {
	var qs []Query
	var isType []bool
	for i, r := range rows {
		ask := func(text, col string, byType bool) {
			n, ok := statement(text, r.Unit, col)
			if ok && !anySame(rows, r, n.Value, col, byType) {
				qs = append(qs, Query{From: from, To: to, Counted: true, Quote: r.Name, Numbers: []Number{n}})
				isType = append(isType, byType)
			}
		}
		if r.Max != "" {
			ask(r.Typ, "max", true)
		}
		for _, o := range rows[i+1:] {
			if o.Unit == r.Unit && o.Name != r.Name {
				ask(o.Max, "max", false)
				break
			}
		}
	}
	_, fs, err := shared.Check(context.Background(), path, qs)
	require.NoError(t, err)
	for i, f := range fs {
		caught := f.Slip != "" || len(f.Missing) > 0
		if !caught && os.Getenv("GUARDBAND_SHOW_WRONG") != "" {
			fmt.Printf("%s: %+v -> %+v\n", path, qs[i], f)
		}
		if isType[i] {
			c.typed++
			c.typedCaught += boolToInt(caught)
			continue
		}
		c.rows++
		c.rowsCaught += boolToInt(caught)
	}
}

func (c *slipCount) judge(t *testing.T) {
	t.Logf("typical for maximum: %d of %d caught; wrong row: %d of %d caught", c.typedCaught, c.typed, c.rowsCaught, c.rows)
	require.Positive(t, c.typed)
	require.Positive(t, c.rows)
	require.Equal(t, c.typed, c.typedCaught)
	require.Equal(t, c.rows, c.rowsCaught)
}

// TestSlipsAreCaught seeds slips in every sheet of the corpus.
func TestSlipsAreCaught(t *testing.T) {
	var c slipCount
	for _, lay := range corpusLayouts() {
		for _, d := range corpusDevices() {
			s := sheetOf(t, d, lay)
			c.seed(t, pathOf(t, s), strconv.Itoa(s.Pages[corpusElectrical]), "", d.Electric)
		}
	}
	c.judge(t)
}

// TestSlipsAreCaughtInFiles seeds them in the sheets of other programs, where
// their type says what it shows.
func TestSlipsAreCaughtInFiles(t *testing.T) {
	var c slipCount
	for _, f := range sheetFiles(t) {
		if !f.guessed() {
			c.seed(t, f.path, strconv.Itoa(f.SpecPages[0]), strconv.Itoa(f.SpecPages[1]), f.device().Electric)
		}
	}
	c.judge(t)
}

// anySame says whether the number stands in a row of that name after all.
func anySame(rows []corpusRow, r corpusRow, v float64, col string, byType bool) bool {
	for _, o := range rows {
		if o.Name != r.Name {
			continue
		}
		texts := []string{o.Max}
		if !byType {
			texts = []string{o.Min, o.Typ, o.Max}
		}
		for _, s := range texts {
			if w, err := strconv.ParseFloat(strings.TrimSpace(s), 64); err == nil && w == v {
				return true
			}
		}
	}
	return false
}
