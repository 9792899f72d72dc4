package sheet

import (
	"bytes"
	"context"
	"testing"

	"github.com/go-pdf/fpdf"
	"github.com/stretchr/testify/require"
)

// ruledPage draws an invented table whose first column spans rows: the name at
// the top of its cell in the first, in the middle in the second.
func ruledPage(t *testing.T) string {
	f := fpdf.New("P", "pt", "A4", "")
	f.AddPage()
	f.SetFont("Helvetica", "", 9)
	xs := []float64{50, 180, 240, 340, 390, 440, 490, 540}
	row := func(y float64, cells ...string) {
		for i, c := range cells {
			f.Text(xs[i]+4, y, c)
		}
	}
	f.SetFont("Helvetica", "B", 14)
	f.Text(50, 80, "Electrical characteristics")
	f.SetFont("Helvetica", "", 9)
	row(112, "Parameter", "Symbol", "Conditions", "Min", "Typ", "Max", "Unit")
	row(130, "Input level, high", "VIH", "VCC = 2 V", "1.5", "-", "-", "V")
	row(144, "", "", "VCC = 4.5 V", "3.15", "-", "-", "V")
	row(158, "", "", "VCC = 6 V", "4.2", "-", "-", "V")
	row(172, "", "", "VCC = 2 V", "-", "-", "0.5", "V")
	row(186, "Input level, low", "VIL", "VCC = 4.5 V", "-", "-", "1.35", "V")
	row(200, "", "", "VCC = 6 V", "-", "-", "1.8", "V")
	row(214, "Leakage", "ILI", "", "-", "0.1", "1", "mA")
	f.Text(54, 240, "Note: measured on a bench that is not there.")
	for _, y := range []float64{100, 118, 162, 204, 218} {
		f.Line(50, y, 540, y)
	}
	for _, y := range []float64{134, 148, 176, 190} {
		f.Line(240, y, 540, y)
	}
	for _, x := range xs {
		f.Line(x, 100, x, 218)
	}
	var b bytes.Buffer
	require.NoError(t, f.Output(&b))
	return put(t, "ruled.pdf", b.Bytes())
}

// TestRuledCellsOwnTheirRows: a name holds for all rows of its cell and for none
// behind the line that ends it, wherever in the cell it is set.
func TestRuledCellsOwnTheirRows(t *testing.T) {
	d, err := shared.Draft(context.Background(), ruledPage(t))
	require.NoError(t, err)
	var got [][]string
	for _, r := range d.Spec {
		got = append(got, []string{r.Symbol, r.Condition, r.Min, r.Typ, r.Max, r.Unit})
	}
	require.Equal(t, [][]string{
		{"VIH", "VCC = 2 V", "1.5", "", "", "V"}, {"VIH", "VCC = 4.5 V", "3.15", "", "", "V"}, {"VIH", "VCC = 6 V", "4.2", "", "", "V"},
		{"VIL", "VCC = 2 V", "", "", "0.5", "V"}, {"VIL", "VCC = 4.5 V", "", "", "1.35", "V"}, {"VIL", "VCC = 6 V", "", "", "1.8", "V"},
		{"ILI", "", "", "0.1", "1", "mA"},
	}, got)
}

// TestRuledRowsAndThePageCheck: the check takes a number where the lines put it,
// and blames one that stands in another cell.
func TestRuledRowsAndThePageCheck(t *testing.T) {
	path := ruledPage(t)
	for _, c := range []struct {
		quote, column, text string
		value               float64
		blamed              bool
	}{
		{"Input level, high", "min", "4.2", 4.2, false}, {"Input level, low", "max", "0.5", 0.5, false},
		{"Input level, high", "max", "1.8", 1.8, true}, {"Leakage", "max", "1.8", 1.8, true},
	} {
		q := Query{From: "1", Counted: true, Quote: c.quote, Numbers: []Number{{Text: c.text, Value: c.value, Unit: "V", Column: c.column}}}
		_, f, err := shared.Check(context.Background(), path, []Query{q})
		require.NoError(t, err)
		require.Equal(t, c.blamed, f[0].Slip != "", "%+v: %s", c, f[0].Slip)
	}
}

// TestUntold: a row whose number the lines put into one column and the white gaps
// into another cannot be told; a unit that one of them leaves out can.
func TestUntold(t *testing.T) {
	reading := func(typ, max, unit string) *Table {
		return &Table{Columns: []Column{{Kind: KindName}, {Kind: KindTyp}, {Kind: KindMax}, {Kind: KindUnit}},
			Rows: []TableRow{{Lines: []int{7}, Cells: []Cell{{Text: "Leakage"}, {Text: typ}, {Text: max}, {Text: unit}}}}}
	}
	for _, c := range []struct {
		other  *Table
		untold bool
	}{
		{nil, false}, {reading("1", "", "mA"), false}, {reading("1", "", ""), false},
		{reading("", "1", "mA"), true}, {reading("1", "", "µA"), true}, {reading("1", "2", "mA"), true},
	} {
		own := reading("1", "", "mA")
		own.other = c.other
		require.Equal(t, c.untold, own.untold(&own.Rows[0]))
	}
}
