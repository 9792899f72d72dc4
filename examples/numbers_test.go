package examples_test

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/eval/record"
)

// The values at their worst, worked out here a second time with plain
// arithmetic from the figures of the sheets. SI units.
var byHand = map[string]map[string]float64{
	"weirkeeper/board.md": {
		"I_BURST":     0.118 + 0.0058 + 0.0013 + 0.0020 + 0.6e-6 + 0.5e-6,
		"I_SLEEP":     (9.5 + 1.8 + 1.0 + 1.0 + 0.6 + 1.5 + 0.5 + 1.0 + 3.0 + 2.1) * 1e-6,
		"R_PATH":      0.300 + 0.045 + 0.060,
		"P_REG":       (4.2 - 2.94) * 0.1271011,
		"T_J_REG":     273.15 + 50 + (4.2-2.94)*0.1271011*250,
		"I_MAVG":      (0.0058 + 0.0013 + 3.06/2400) * 0.4 / 600,
		"I_RAVG":      0.1271011 * 0.25 / 3600,
		"I_SELF":      0.02 * 2.5 / 730.5,
		"g_LF_CRIT":   4 * 70e3 * sq(2*math.Pi*32768) * sq(8.2e-12),
		"g_LF_PLACED": 4 * 70e3 * sq(2*math.Pi*32768) * sq(1.2e-12+10.5e-12/2+2e-12),
		"g_HF_CRIT":   4 * 50 * sq(2*math.Pi*32e6) * sq(12e-12),
		"P_CHG":       (5.5 - 3.4) * 0.450 * 1.07,
		"T_J_TYP":     273.15 + 45 + (5.5-3.4)*0.450*1.07*65,
		"C_EFF":       4.7e-6 * 1.2 * 1.15,
		"C_EXT":       100e-9 * 1.1 * 1.15,
	},
	"granary/board.md": {
		"V_LEFT":   264 * math.Sqrt2 * math.Exp(-1/(2*470e3*1.05*220e-9*1.1)),
		"TAU":      2 * 470e3 * 1.05 * 220e-9 * 1.1,
		"V_R1":     264 * math.Sqrt2 * 1.05 / 2,
		"P_R3":     sq(264) * 47e3 * 1.05 / sq(47e3*(1.05+3*0.95)),
		"I_HEAT":   1200.0 / 230 * 1.1,
		"W_ASKED":  math.Pow(1200.0/230*1.1/(0.048*math.Pow(20, 0.44)), 1/0.725) * sq(25.4e-6) / 70e-6,
		"P_COIL":   sq(5.15) / (69.4 * 0.9 * (234.5 + 80) / (234.5 + 23)),
		"I_COIL":   5.15 / (69.4 * 0.9),
		"V_OP_HOT": 3.75 * (234.5 + 80) / (234.5 + 23),
		"I_3V3":    0.022 + 0.060 + 0.060 + 0.001,
		"I_5V":     0.350 + 5.15/(69.4*0.9) + 0.143 + 0.0004,
		"T_J_U2":   273.15 + 60 + (5.15-3.3*0.985)*0.143*120,
	},
}

func sq(x float64) float64 { return x * x }

func TestValuesAgreeWithHandCalculation(t *testing.T) {
	for path, want := range byHand {
		r := compile(t, path, "")
		got := map[string]record.Value{}
		for _, v := range r.Values {
			got[v.Name] = v
		}
		for name, x := range want {
			require.NotNil(t, got[name].Max, "%s of %s", name, path)
			require.InEpsilon(t, x, *got[name].Max, 2e-6, "%s of %s", name, path)
		}
	}
}

// The low ends that claims rest on.
func TestLowEndsAgreeWithHandCalculation(t *testing.T) {
	r := compile(t, "weirkeeper/board.md", "")
	for name, x := range map[string]float64{
		"V_IN_BURST": 3.40 - 0.1271011*0.405,
		"C_EFF":      4.7e-6 * 0.8 * 0.85 * 0.62,
		"C_EXT":      100e-9 * 0.9 * 0.85,
		"T_LIFE":     1.8 * 3600 / (22.0e-6 + (0.0058+0.0013+3.06/2400)*0.4/600 + 0.1271011*0.25/3600 + 0.02*2.5/730.5),
	} {
		for _, v := range r.Values {
			if v.Name == name {
				require.InEpsilon(t, x, *v.Min, 2e-6, name)
			}
		}
	}
	require.InEpsilon(t, 0.0785, worst(claim(t, r, "A2")), 1e-3)
	require.InEpsilon(t, 0.0185, worst(claim(t, r, "A9")), 1e-9)
	require.InEpsilon(t, 0.150-0.1271-0.6e-6-0.5e-6-3.06/2400-2*3.06/2178-2*3.06/95e3, worst(claim(t, r, "rail-load")), 1e-9)
}

// One digit of one fact turns the claims that rest on it, and no other.
func TestOneDigitTurnsTheRightClaims(t *testing.T) {
	for _, change := range []struct {
		file, from, to string
		turned         []string
	}{
		{"ozd-l2.md", "typ 110 mV, max 210 mV", "typ 110 mV, max 310 mV", []string{"A2"}},
		{"tqk-32l48.md", "max 9.5 µA", "max 29.5 µA", []string{"A4"}},
		{"rvx-x32k.md", "max 70 kΩ", "max 80 kΩ", []string{"A7"}},
		{"kvr-1865-26.md", "max 4.25 V ", "max 4.23 V ", []string{"A9"}},
		{"nhx-f2m.md", "VCC   = 2.0 V to 3.6 V", "VCC   = 2.8 V to 3.6 V", []string{"A1", "A10"}},
	} {
		dir := t.TempDir()
		require.NoError(t, os.CopyFS(dir, os.DirFS("weirkeeper")))
		path := filepath.Join(dir, "parts", change.file)
		data, err := os.ReadFile(path)
		require.NoError(t, err)
		require.Equal(t, 1, strings.Count(string(data), change.from), "%s in %s", change.from, change.file)
		require.NoError(t, os.WriteFile(path, []byte(strings.Replace(string(data), change.from, change.to, 1)), 0o644))
		r := compileWith(t, filepath.Join(dir, "board.md"), dir, nil)
		var turned []string
		for _, c := range r.Claims {
			if c.Kind == "claim" && c.Verdict == record.Failed {
				turned = append(turned, c.ID)
				corner := false
				for _, k := range c.Criteria {
					corner = corner || k.Verdict == record.Failed && len(k.Corner) > 0
				}
				require.True(t, corner, "%s names no corner", c.ID)
			}
		}
		require.ElementsMatch(t, change.turned, turned, change.file)
	}
}
