package sheet

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// TestPinRuns opens lines that stand for several pins.
func TestPinRuns(t *testing.T) {
	open := func(number, name string) (out []string) {
		for _, p := range (DraftPin{Number: number, Name: name}).open() {
			out = append(out, p.Number+" "+p.Name)
		}
		return out
	}
	require.Equal(t, []string{"3 P08", "4 P09", "5 P10"}, open("3 to 5", "P08 to P10"))
	require.Equal(t, []string{"A1 D0", "A2 D1"}, open("A1–A2", "D0 – D1"))
	require.Equal(t, []string{"17-24 NC"}, open("17 to 24", "NC"))
	require.Equal(t, []string{"17 to 24 P0 to P3"}, open("17 to 24", "P0 to P3"), "eight pins have no four names")
	require.Equal(t, []string{"1, 3 VDD"}, open("1, 3", "VDD"))
}

// TestOtherVersions keeps rows of another version apart.
func TestOtherVersions(t *testing.T) {
	mine, others := telling([]string{"3.0 V", "SC70-5", "QX-30"}), telling([]string{"3.3 V", "DFN4 1x1 + EP", "QX-30H", "reel"})
	require.Equal(t, "", otherVersion("Output voltage, 3.0 V version", mine, others))
	require.Equal(t, "3.3 V", otherVersion("Output voltage, 3.3 V version", mine, others))
	require.Equal(t, "DFN4", otherVersion("Junction to ambient, DFN4", mine, others))
	require.Equal(t, "QX-30H", otherVersion("Current, QX-30H", mine, others))
	require.Equal(t, "", otherVersion("Current, QX-30", mine, others))
	require.Equal(t, "", otherVersion("Rise time at 13.3 V", mine, others))
	require.Equal(t, "", otherVersion("Output voltage, 3.0 V and 3.3 V versions", mine, others), "it speaks of this version too")
}
