package sheet

import (
	"bytes"
	"context"
	"testing"

	"github.com/go-pdf/fpdf"
	"github.com/stretchr/testify/require"
)

// TestRaisedNumbersAreNoDigits: a raised number behind a number is the mark of a
// note, behind 10 it is a power; grades side by side give a row each.
func TestRaisedNumbersAreNoDigits(t *testing.T) {
	f := fpdf.New("P", "pt", "A4", "")
	f.AddPage()
	f.SetFont("Helvetica", "B", 14)
	f.Text(50, 80, "Electrical characteristics")
	at := func(x, y float64, text, raised string) {
		f.SetFont("Helvetica", "", 10)
		f.Text(x, y, text)
		if w := f.GetStringWidth(text); raised != "" {
			f.SetFont("Helvetica", "", 6)
			f.Text(x+w+0.3, y-4, raised)
		}
	}
	for i, title := range []string{"Parameter", "Grade A", "Grade B", "Unit", "Conditions"} {
		at(50+100*float64(i), 110, title, "")
	}
	rows := [][]string{
		{"Settling time, tS", "40", "45", "ns max", "CL = 10 pF"},
		{"Leakage, ILK", "10", "10", "A max", "dark"},
		{"Offset, VOS", "3", "3", "mV typ", "warm"},
	}
	raised := [][]string{{"", "2", "3", "", ""}, {"", "-7", "-7", "", ""}, {"1", "", "", "", ""}}
	for n, r := range rows {
		for i, c := range r {
			at(50+100*float64(i), 130+16*float64(n), c, raised[n][i])
		}
	}
	var b bytes.Buffer
	require.NoError(t, f.Output(&b))
	d, err := shared.Draft(context.Background(), put(t, "raised.pdf", b.Bytes()))
	require.NoError(t, err)
	var got [][]string
	for _, r := range d.Spec {
		got = append(got, []string{r.Symbol, r.Typ, r.Max, r.Unit, r.Condition})
	}
	require.Equal(t, [][]string{
		{"tS", "", "40", "ns", "CL = 10 pF; Grade A"}, {"tS", "", "45", "ns", "CL = 10 pF; Grade B"},
		{"ILK", "", "1e-7", "A", "dark"}, {"VOS", "3", "", "mV", "warm"},
	}, got)
}
