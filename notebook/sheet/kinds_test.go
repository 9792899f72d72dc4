package sheet

import (
	"bytes"
	"context"
	"testing"

	"github.com/go-pdf/fpdf"
	"github.com/stretchr/testify/require"
)

// drawn is an invented sheet of one page under a heading.
func drawnSheet(t *testing.T, draw func(f *fpdf.Fpdf, row func(y float64, cells ...string)), xs ...float64) Draft {
	f := fpdf.New("P", "pt", "A4", "")
	f.AddPage()
	f.SetFont("Helvetica", "B", 14)
	f.Text(50, 80, "Electrical characteristics")
	f.SetFont("Helvetica", "", 9)
	draw(f, func(y float64, cells ...string) {
		for i, c := range cells {
			f.Text(xs[i], y, c)
		}
	})
	var b bytes.Buffer
	require.NoError(t, f.Output(&b))
	d, err := shared.Draft(context.Background(), put(t, t.Name()+".pdf", b.Bytes()))
	require.NoError(t, err)
	return d
}

func specRows(d Draft) (out [][]string) {
	for _, r := range d.Spec {
		out = append(out, []string{r.Name, r.Symbol, r.Version, r.Condition, r.Min, r.Typ, r.Max, r.Value, r.Unit})
	}
	return out
}

// TestColumnsOfVersions: two grades side by side share names and units, and each
// number is told with its grade.
func TestColumnsOfVersions(t *testing.T) {
	d := drawnSheet(t, func(f *fpdf.Fpdf, row func(float64, ...string)) {
		row(112, "Parameter", "", "Grade A", "", "", "Grade B", "", "Units")
		row(124, "", "Min", "Typ", "Max", "Min", "Typ", "Max")
		row(138, "Offset voltage", "", "1", "2", "", "2", "5", "mV")
		row(150, "Bias current", "", "20", "50", "", "45", "150", "nA")
		row(162, "Supply range", "3", "", "30", "4", "", "26", "V")
	}, 50, 200, 240, 280, 340, 380, 420, 480)
	require.Equal(t, [][]string{
		{"Offset voltage", "", "Grade A", "", "", "1", "2", "", "mV"}, {"Bias current", "", "Grade A", "", "", "20",
			"50", "", "nA"}, {"Supply range", "", "Grade A", "", "3", "", "30", "", "V"},
		{"Offset voltage", "", "Grade B", "", "", "2", "5", "", "mV"}, {"Bias current", "", "Grade B", "", "", "45",
			"150", "", "nA"}, {"Supply range", "", "Grade B", "", "4", "", "26", "", "V"},
	}, specRows(d))
}

// TestRuledList: entries between lines have their name on the left, what tells
// their values apart in the middle, and values with their units on the right.
func TestRuledList(t *testing.T) {
	d := drawnSheet(t, func(f *fpdf.Fpdf, row func(float64, ...string)) {
		row(112, "Input current", "12 V models:", "15 mA typ.")
		row(124, "", "24 V models:", "10 mA typ.")
		row(142, "Start up time", "", "700 ms max.")
		row(160, "Operating temperature", "", "-40 \xb0C to +85 \xb0C")
		row(178, "Protection", "", "indefinite")
		for _, y := range []float64{100, 130, 148, 166, 184} {
			f.Line(45, y, 500, y)
		}
	}, 50, 200, 340)
	require.Equal(t, [][]string{
		{"Input current", "", "", "12 V models", "", "15", "", "", "mA"}, {"Input current", "", "", "24 V models", "", "10", "", "", "mA"},
		{"Start up time", "", "", "", "", "", "700", "", "ms"}, {"Operating temperature", "", "", "", "-40", "", "+85",
			"", "°C"}, {"Protection", "", "", "", "", "", "", "indefinite", ""},
	}, specRows(d))
}

// TestDrawnUnit: a unit of which one character is drawn cannot be told.
func TestDrawnUnit(t *testing.T) {
	d := drawnSheet(t, func(f *fpdf.Fpdf, row func(float64, ...string)) {
		row(112, "Parameter", "Min", "Typ", "Max", "Unit")
		row(128, "Slew rate", "", "400", "", "V/   s")
		row(144, "Noise voltage", "", "12", "", "mV")
		row(160, "Leakage", "", "", "3", "nA")
		f.Circle(491.5, 125.5, 2.4, "F")
	}, 50, 260, 320, 380, 480)
	require.Len(t, d.Spec, 3)
	require.True(t, d.Spec[0].NoUnit)
	require.Empty(t, d.Spec[0].Unit)
	require.False(t, d.Spec[1].NoUnit)
}

// TestNoUnitsAtAll: where a table has no place for units, its numbers have none
// that could be told.
func TestNoUnitsAtAll(t *testing.T) {
	d := drawnSheet(t, func(f *fpdf.Fpdf, row func(float64, ...string)) {
		row(112, "Parameter", "Min", "Typ", "Max")
		row(128, "Offset", "", "1", "2")
		row(144, "Drift", "", "4", "5 \xb5V")
	}, 50, 260, 320, 380)
	require.Len(t, d.Spec, 2)
	require.True(t, d.Spec[0].NoUnit)
}

// TestListsBesideEachOther: of two lists side by side each stands under its own
// heading; a rating must not pass for a limit of use.
func TestListsBesideEachOther(t *testing.T) {
	f := fpdf.New("P", "pt", "A4", "")
	f.AddPage()
	f.SetFont("Helvetica", "B", 13)
	f.Text(50, 80, "Absolute Maximum Ratings")
	f.Text(320, 80, "Thermal Information")
	f.Text(320, 150, "Recommended Operating Conditions")
	f.SetFont("Helvetica", "", 8)
	for i, l := range []string{"VDD, VDDP .................... -0.3 V to 6.5 V",
		"Input current ................. 70 mA", "CLK, DAT ..................... -0.3 V to 6.5 V", "Latch-up ..................... 100 mA",
		"COMP ..................... -0.3 V to 5 V", "BOOT ..................... -0.3 V to 7 V",
		"PHASE ..................... -0.3 V to 8 V", "PSYS ..................... -0.3 V to 9 V"} {
		f.Text(50, 100+12*float64(i), l)
	}
	f.Text(320, 100, "Junction temperature .............. -10 \xb0C to 125 \xb0C")
	f.Text(320, 112, "Storage temperature .............. -65 \xb0C to 175 \xb0C")
	f.Text(320, 172, "Adapter voltage .................. 4 V to 23 V")
	f.Text(320, 184, "Ambient temperature .................. -10 \xb0C to 100 \xb0C")
	var b bytes.Buffer
	require.NoError(t, f.Output(&b))
	d, err := shared.Draft(context.Background(), put(t, "beside.pdf", b.Bytes()))
	require.NoError(t, err)
	for _, r := range append(append([]DraftRow(nil), d.Operating...), d.Spec...) {
		require.NotContains(t, "VDD, VDDP Input current CLK, DAT Latch-up COMP BOOT PHASE PSYS", r.Name)
	}
	require.NotEmpty(t, d.Ratings)
}
