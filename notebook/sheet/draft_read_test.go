package sheet

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// TestPinRuns writes the numbers of a run of pins as the language does.
func TestPinRuns(t *testing.T) {
	for printed, want := range map[string]string{"17 to 24": "17-24", "A1–A2": "A1-A2", "1, 3": "1, 3", "7": "7"} {
		d := &drafter{Draft: Draft{Pins: []DraftPin{{Number: printed}}}}
		d.settlePins()
		require.Equal(t, want, d.Pins[0].Number)
	}
}

// TestOtherVersions keeps rows of another version apart.
func TestOtherVersions(t *testing.T) {
	for name, want := range map[string]string{
		"Output voltage, 3.0 V version": "", "Output voltage, 3.3 V version": "3.3 V", "Junction to ambient, DFN4": "DFN4",
		"Current, QX-30H": "QX-30H", "Current, QX-30": "", "Rise time at 13.3 V": "",
		"Output voltage, 3.0 V and 3.3 V versions": "", // it speaks of this version too
	} {
		d := &drafter{Draft: Draft{Spec: []DraftRow{{Name: name}}, Orders: []DraftOrder{
			{Code: "QX-30", Package: "SC70-5", More: []Titled{{"Voltage", "3.0 V"}}},
			{Code: "QX-30H", Package: "DFN4 1x1 + EP", More: []Titled{{"Voltage", "3.3 V"}, {"Packing", "reel"}}}}}}
		d.otherVersions()
		require.Equal(t, want, d.Spec[0].Other, name)
	}
}
