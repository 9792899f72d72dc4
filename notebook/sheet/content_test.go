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

// TestListsWithColons: names with a colon and their values, beside other text and
// under headings of their own; a remark that is another value is not passed over.
func TestListsWithColons(t *testing.T) {
	require.Equal(t, [][]string{
		{"spec", "", "MAXIMUM VOLTAGE", "", "", "", "", "15", "V"}, {"spec", "", "MAXIMUM CURRENT", "", "", "", "", "20", "mA"},
		{"spec", "", "BOUNCE TIME", "", "", "", "10", "", "ms"}, {"spec", "", "OPERATING TEMPERATURE", "", "-20", "", "70", "", "degC"},
	}, draftedRows(t, map[[2]float64]string{
		{50, 112}: "Electrical", {300, 112}: "Packaging", {50, 126}: "MAXIMUM VOLTAGE:", {180, 126}: "15 VDC",
		{50, 138}: "MAXIMUM CURRENT:", {180, 138}: "20 mA", {300, 138}: "5,000 pieces in 0.8 mm height", {50, 150}: "BOUNCE TIME:", {180, 150}: "< 10 ms",
		{50, 180}: "Environmental", {50, 194}: "OPERATING TEMPERATURE:", {200, 194}: "-20 degC to 70 degC", {300, 194}: "External diameter 330 mm",
	}))
}

// TestEntriesOfRuledLists: lines of one entry that each have a name keep it, and
// values in the middle of their column are found; two voltages are no value with a remark.
func TestEntriesOfRuledLists(t *testing.T) {
	var rules [][4]float64
	for _, y := range []float64{100, 148, 162, 176, 190} {
		rules = append(rules, [4]float64{50, y, 300, y})
	}
	require.Equal(t, [][]string{
		{"spec", "", "between open contacts", "", "", "", "", "1000", "V"}, {"spec", "", "between coil and contacts", "", "", "", "", "40", "kV"},
		{"spec", "", "Ambient temperature", "", "-30", "", "60", "", "degC"}, {"spec", "", "Weight", "", "", "", "", "13", "g"},
		{"spec", "", "Switching voltage", "", "", "", "", "30VDC, 240VAC", ""},
	}, draftedRows(t, map[[2]float64]string{
		{50, 80}: "Insulation data", {54, 112}: "Initial dielectric strength", {60, 126}: "between open contacts", {225, 126}: "1000 V",
		{60, 140}: "between coil and contacts", {227, 140}: "40 kV", {54, 158}: "Ambient temperature", {210, 158}: "-30 to 60 degC",
		{54, 172}: "Weight", {231, 172}: "13 g", {54, 186}: "Switching voltage", {205, 186}: "30VDC, 240VAC",
	}, rules...))
}
