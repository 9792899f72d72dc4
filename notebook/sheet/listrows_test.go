package sheet

import (
	"bytes"
	"context"
	"testing"

	"github.com/go-pdf/fpdf"
	"github.com/stretchr/testify/require"
)

func TestStatedValues(t *testing.T) {
	for s, want := range map[string]statedValue{
		"38 V":                      {KindValue, "38", "V"},
		"38V":                       {KindValue, "38", "V"},
		"−0.3 V to 6 V":             {KindValue, "-0.3 to 6", "V"},
		"-0.3 to 6 V":               {KindValue, "-0.3 to 6", "V"},
		"−65 °C ... 150 °C":         {KindValue, "-65 to 150", "°C"},
		"-0.3 V to VDD + 0.3 V":     {KindValue, "-0.3 to VDD + 0.3", "V"},
		"0 V to VCC V":              {KindValue, "0 to VCC", "V"},
		"± 38 V":                    {KindValue, "±38", "V"},
		"+/-2 kV":                   {KindValue, "±2", "kV"},
		"up to 6 mA":                {KindMax, "6", "mA"},
		"max. 250 mW":               {KindMax, "250", "mW"},
		"250 mW max":                {KindMax, "250", "mW"},
		"at least 2.4 V":            {KindMin, "2.4", "V"},
		"typically 3.3 V":           {KindTyp, "3.3", "V"},
		"-40 °C to 125 °C":          {KindValue, "-40 to 125", "°C"},
		"−10 to +85 °C":             {KindValue, "-10 to +85", "°C"},
		"0 V to 0.7 x VDD":          {},
		"5":                         {}, // a page number
		"0 mV to 5 V":               {}, // two units
		"2.7 V to 5.5 V to 6 V":     {},
		"see page 5 V":              {},
		"10 V for 10 ms":            {},
		"3.3 V or 5 V":              {},
		"up to 2 V to 5 V":          {},
		"VDD":                       {},
		"internally limited":        {},
		"1,5 V":                     {}, // a comma may be the point or not
		"-0.3 V to the supply V":    {},
		"\uFFFD0.3 V to 6 V":        {},
		"2.7 V to 5.5 V, 3.3 V typ": {},
	} {
		got, ok := readStated(s)
		require.Equal(t, want.unit != "", ok, "%q %+v", s, got)
		if ok {
			require.Equal(t, want, got, s)
		}
	}
}

// onePageOf sets lines of text below each other, those that begin with "# " in
// larger type.
func onePageOf(t *testing.T, lines ...string) string {
	f := fpdf.New("P", "pt", "A4", "")
	f.SetCatalogSort(true)
	f.AddPage()
	y := 60.0
	for _, l := range lines {
		size := 9.0
		if len(l) > 2 && l[:2] == "# " {
			size, l = 14, l[2:]
			y += 12
		}
		f.SetFont("Helvetica", "", size)
		f.Text(50, y, l)
		y += 13
	}
	var b bytes.Buffer
	require.NoError(t, f.Output(&b))
	return put(t, "page.pdf", b.Bytes())
}

func listsOf(t *testing.T, lines ...string) []*Table {
	p, err := shared.PageText(context.Background(), onePageOf(t, lines...), 1)
	require.NoError(t, err)
	return newView(&p).tables()
}

// TestListsAreRead reads lists that say what they mean.
func TestListsAreRead(t *testing.T) {
	tables := listsOf(t, "# Absolute Maximum Ratings", "Supply voltage VDD ........................ -0.3 V to 6 V",
		"Input current (IIN)........ 10 mA", "Power dissipation . . . . . . . . . . . 250 mW")
	require.Len(t, tables, 1)
	rows := tables[0].Rows
	require.Len(t, rows, 3)
	require.Equal(t, "Supply voltage", tables[0].Cell(&rows[0], KindName))
	require.Equal(t, "VDD", tables[0].Cell(&rows[0], KindSymbol))
	require.Equal(t, "-0.3 to 6", tables[0].Cell(&rows[0], KindValue))
	require.Equal(t, "IIN", tables[0].Cell(&rows[1], KindSymbol))
	require.Equal(t, "Power dissipation", tables[0].Cell(&rows[2], KindName))
	require.Equal(t, "mW", tables[0].Cell(&rows[2], KindUnit))
}

// TestNoListIsInvented sets lines that look like lists and are none.
func TestNoListIsInvented(t *testing.T) {
	for name, lines := range map[string][]string{
		"contents": {"# Contents", "Absolute Maximum Ratings ............. 5",
			"Electrical Characteristics ........... 6", "Ordering Information ................. 12"},
		"features":            {"# Features", "Supply voltage: 2.7 V to 5.5 V", "Output current: 150 mA"},
		"one line":            {"# Absolute Maximum Ratings", "Supply voltage ......... 6 V"},
		"bounds and no title": {"Supply voltage ......... up to 6 V", "Supply current ......... up to 6 mA"},
		"text": {"# Absolute Maximum Ratings", "Note: 5 V supplies need a fuse", "Caution: see page 5 V",
			"Remark: the device ends at 6 V or so"},
		"no unit":             {"# Absolute Maximum Ratings", "Supply voltage ......... 6", "Supply current ......... 10"},
		"two values in a row": {"# Absolute Maximum Ratings", "Supply ........ 6 V   Input ........ 5 V", "Output ........ 6 V   Input ........ 5 V"},
	} {
		require.Empty(t, listsOf(t, lines...), name)
	}
}
