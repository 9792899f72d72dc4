package sheet

import (
	"context"
	"fmt"
	"os"
	"testing"

	"github.com/stretchr/testify/require"
)

// TestOtherUnitsAreCaught states every number of the corpus with another prefix,
// and with another unit. Sheets of which the type may show m for µ, or W for Ω,
// tell nothing of those.
func TestOtherUnitsAreCaught(t *testing.T) {
	slip := map[string][]string{"V": {"mV", "A"}, "mV": {"V", "µV", "mA"}, "A": {"mA", "V"}, "mA": {"µA", "A"}, "µA": {"mA", "nA"}, "nA": {"µA"},
		"Ω": {"mΩ", "kΩ"}, "mΩ": {"µΩ", "Ω"}, "kΩ": {"Ω", "MΩ"}, "MHz": {"kHz", "Hz"}, "kHz": {"Hz", "MHz"}, "ms": {"µs", "s"}, "µs": {"ms", "ns"},
		"ns": {"µs", "ps"}, "°C": {"V", "%"}, "%": {"ppm", "%/V"}, "pF": {"nF"}, "nF": {"µF"}, "µF": {"nF"}, "K/W": {"mK/W"}, "°C/W": {"W/°C"}}
	asked, caught := 0, 0
	for _, lay := range corpusLayouts() {
		for _, d := range corpusDevices() {
			s := sheetOf(t, d, lay)
			var qs []Query
			pages := []int{s.Pages[corpusRecommended], s.Pages[corpusElectrical]}
			for i, rows := range [][]corpusRow{s.Device.Operating, s.Device.Electric} {
				for _, r := range rows {
					for _, q := range rowQueries(r, pages[i]) {
						for _, u := range slip[q.Numbers[0].Unit] {
							o := q
							o.Numbers = []Number{q.Numbers[0]}
							if o.Numbers[0].Unit = u; o.Numbers[0].Value != 0 {
								qs = append(qs, o)
							}
						}
					}
				}
			}
			_, fs, err := shared.Check(context.Background(), pathOf(t, s), qs)
			require.NoError(t, err)
			for i, f := range fs {
				if len(f.Missing) == 0 {
					continue // it stands in another row
				}
				asked++
				if len(f.Unlike)+len(f.Absent) > 0 || f.Slip != "" {
					caught++
				} else if os.Getenv("GUARDBAND_SHOW_WRONG") != "" {
					fmt.Printf("%s %+v -> %+v\n", s.Name, qs[i], f)
				}
			}
		}
	}
	t.Logf("%d of %d numbers with another unit caught", caught, asked)
	require.GreaterOrEqual(t, caught*100, asked*97)
}

// TestOtherUnits: what lines leave no doubt of, and what cannot be told.
func TestOtherUnits(t *testing.T) {
	for _, c := range []struct {
		line  string
		value float64
		unit  string
		other bool
	}{
		{"Resistance 300 mΩ", 300, "µΩ", true},
		{"Resistance 300 mΩ", 0.3, "Ω", false},
		{"Slope 8 mS", 8, "mA/V", false},
		{"Slope 8 mA/V", 8, "mS", false},
		{"Slope 8 mA/V", 8, "A/V", true},
		{"Current 118 mA at 5 V", 118, "nA", true},
		{"Current 118 mA", 118, "V", true},
		{"Time 103 ms", 103, "µs", false}, // the type may show µ as m
		{"Time 103 ms at 4 µA", 103, "µs", true},
		{"Power 45 mW", 45, "mΩ", false}, // and Ω as W
		{"Power 45 mW into 8 Ω", 45, "mΩ", true},
		{"Level 0.7 V DD", 0.7, "", false},
		{"Level 0.7 V DD", 70, "%", false},
		{"Pull-up 10 K", 10, "kΩ", false},
		{"Resistance 65 C/W", 65, "K/W", false},
		{"Time 10 min", 10, "ms", false},
		{"Offset -5 mV", 5, "mV", false}, // the sign is another matter
		{"Current 118 mA, see figure 118", 118, "nA", false},
		{"Resistor 2,2 kΩ 2.2 kΩ", 2.2, "Ω", false},
		{"Drift 50 ppm", 50, "%", true},
		{"Drift 0.01 %", 100, "ppm", false},
		{"Power 14 dBm", 14, "dB", false},
		{"Charge 12 nC", 12, "nA", true},
		{"Pitch 0.5 mm", 0.5, "µm", false},
		{"Pitch 0.5 mm, 8 Ω", 0.5, "µm", true},
		{"Rate 400 kbps", 400, "kHz", false},
		{"Energy 5 mWh", 5, "mW", true},
	} {
		v := newView(typed(c.line))
		k := &checker{symbols: -1}
		for _, r := range c.line {
			if r == 'Ω' || r == 'µ' {
				k.symbols = 1
			}
		}
		got := k.unlike(nil, []*view{v}, []wanted{newWanted(Number{Text: "x", Value: c.value, Unit: c.unit})})
		require.Equal(t, c.other, len(got) > 0, "%s: %v %s %v", c.line, c.value, c.unit, got)
	}
}
