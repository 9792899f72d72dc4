package trade

import (
	"math/big"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/eval/bound"
	"guardband/eval/formula"
	"guardband/units"
)

// TestOutsideValidity: outside its range a formula has no value, and the note
// of the register says which condition failed.
func TestOutsideValidity(t *testing.T) {
	for text, reason := range map[string]string{
		"buck_duty(3 V, 5 V)":                      "buck_duty is valid for V_in >= V_out",
		"platinum_resistance(100 Ω, 900 °C)":       "platinum_resistance is valid for T <= 850 °C",
		"track_current_outer(1 mm, 35 µm, 5 K)":    "track_current_outer is valid for ΔT >= 10 K",
		"hold_up_time(1 mF, 1 W, 5 V, 3 V, 110 %)": "hold_up_time is valid for efficiency <= 1",
		"electrolytic_life(2000 h, 85 °C, 105 °C)": "electrolytic_life is valid for T <= T_0",

		"led_resistor(2 V, 3 V, 10 mA)":                                "led_resistor is valid for V_supply > V_F",
		"led_resistor(5 V, 3 V, -10 mA)":                               "led_resistor is valid for I_F > 0 A",
		"led_current(5 V, 3 V, -1 kΩ)":                                 "led_current is valid for R > 0 Ω",
		"pull_up_lower(0.3 V, 0.4 V, 3 mA)":                            "pull_up_lower is valid for V_DD > V_OL",
		"regulator_loss(3 V, 5 V, 10 mA)":                              "regulator_loss is valid for V_in >= V_out",
		"linear_efficiency(3 V, 5 V, 10 mA)":                           "linear_efficiency is valid for V_in >= V_out",
		"regulator_current_limit_heat(85 °C, 25 °C, 50 K/W, 3 V, 5 V)": "regulator_current_limit_heat is valid for V_in > V_out",
		"crystal_capacitor(4 pF, 5 pF)":                                "crystal_capacitor is valid for C_L > C_stray",
		"charge_time(1 kΩ, 1 µF, 5 V, 1 V, 2 V)":                       "charge_time is valid for (V_end - V_start) * (V_supply - V_end) >= 0 V²",
		"discharge_time(1 kΩ, 1 µF, 1 V, 2 V)":                         "discharge_time is valid for V_end <= V_start",
		"charge_voltage(5 V, 1 kΩ, 1 µF, -1 s)":                        "charge_voltage is valid for t >= 0 s",
		"discharge_voltage(5 V, 1 kΩ, 1 µF, -1 s)":                     "discharge_voltage is valid for t >= 0 s",
		"thermal_rise(1 W, 50 K/W, 1 s, -1 s)":                         "thermal_rise is valid for t >= 0 s",
		"bleed_time(1 MΩ, 100 nF, 30 V pk, 60 V pk)":                   "bleed_time is valid for V_end <= V_peak",
		"battery_life(2500 mAh, -1 mA)":                                "battery_life is valid for I > 0 A",
		"divider_voltage(5 V, -1 kΩ, 2 kΩ)":                            "divider_voltage is valid for R_top >= 0 Ω",
		"feedback_voltage(0.6 V, 10 kΩ, -1 kΩ)":                        "feedback_voltage is valid for R_bottom > 0 Ω",
		"hold_up_time(1 mF, 1 W, 3 V, 5 V)":                            "hold_up_time is valid for V_start >= V_end",
		"hold_up_time_current(1 mF, 1 A, 3 V, 5 V)":                    "hold_up_time_current is valid for V_start >= V_end",
	} {
		d := &noting{desk: newDesk(), notes: map[bound.Reg]string{}}
		e, errs := formula.Parse(text)
		require.Empty(t, errs)
		v, errs := lang().Check(e, d, d.b)
		require.Empty(t, errs)
		_, _, _, undefined := bound.At(d.b.Extract(v.Reg), 0, nil)
		require.NotNil(t, undefined, text)
		require.Equal(t, reason, d.notes[undefined.Reg], text)
	}
}

// TestRangesAreListed: what is enforced stands in the help, and words beside it.
func TestRangesAreListed(t *testing.T) {
	for _, f := range Functions() {
		for _, v := range f.Valid {
			require.Contains(t, f.ValidText, v, f.Name)
		}
	}
}

// TestRMSIsTagged: what a formula gives as rms carries the tag, so that it is not
// compared with a peak or a direct value.
func TestRMSIsTagged(t *testing.T) {
	n := 0
	for _, f := range Functions() {
		if strings.HasPrefix(f.Doc, "rms ") {
			require.Equal(t, units.RMS, f.Result.Wave, f.Name)
			n++
		}
	}
	require.Equal(t, 5, n)
}

type noting struct {
	*desk
	notes map[bound.Reg]string
}

func (n *noting) Note(r bound.Reg, at *formula.Node, src, valid string) { n.notes[r] = valid }

// TestDividerIsTight: both resistors stand twice in the formula, and the
// range is still that of the corners (DIV-05), not of the pieces.
func TestDividerIsTight(t *testing.T) {
	d := newDesk()
	d.give(t, "V", "5 V")
	r := func(name string, i int) {
		d.give(t, name, "10 kΩ")
		v := d.vals[name]
		v.Reg, v.Fixed = d.b.Var(i), false
		d.vals[name] = v
	}
	r("R1", 0)
	r("R2", 1)
	e, errs := formula.Parse("divider_voltage(V, R1, R2)")
	require.Empty(t, errs)
	v, errs := lang().Check(e, d, d.b)
	require.Empty(t, errs)
	in := bound.Input{Lo: big.NewRat(9900, 1), Hi: big.NewRat(10100, 1), SureLo: big.NewRat(9900, 1), SureHi: big.NewRat(10100, 1)}
	x := bound.Range(d.b.Extract(v.Reg), 0, []bound.Input{in, in}, bound.Options{})
	require.InDelta(t, 2.475, x.Lo.Outer, 1e-12)
	require.InDelta(t, 2.525, x.Hi.Outer, 1e-12)
}

// TestWrongArguments: an argument of another kind is named with what it
// should be.
func TestWrongArguments(t *testing.T) {
	d := newDesk()
	for text, code := range map[string]string{
		"divider_voltage(5 V, 10 kΩ)":              "function-arguments",
		"divider_voltage(5 V, 10 kΩ, 3 V)":         "function-argument",
		"junction_temperature(40 K, 1 W, 100 K/W)": "function-argument",
		"junction_temperature(40 °C, 1 W, 100 Ω)":  "function-argument",
		"resistor_power(230 V rms, 50 Ω)":          "function-argument",
		"divder_voltage(5 V, 10 kΩ, 3 kΩ)":         "function-unknown",
		"thermal_noise(1 kΩ, 1 kHz, 25 °C, 3)":     "function-arguments",
		"ntc_resistance(10 kΩ, 3977 K, 85 °C)":     "",
		"track_width_outer(1 A, 35 µm, 10 °C)":     "function-argument",
	} {
		e, errs := formula.Parse(text)
		require.Empty(t, errs, text)
		_, errs = lang().Check(e, d, d.b)
		if code == "" {
			require.Empty(t, errs, text)
			continue
		}
		require.NotEmpty(t, errs, text)
		require.Equal(t, code, errs[0].Code, text)
		if code == "function-unknown" {
			require.Contains(t, errs[0].Hint, "divider_voltage")
		} else {
			require.Contains(t, errs[0].Hint, "(")
		}
	}
}
