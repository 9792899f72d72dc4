package draft

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// TestDoubtfulUnits: units that the language reads and a sheet hardly means are
// asked about; those printed in a usual other way are brought to the language.
func TestDoubtfulUnits(t *testing.T) {
	for _, c := range []struct {
		unit, name, words string
		asks              bool
	}{
		{"nS", "t_SU", "Set-up time", true}, {"mS", "g_m", "Transconductance", false}, {"K", "Write_endurance", "Write cycles", true},
		{"K", "T_J", "Junction temperature", false}, {"C", "T_A", "Ambient temperature", true}, {"m", "R_D", "Dynamic resistance", true},
		{"m", "d", "Transmission distance", false}, {"MV", "V_IO", "Isolation", true}, {"mHz", "f_OSC", "Clock", true},
		{"MHz", "f_OSC", "Clock", false},
		{"ns", "t_SU", "Set-up time", false}, {"PF", "C_I", "Input capacitance", true}, {"V", "V_CC", "Supply", false},
	} {
		require.Equal(t, c.asks, unitQuestion(c.unit, c.name, c.words) != "", "%+v", c)
	}
	for printed, want := range map[string]string{"KHz": "kHz", "uF": "µF", "kohms": "kΩ", "MHZ": "MHz", "deg": "°", "mW/m2": "mW/m²", "Vdc": "V"} {
		require.Equal(t, want, printedUnit(printed))
	}
}
