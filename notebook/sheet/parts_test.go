package sheet

import (
	"bytes"
	"context"
	"testing"

	"github.com/go-pdf/fpdf"
	"github.com/stretchr/testify/require"
)

// laidOut draws an invented page: texts at their places, and lines from x, y to x, y.
func laidOut(t *testing.T, texts map[[2]float64]string, rules ...[4]float64) string {
	f := fpdf.New("P", "pt", "A4", "")
	f.SetCatalogSort(true)
	f.AddPage()
	for y := 1.0; y < 842; y++ { // from the top, whatever the order of the map
		for x := 1.0; x < 595; x++ {
			if s, ok := texts[[2]float64{x, y}]; ok {
				f.SetFont("Helvetica", "", 9)
				if y < 90 {
					f.SetFont("Helvetica", "B", 14)
				}
				f.Text(x, y, s)
			}
		}
	}
	for _, r := range rules {
		f.Line(r[0], r[1], r[2], r[3])
	}
	var b bytes.Buffer
	require.NoError(t, f.Output(&b))
	return put(t, "laid.pdf", b.Bytes())
}

// TestLinesThatCutSomeRows: a tall line beside some rows alone parts names from
// what tells their rows apart, and the values of one version from another's; a
// row that it does not cut says what it says of all.
func TestLinesThatCutSomeRows(t *testing.T) {
	path := laidOut(t, map[[2]float64]string{
		{50, 80}:  "Absolute maximum ratings",
		{54, 112}: "Parameter", {254, 112}: "Symbol", {340, 112}: "Value", {494, 112}: "Unit",
		{320, 126}: "KX-A", {400, 126}: "KX-B",
		{54, 144}: "Supply voltage", {254, 144}: "VIN", {325, 144}: "20", {405, 144}: "30", {494, 144}: "V",
		{54, 158}: "Output current", {254, 158}: "IOUT", {372, 158}: "600", {494, 158}: "mA",
		{54, 179}: "Dissipation", {184, 172}: "thin case", {184, 186}: "thick case", {254, 179}: "PD", {372, 172}: "250",
		{372, 186}: "500", {494, 179}: "mW",
	},
		[4]float64{50, 100, 540, 100}, [4]float64{310, 116, 490, 116}, [4]float64{50, 130, 540, 130}, [4]float64{50, 148, 540, 148},
		[4]float64{50, 162, 540, 162}, [4]float64{180, 176, 250, 176}, [4]float64{310, 176, 490, 176}, [4]float64{50, 190, 540, 190},
		[4]float64{50, 100, 50, 190}, [4]float64{250, 100, 250, 190}, [4]float64{310, 100, 310, 190}, [4]float64{490, 100, 490, 190},
		[4]float64{540, 100, 540, 190}, [4]float64{180, 162, 180, 190}, [4]float64{390, 116, 390, 148})
	d, err := shared.Draft(context.Background(), path)
	require.NoError(t, err)
	var got [][]string
	for _, r := range d.Ratings {
		got = append(got, []string{r.Symbol, r.Name, r.Condition, r.Value, r.Unit})
	}
	require.Equal(t, [][]string{
		{"VIN", "Supply voltage", "KX-A", "20", "V"}, {"VIN", "Supply voltage", "KX-B", "30", "V"}, {"IOUT", "Output current", "", "600", "mA"},
		{"PD", "Dissipation", "thin case", "250", "mW"}, {"PD", "Dissipation", "thick case", "500", "mW"},
	}, got)
}
