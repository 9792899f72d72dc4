package notebook

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// TestDates holds the calendar to the rule of Gregory's bull of 1582, worked
// out here: a century is a leap year only if 400 divides it.
func TestDates(t *testing.T) {
	months := [12]int{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31}
	for _, year := range []int{1, 1900, 1999, 2000, 2023, 2024, 2026, 2099, 2100, 2400, 9999} {
		leap := year%4 == 0 && (year%100 != 0 || year%400 == 0)
		for m := 0; m <= 13; m++ {
			for d := 0; d <= 32; d++ {
				text := pad(year, 4) + "-" + pad(m, 2) + "-" + pad(d, 2)
				got, err := ParseDate(text)
				last := 0
				if m >= 1 && m <= 12 {
					if last = months[m-1]; m == 2 && leap {
						last = 29
					}
				}
				if d < 1 || d > last {
					require.ErrorIs(t, err, ErrNoSuchDay, text)
					continue
				}
				require.NoError(t, err, text)
				require.Equal(t, text, got.String())
			}
		}
	}
	for _, text := range []string{"", "2026", "2026-1-1", "26-01-01", "2026/01/01", "2026-01-01 ", "+026-01-01", "2026-01-0x"} {
		_, err := ParseDate(text)
		require.ErrorIs(t, err, ErrDateForm, text)
	}
	a, b := mustDate(t, "2026-02-28"), mustDate(t, "2026-03-01")
	require.True(t, b.After(a) && !a.After(b) && !a.After(a) && mustDate(t, "2027-01-01").After(b))
	require.Equal(t, 1, b.Days(a))
	require.True(t, Date{}.IsZero() && Date{}.String() == "" && !Date{}.After(a))
}

func mustDate(t *testing.T, s string) Date {
	d, err := ParseDate(s)
	require.NoError(t, err)
	return d
}

func pad(n, width int) string {
	s := ""
	for range width {
		s = string(rune('0'+n%10)) + s
		n /= 10
	}
	return s
}

// TestImpossibleDates: wherever a notebook holds a date, one that the calendar
// lacks is told at its place.
func TestImpossibleDates(t *testing.T) {
	for _, text := range []string{
		"design\ndate: 2099-02-30", "design\nrevision: 2, 2026-11-31", "design\nacknowledge: mains, A. Tarn, 2026-13-01",
		"design\nwaiver limits.U1: 2099-02-30, A. Tarn, why", "source s\ndate: 2026-00-10",
		"source s\nretrieved: 2025-02-29", "source s\ncalibrated: 2026-04-31",
		"part P\nstatus: active, 2026-06-31", "part P\nchecked: K. Sedge, 2026-09-31", "part P\nspec V = 1 V [s p.4 read by K. Sedge 2026-02-29]",
		"claim c\nwaiver: 2099-02-30, A. Tarn, why", "claim c\ninspection: look\nresult: passed, 2026-02-30, A. Tarn",
		"readings\ndate: 2026-02-30", "readings\nV = 3 V [bench 2026-02-30]", "review\ndate: 2026-02-30",
		"review\naction A: c, A. Tarn, 2026-02-30, do", "review\nclosed A: 2026-02-30, done", "circuit\nwaiver resistor.R7: 2026-02-30, A. Tarn, why",
	} {
		b, err := Load("-", Options{Stdin: []byte("```" + text + "\n```\n")})
		require.NoError(t, err)
		found := false
		for _, d := range b.Diags.Sorted() {
			if d.Code == "date-impossible" {
				found = true
				require.Equal(t, len(time.DateOnly), d.EndCol-d.Col, text)
				require.True(t, dateShaped(d.Source[d.Col-1:d.EndCol-1]), text)
			}
		}
		require.True(t, found, text)
	}
	b, err := Load("-", Options{Stdin: []byte("```design\ndate: yesterday\nrevision: A-2026-99-99-X, 2026-02-28\n```\n```source s\ndate: 2025-06\n```\n")})
	require.NoError(t, err)
	require.Len(t, b.Diags.Sorted(), 1)
	require.Equal(t, "date-form", b.Diags.Sorted()[0].Code)
}
