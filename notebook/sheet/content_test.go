package sheet

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"
)

// draftedRows drafts an invented page and gives of each row its list and what it says.
func draftedRows(t *testing.T, texts map[[2]float64]string, rules ...[4]float64) (got [][]string) {
	d, err := shared.Draft(context.Background(), laidOut(t, texts, rules...))
	require.NoError(t, err)
	for _, l := range []struct {
		list string
		rows []DraftRow
	}{{"absmax", d.Ratings}, {"operating", d.Operating}, {"spec", d.Spec}, {"unplaced", d.Unplaced}} {
		for _, r := range l.rows {
			got = append(got, []string{l.list, r.Symbol, r.Name, r.Condition, r.Min, r.Typ, r.Max, r.Value, r.Unit})
		}
	}
	return got
}

// TestColumnsByContent: beside a column of units, what holds numbers is values
// and what holds words is names, whatever the titles; a temperature whose degree
// sign went lost is in degrees.
func TestColumnsByContent(t *testing.T) {
	require.Equal(t, [][]string{
		{"absmax", "VBUS, EN", "", "", "-0.3", "", "27", "", "V"}, {"absmax", "GATE", "", "", "-0.3", "", "8", "", "V"},
		{"absmax", "TSTG", "Storage temperature", "", "-55", "", "+150", "", "°C"},
		{"spec", "RJA", "Junction to ambient", "", "", "", "", "25.5", "C/W"},
	}, draftedRows(t, map[[2]float64]string{
		{50, 80}: "Absolute maximum ratings", {50, 112}: "Pins", {300, 112}: "Rating", {400, 112}: "Units",
		{50, 126}: "VBUS, EN", {300, 126}: "-0.3 to 27", {400, 126}: "V", {50, 140}: "GATE", {300, 140}: "-0.3 to 8", {400, 140}: "V",
		{50, 190}: "Table 2: Package thermal information", {50, 210}: "Symbol", {120, 210}: "Description", {300, 210}: "Rating (KX8)",
		{400, 210}: "Units", {50, 224}: "RJA", {120, 224}: "Junction to ambient", {300, 224}: "25.5", {400, 224}: "C/W",
		{50, 238}: "TSTG", {120, 238}: "Storage temperature", {300, 238}: "-55 to +150", {400, 238}: "C",
	}))
}

// TestRatingsAndCharacteristicsInOne: under a heading of both each row goes by
// its name (IEC 60747-2), and one that is neither for sure goes to the reader. A
// value between the lines of several parts is that of all of them.
func TestRatingsAndCharacteristicsInOne(t *testing.T) {
	var rules [][4]float64
	for _, y := range []float64{100, 130, 148, 166, 184, 202} {
		rules = append(rules, [4]float64{50, y, 540, y})
	}
	for _, x := range []float64{50, 230, 290, 490, 540} {
		rules = append(rules, [4]float64{x, 100, x, 202})
	}
	rules = append(rules, [4]float64{390, 100, 390, 148})
	require.Equal(t, [][]string{
		{"absmax", "VRRM", "Repetitive peak reverse voltage", "KX 20", "", "", "", "20", "V"},
		{"absmax", "VRRM", "Repetitive peak reverse voltage", "KX 30", "", "", "", "30", "V"},
		{"spec", "VFM", "Forward voltage drop", "", "", "", "", "0.55", "V"},
		{"unplaced", "Q", "Quality", "", "", "", "", "3", "V"},
	}, draftedRows(t, map[[2]float64]string{
		{50, 80}: "Maximum ratings and electrical characteristics", {54, 118}: "Characteristic", {234, 118}: "Symbol", {494, 118}: "Unit",
		{320, 112}: "KX", {420, 112}: "KX", {322, 122}: "20", {422, 122}: "30",
		{54, 142}: "Repetitive peak reverse voltage", {234, 142}: "VRRM", {320, 142}: "20", {420, 142}: "30", {494, 142}: "V",
		{54, 160}: "Forward voltage drop", {234, 160}: "VFM", {380, 160}: "0.55", {494, 160}: "V",
		{54, 178}: "Quality", {234, 178}: "Q", {385, 178}: "3", {494, 178}: "V",
	}, rules...))
}

// TestValuesInWords: a value says itself which bound it is, what it holds for
// and in which unit; a name may bring the unit.
func TestValuesInWords(t *testing.T) {
	require.Equal(t, [][]string{
		{"spec", "", "Charge voltage", "", "", "", "", "4.2", "V"}, {"spec", "", "Impedance", "1 kHz", "", "", "200", "", "mOhm"},
		{"spec", "", "Operating temperature", "Charging, 90 % RH", "0", "", "55", "", "degC"},
		{"spec", "", "Weight", "", "", "130.5", "", "", "g"},
	}, draftedRows(t, map[[2]float64]string{
		{50, 80}: "3. Specification", {50, 112}: "No.", {90, 112}: "Items", {300, 112}: "Specifications",
		{50, 126}: "1", {90, 126}: "Charge voltage (V)", {300, 126}: "4.2", {50, 140}: "2", {90, 140}: "Impedance", {300, 140}: "< 200 mOhm (1 kHz)",
		{50, 154}: "3", {90, 154}: "Operating temperature", {300, 154}: "Charging: 0 degC ~ 55 degC, 90 % RH",
		{50, 168}: "4", {90, 168}: "Weight", {300, 168}: "Approx 130.5 g",
	}))
}
