package lists

import (
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/eval/record"
)

// TestListValue: value cells as lists write them, and what they are in ohms,
// farads or henries. "-" is not understood, "?" may be read in two ways. The
// letters are those of IEC 60062, the decimal comma is that of ISO 80000-1.
func TestListValue(t *testing.T) {
	for _, x := range []struct{ text, kind, want string }{
		{"2,2 Ohm", "resistor", "2.2"}, {"4,7k", "resistor", "4700"}, {"4,7 kOhm 5%", "resistor", "4700"}, {"0,47R",
			"resistor", "0.47"},
		{"1,5 MΩ", "resistor", "1500000"}, {"0,047", "resistor", "0.047"}, {"4,700", "resistor", "?"}, {"1,000,000",
			"resistor", "?"},
		{"4k7", "resistor", "4700"}, {"4K7 1%", "resistor", "4700"}, {"0r1", "resistor", "0.1"}, {"R47", "resistor",
			"0.47"}, {"0R", "resistor", "0"}, {"Resistor zero ohm jumper 0402", "resistor", "0"}, {"ZERO 10k", "resistor", "10000"},
		{"10k,1%", "resistor", "10000"}, {"10k,0402", "resistor", "10000"}, {"0402, 10k", "resistor",
			"10000"}, {"0402,10k", "resistor", "10000"},
		{"1206,10k", "resistor", "10000"}, {"4R7,0805", "resistor", "4.7"}, {"22,0402", "resistor", "22"},
		{"RES 10K OHM 1% 1/16W 0402", "resistor", "10000"}, {"RES SMD 1.50K OHM 1% 1/10W", "resistor",
			"1500"}, {"RES 33 OHM 1/16W 5% 0402 SMD", "resistor", "33"},
		{"RES,22R,+/-5%,1/16W,SMD0402", "resistor", "22"}, {"20k_0402", "resistor",
			"20000"}, {"10 MOhms ±1% 0.1W, 1/10W", "resistor", "10000000"},
		{"5 mOhm", "resistor", "0.005"}, {"5mR", "resistor", "0.005"}, {"10 MOHM", "resistor", "?"}, {"10m",
			"resistor", "?"}, {"1Meg", "resistor", "1000000"},
		{"10", "resistor", "10"}, {"4.7", "resistor", "4.7"}, {"100", "resistor", "100"}, {"1k-10k", "resistor",
			"-"}, {"1k or 2k", "resistor", "-"},
		{"10k NTC 4k7", "resistor", "-"}, {"1/4W", "resistor", "-"}, {"01B", "resistor", "-"}, {"4.7 V", "resistor",
			"-"}, {"0402", "resistor", "-"}, {"10k?", "resistor", "?"},
		{"RES 2.2K-5%-1/16W 0402", "resistor", "2200"}, {"RC0402FR-0710K", "resistor", "-"}, {"10KJ", "resistor",
			"-"}, {"RC0402FR-0720KL", "resistor", "-"}, {"1 000", "resistor", "?"}, {"1 000 " +
			"pF", "resistor", "?"}, {"DNP", "resistor", "-"}, {"", "resistor", "-"},
		{"4,7uF", "capacitor", "0.0000047"}, {"4U7", "capacitor", "0.0000047"}, {"100N", "capacitor",
			"0.0000001"}, {"0.1UF", "capacitor", "0.0000001"},
		{"CAP CER 470PF 50V 10% X7R 0402", "capacitor", "0.00000000047"}, {"CAP,10PF,+/-5%,C0G,50V,SMD0402",
			"capacitor", "0.00000000001"},
		{"8 pF ±0.1pF 50V Ceramic Capacitor C0G, NP0 0402 (1005 Metric)", "capacitor",
			"0.000000000008"}, {"100nF_0402_50V", "capacitor", "0.0000001"},
		{"22u/25V", "capacitor", "0.000022"}, {"10u,6,3V", "capacitor", "0.00001"}, {"2.2 µF", "capacitor",
			"0.0000022"}, {"2.2 \u03bcF", "capacitor", "0.0000022"},
		{"100u 6V3", "capacitor", "0.0001"}, {"10MF", "capacitor", "?"}, {"104", "capacitor",
			"-"}, {"0201, 100nF, 10V, X5R, 20%", "capacitor", "0.0000001"},
		{"4.7n 4700p", "capacitor", "0.0000000047"}, {"10n+100n", "capacitor", "-"}, {"2x10u", "capacitor",
			"-"}, {"2-6pF", "capacitor", "-"},
		{"10uH 1A", "inductor", "0.00001"}, {"1 µH Shielded Drum Core 5.5 A 32mOhm Max", "inductor",
			"0.000001"}, {"4R7", "inductor", "?"}, {"10MH", "inductor", "?"}, {"2,2u", "inductor", "0.0000022"},
	} {
		v := ReadValue(x.text, x.kind)
		got := "-"
		switch {
		case v.Unsure:
			got = "?"
		case v.Nominal != nil:
			got = v.Nominal.FloatString(14)
			for len(got) > 1 && (got[len(got)-1] == '0' || got[len(got)-1] == '.') {
				dot := got[len(got)-1] == '.'
				if got = got[:len(got)-1]; dot {
					break
				}
			}
		}
		require.Equal(t, x.want, got, "%q of a %s", x.text, x.kind)
	}
	v := ReadValue("10u/6,3V 20 %", "capacitor")
	require.Equal(t, "63/10", v.Rating.String())
	require.Equal(t, "20/1", v.Tol.String())
	v = ReadValue("100u 6V3 +80% -20%", "capacitor")
	require.Equal(t, "63/10", v.Rating.String())
	require.Nil(t, v.Tol)
}

// TestSameChip: the code said to be metric is never taken for the other one.
func TestSameChip(t *testing.T) {
	for _, x := range []struct {
		cell, size string
		want       record.Verdict
	}{
		{"0402", "0402", record.Passed}, {"R_0402", "0402", record.Passed}, {"C_0402_1005Metric", "0402",
			record.Passed}, {"R_0201_0603Metric", "0201", record.Passed},
		{"R_0201_0603Metric", "0603", record.Failed}, {"0201 (0603 Metric)", "0603", record.Failed}, {"C_0603_1608Metric", "0603",
			record.Passed}, {"0603", "0402", record.Failed},
		{"1005", "0402", record.Open}, {"CAPC1005X55N", "0402", record.Passed}, {"CAPC1608X90N", "0402", record.Failed}, {"C1210K", "1210",
			record.Passed}, {"SMD", "0402", record.Open}, {"402", "0402", record.Open},
	} {
		require.Equal(t, x.want, SameChip(x.cell, x.size), "%s against %s", x.cell, x.size)
	}
}
