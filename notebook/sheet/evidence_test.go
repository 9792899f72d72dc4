package sheet

import (
	"context"
	"fmt"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/notebook/sheet/internal/corpus"
)

// statement is a number of a row as a notebook would give it.
func statement(text, unit, column string) (Number, bool) {
	v, err := strconv.ParseFloat(text, 64)
	return Number{Text: text, Value: v, Unit: unit, Column: column}, err == nil
}

// rowQueries makes a query per number of a row.
func rowQueries(r corpus.Row, page int) (qs []Query) {
	for col, text := range map[string]string{"min": r.Min, "typ": r.Typ, "max": r.Max} {
		if n, ok := statement(text, r.Unit, col); ok {
			qs = append(qs, Query{From: strconv.Itoa(page), To: strconv.Itoa(page + 1), Counted: true, Quote: r.Name, Name: r.Symbol, Numbers: []Number{n}})
		}
	}
	return qs
}

// TestTrueStatementsAreNotBlamed cites every number of every table rightly.
func TestTrueStatementsAreNotBlamed(t *testing.T) {
	l := shared
	n := 0
	for _, lay := range corpus.Layouts() {
		for _, d := range corpus.Devices() {
			s := sheetOf(t, d, lay)
			path := pathOf(t, s)
			var qs []Query
			for _, r := range d.Operating {
				qs = append(qs, rowQueries(r, s.Pages[corpus.Recommended])...)
			}
			for _, r := range d.Electric {
				qs = append(qs, rowQueries(r, s.Pages[corpus.Electrical])...)
			}
			_, fs, err := l.Check(context.Background(), path, qs)
			require.NoError(t, err)
			for i, f := range fs {
				n++
				at := fmt.Sprintf("%s: %+v -> %+v", s.Name, qs[i], f)
				require.Equal(t, GradeWords, f.Grade, at)
				require.Empty(t, f.Missing, at)
				require.Empty(t, f.Slip, at)
				require.NotEmpty(t, f.Boxes, at)
			}
		}
	}
	t.Logf("%d true statements", n)
}

// TestSlipsAreCaught gives typical values for maxima and numbers of other rows.
func TestSlipsAreCaught(t *testing.T) {
	l := shared
	typed, typedCaught, rows, rowsCaught := 0, 0, 0, 0
	for _, lay := range corpus.Layouts() {
		for _, d := range corpus.Devices() {
			s := sheetOf(t, d, lay)
			path := pathOf(t, s)
			page := strconv.Itoa(s.Pages[corpus.Electrical])
			var qs []Query
			var isType []bool
			for i, r := range d.Electric {
				ask := func(text, col string, byType bool) {
					n, ok := statement(text, r.Unit, col)
					if ok && !anySame(d.Electric, r, n.Value, col, byType) {
						qs = append(qs, Query{From: page, Counted: true, Quote: r.Name, Numbers: []Number{n}})
						isType = append(isType, byType)
					}
				}
				if r.Max != "" {
					ask(r.Typ, "max", true)
				}
				for _, o := range d.Electric[i+1:] {
					if o.Unit == r.Unit && o.Name != r.Name {
						ask(o.Max, "max", false)
						break
					}
				}
			}
			_, fs, err := l.Check(context.Background(), path, qs)
			require.NoError(t, err)
			for i, f := range fs {
				caught := f.Slip != "" || len(f.Missing) > 0
				if !caught && os.Getenv("GUARDBAND_SHOW_WRONG") != "" {
					fmt.Printf("%s: %+v -> %+v\n", s.Name, qs[i], f)
				}
				if isType[i] {
					typed++
					if caught {
						typedCaught++
					}
					continue
				}
				rows++
				if caught {
					rowsCaught++
				}
			}
		}
	}
	t.Logf("typical for maximum: %d of %d caught; wrong row: %d of %d caught", typedCaught, typed, rowsCaught, rows)
	require.Equal(t, typed, typedCaught)
	require.Equal(t, rows, rowsCaught)
}

// anySame says whether the number stands in a row of that name after all.
func anySame(rows []corpus.Row, r corpus.Row, v float64, col string, byType bool) bool {
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
