package sheet

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// TestAbsent: a number is absent only where the page shows its digits in no
// unit, no column, no spelling.
func TestAbsent(t *testing.T) {
	for _, c := range []struct {
		line    string
		value   float64
		unit    string
		missing bool
	}{
		{"Dropout voltage VDO 110 250 mV", 230, "mV", true},
		{"Dropout voltage VDO 110 250 mV", 250, "mV", false},
		{"Dropout voltage VDO 110 250 mV", 0.25, "V", false},
		{"Dropout voltage VDO 110 250 mV", 2.5, "V", true},
		{"Dropout voltage VDO 110 250 mV", 11, "V", true},
		{"Output 2,2 Ohm", 2.2, "Ω", false},
		{"Output 2,2 Ohm", 22, "Ω", true},
		{"Gain 1 500 V/V", 1500, "", false},
		{"Gain 1,500 V/V", 1.5, "", false},
		{"Feedback 4k7", 4.7, "kΩ", false},
		{"Feedback 4k7", 4700, "Ω", false},
		{"Noise 3.2 x 10 -5 V", 32, "µV", false},
		{"Duty 0.7 VDD", 70, "%", false},
		{"Duty 70 % of VDD", 0.7, "", false},
		{"Duty 7 % of VDD", 0.7, "", true},
		{"Storage -40 to 125", 40, "°C", false},
		{"Retention 2 h", 7200, "s", false},
		{"Type X230", 230, "mV", true},
		{"Pitch 0.65 mm", 65, "µm", true},
		{"Offset 0 V", 0, "V", false},
		{"Offset 1 V", 0, "V", true},
	} {
		w := newWanted(Number{Text: "x", Value: c.value, Unit: c.unit})
		require.Equal(t, c.missing, absent(w, []*view{newView(typed(c.line))}), "%s: %v %s", c.line, c.value, c.unit)
	}
}
