package draft

import (
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/notebook/sheet"
)

// TestTypesOfPins: a type is what the sheet's type column or the first clause of
// its description says, and nothing else.
func TestTypesOfPins(t *testing.T) {
	for _, c := range []struct{ name, printed, function, want string }{
		{"SCK", "DI", "", "input"}, {"SDA", "di/do", "", "bidirectional"}, {"SCK", "", "Serial clock input", "clock input"},
		{"AIN0", "", "Analog input (channel 0)", "analog input"}, {"VDD", "", "Supply voltage", "supply"}, {"EN", "", "Supply voltage", ""},
		{"NC", "", "No connection", "not connected"}, {"ALERT", "", "Alert output, open-drain output", ""},
		{"INT", "", "Open-drain interrupt output", "output open drain"}, {"VOUT", "", "Regulated voltage output", ""},
		{"FB", "", "Feedback input", ""}, {"SDA", "", "Serial data input/output", "bidirectional"}, {"DOUT", "",
			"Control data signal output", "output"},
		{"CS", "", "Chip select. Pull low to begin", ""}, {"VSS", "", "Ground", "ground"}, {"SCL", "X", "Serial clock input", ""},
	} {
		require.Equal(t, c.want, pinType(sheet.DraftPin{Number: "1", Name: c.name, Type: c.printed, Function: c.function}), "%+v", c)
	}
}
