package sheet

import (
	"bytes"
	"cmp"
	"context"
	"maps"
	"slices"
	"strings"
	"testing"

	"github.com/go-pdf/fpdf"
	"github.com/stretchr/testify/require"
)

// laidOut draws invented pages: texts at their places, and lines from x, y to x, y.
// What is 1000 points down is on the second page.
func laidOut(t *testing.T, texts map[[2]float64]string, rules ...[4]float64) string {
	f := fpdf.New("P", "pt", "A4", "")
	f.SetCatalogSort(true)
	places := slices.SortedFunc(maps.Keys(texts), func(a, b [2]float64) int {
		return cmp.Or(cmp.Compare(a[1],
			b[1]), cmp.Compare(a[0], b[0]))
	})
	for page := range 1 + int(places[len(places)-1][1]/1000) {
		f.AddPage()
		from := 1000 * float64(page)
		for _, at := range places {
			if y := at[1] - from; y >= 0 && y < 1000 {
				f.SetFont("Helvetica", "", 9)
				if y < 90 {
					f.SetFont("Helvetica", "B", 14)
				}
				f.Text(at[0], y, texts[at])
			}
		}
		for _, r := range rules {
			if y := r[1] - from; y >= 0 && y < 1000 {
				f.Line(r[0], y, r[2], r[3]-from)
			}
		}
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

// TestTableGoesOnWithoutTitles: the tall lines at the top of a page carry the
// columns of the table before on; what is no table is kept to be looked at.
func TestTableGoesOnWithoutTitles(t *testing.T) {
	texts := map[[2]float64]string{{50, 80}: "Electrical characteristics", {50, 1080}: "Invented sheet"}
	var rules [][4]float64
	row := func(y float64, cells ...string) {
		for i, x := range []float64{54, 204, 304, 354, 404, 454} {
			if cells[i] != "" {
				texts[[2]float64{x, y}] = cells[i]
			}
		}
		rules = append(rules, [4]float64{50, y - 10, 500, y - 10}, [4]float64{50, y + 4, 500, y + 4})
	}
	row(700, "Parameter", "Symbol", "Min", "Typ", "Max", "Unit")
	row(714, "Supply current", "IQ", "", "2", "3", "mA")
	row(728, "Leakage", "ILI", "", "", "1", "mA")
	row(1114, "Rise time", "tR", "", "5", "9", "ns")
	row(1128, "Fall time", "tF", "", "4", "8", "ns")
	row(1142, "Start time", "tS", "2", "", "", "ms")
	for _, x := range []float64{50, 200, 300, 350, 400, 450, 500} {
		rules = append(rules, [4]float64{x, 690, x, 732}, [4]float64{x, 1104, x, 1146})
	}
	texts[[2]float64{54, 1300}], texts[[2]float64{300, 1300}] = "Humming of the coil", "12 dB"
	texts[[2]float64{54, 1314}], texts[[2]float64{300, 1314}] = "Warming of the coil", "3 K"
	d, err := shared.Draft(context.Background(), laidOut(t, texts, rules...))
	require.NoError(t, err)
	var got [][]string
	for _, r := range d.Spec {
		got = append(got, []string{r.Symbol, r.Min, r.Typ, r.Max, r.Unit})
	}
	require.Equal(t, [][]string{{"IQ", "", "2", "3", "mA"}, {"ILI", "", "", "1", "mA"}, {"tR", "", "5", "9", "ns"}, {"tF", "", "4", "8", "ns"},
		{"tS", "2", "", "", "ms"}}, got)
	require.Len(t, d.Loose, 2)
}

// TestListsOfDotsSideBySide: two lists level with each other are two, and what
// a name says in brackets or behind a colon is a condition.
func TestListsOfDotsSideBySide(t *testing.T) {
	dots := strings.Repeat(".", 30)
	d, err := shared.Draft(context.Background(), laidOut(t, map[[2]float64]string{
		{50, 80}: "Absolute maximum ratings", {320, 80}: "Thermal information",
		{50, 112}: "Supply voltage" + dots, {260, 112}: "36 V", {320, 112}: "Junction temperature" + dots, {540, 112}: "150 oC",
		{50, 126}: "Output current: TA = 25 oC" + dots, {260, 126}: "1 A", {320, 126}: "Storage temperature" + dots, {515, 126}: "-65 oC to 150 oC",
		{50, 140}: "TA = 70 oC" + dots, {260, 140}: "0.5 A", {320, 140}: "Lead temperature (t = 10 s)" + dots, {540, 140}: "300 oC",
	}))
	require.NoError(t, err)
	var got [][]string
	for _, r := range d.Ratings {
		got = append(got, []string{r.Name, r.Condition, r.Value + r.Min + " " + r.Max, r.Unit})
	}
	require.Equal(t, [][]string{{"Supply voltage", "", "36 ", "V"}, {"Output current", "TA = 25 oC", "1 ", "A"},
		{"Output current", "TA = 70 oC", "0.5 ", "A"},
		{"Junction temperature", "", "150 ", "°C"}, {"Storage temperature", "", "-65 150", "°C"}, {"Lead temperature",
			"t = 10 s", "300 ", "°C"}}, got)
}

// TestColumnsWithoutTitleAndFrames: what stands left of the first title of
// numbers is no number, and a frame round the page is no side of its table.
func TestColumnsWithoutTitleAndFrames(t *testing.T) {
	texts := map[[2]float64]string{{50, 80}: "Operating  conditions", {54,
		700}: "Note: the bench is not there and never was.", {54, 760}: "Sheet KX-9"}
	row := func(y float64, cells ...string) {
		for i, x := range []float64{54, 154, 240, 304, 354, 404} {
			if cells[i] != "" {
				texts[[2]float64{x, y}] = cells[i]
			}
		}
	}
	row(112, "Parameter", "Symbol", "", "Min", "Max", "Unit")
	row(130, "Supply voltage", "VCC", "54", "4.5", "5.5", "V")
	row(148, "", "", "74", "4.75", "5.25", "V")
	row(166, "Output current", "IOL", "54", "", "1.6", "mA")
	row(184, "", "", "74", "", "3.2", "mA")
	rules := [][4]float64{{40, 50, 560, 50}, {40, 800, 560, 800}, {40, 50, 40, 800}, {560, 50, 560, 800}}
	for _, y := range []float64{100, 118, 154, 190} {
		rules = append(rules, [4]float64{40, y, 560, y})
	}
	for _, x := range []float64{150, 230, 300, 350, 400} {
		rules = append(rules, [4]float64{x, 100, x, 190})
	}
	d, err := shared.Draft(context.Background(), laidOut(t, texts, rules...))
	require.NoError(t, err)
	var got [][]string
	for _, r := range d.Operating {
		got = append(got, []string{r.Symbol, r.Condition, r.Min, r.Max, r.Unit})
	}
	require.Equal(t, [][]string{{"VCC", "54", "4.5", "5.5", "V"}, {"VCC", "74", "4.75", "5.25", "V"}, {"IOL", "54", "", "1.6", "mA"},
		{"IOL", "74", "", "3.2", "mA"}}, got)
}
