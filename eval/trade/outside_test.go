package trade

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/eval/formula"
	"guardband/units"
)

// outside is one figure of testdata/trade/check-values.json: a formula over
// inputs, and what its source prints. Status "seen" means that the source was
// read, "memory" that the figure is given from memory.
type outside struct {
	ID, Key, Formula, Unit, Source, Status string
	Inputs                                 map[string]string
	Expected, Tolerance                    float64
}

func readOutside(t *testing.T) []outside {
	data, err := os.ReadFile(filepath.Join("..", "..", "testdata", "trade", "check-values.json"))
	require.NoError(t, err)
	var all []outside
	require.NoError(t, json.Unmarshal(data, &all))
	return all
}

// worked are figures for the formulas that no entry of check-values.json
// reaches. "worked here" is a calculation by hand from the definition; figures
// of common knowledge are given from memory and say so.
var worked = []outside{
	{ID: "divider_current", Formula: "divider_current(5 V, 10 kΩ, 15 kΩ)", Expected: 200, Unit: "µA", Tolerance: 1e-9, Source: "worked here"},
	{ID: "divider_voltage_loaded", Formula: "divider_voltage_loaded(10 V, 2 kΩ, 2 kΩ, 1 mA)", Expected: 4, Unit: "V", Tolerance: 1e-12, Source: "worked here: 5 V less 1 mA in 1 kΩ"},
	{ID: "feedback with current", Formula: "feedback_voltage(1 V, 200 kΩ, 100 kΩ, 100 nA)", Expected: 3.02, Unit: "V", Tolerance: 1e-12, Source: "worked here"},
	{ID: "resistor_power", Formula: "resistor_power(5 V, 100 Ω)", Expected: 0.25, Unit: "W", Tolerance: 1e-12, Source: "worked here"},
	{ID: "resistor_power_current", Formula: "resistor_power_current(50 mA, 100 Ω)", Expected: 0.25, Unit: "W", Tolerance: 1e-12, Source: "worked here"},
	{ID: "resistor_voltage_limit", Formula: "resistor_voltage_limit(0.25 W, 1 MΩ)", Expected: 500, Unit: "V", Tolerance: 1e-9, Source: "worked here"},
	{ID: "time_constant_inductor", Formula: "time_constant_inductor(10 mH, 100 Ω)", Expected: 100, Unit: "µs", Tolerance: 1e-9, Source: "worked here"},
	{ID: "corner_frequency_inductor", Formula: "corner_frequency_inductor(10 mH, 62.831853 Ω)", Expected: 1, Unit: "kHz", Tolerance: 1e-7, Source: "worked here"},
	{ID: "resonant_frequency", Formula: "resonant_frequency(1 µH, 1 nF)", Expected: 5.0329, Unit: "MHz", Tolerance: 5e-5, Source: "common knowledge, from memory"},
	{ID: "capacitor_reactance", Formula: "capacitor_reactance(50 Hz, 1 µF)", Expected: 3183.1, Unit: "ohm", Tolerance: 0.05, Source: "common knowledge, from memory"},
	{ID: "inductor_reactance", Formula: "inductor_reactance(50 Hz, 1 H)", Expected: 314.16, Unit: "ohm", Tolerance: 5e-3, Source: "common knowledge, from memory"},
	{ID: "charge_time", Formula: "charge_time(10 kΩ, 100 nF, 3.3 V, 3.3 V * 0.6321205588)", Expected: 1, Unit: "ms", Tolerance: 1e-8, Source: "one time constant reaches 63.2 % (RC-01)"},
	{ID: "discharge_time", Formula: "discharge_time(10 kΩ, 100 nF, 1 V, 0.36787944 V)", Expected: 1, Unit: "ms", Tolerance: 1e-8, Source: "one time constant leaves 36.8 % (RC-01)"},
	{ID: "rise_time", Formula: "rise_time(1 MHz)", Expected: 0.35, Unit: "µs", Tolerance: 5e-4, Source: "0.35 / bandwidth, common knowledge"},
	{ID: "injected_current", Formula: "injected_current(5 V, 3.3 V, 0.7 V, 1 kΩ)", Expected: 1, Unit: "mA", Tolerance: 1e-12, Source: "worked here"},
	{ID: "clock_error_total", Formula: "clock_error_total(2 %, -1.5 %, 9.5)", Expected: 0.3325, Tolerance: 1e-12, Source: "worked here"},
	{ID: "crystal_critical_gm", Formula: "crystal_critical_gm(80 Ω, 8 MHz, 7 pF, 10 pF)", Expected: 0.2337, Unit: "mA/V", Tolerance: 5e-5, Source: "worked here; an oscillator application note gives 0.23 mA/V for these figures, from memory"},
	{ID: "crystal_gain_margin", Formula: "crystal_gain_margin(25 mA/V, 80 Ω, 8 MHz, 7 pF, 10 pF)", Expected: 107, Tolerance: 0.5, Source: "the same note: 107, from memory"},
	{ID: "crystal_pulling", Formula: "crystal_pulling(10 fF, 3 pF, 9 pF, 7 pF) / 1 ppm", Expected: -83.333, Tolerance: 1e-3, Source: "worked here: 5 fF * (1/12 pF - 1/10 pF)"},
	{ID: "crystal_drive", Formula: "crystal_drive(1 mA rms, 50 Ω)", Expected: 50, Unit: "µW", Tolerance: 1e-9, Source: "worked here"},
	{ID: "dropout_headroom", Formula: "dropout_headroom(3.6 V, 3 V, 250 mV, 100 mA, 0.5 Ω)", Expected: 300, Unit: "mV", Tolerance: 1e-9, Source: "worked here"},
	{ID: "linear_efficiency", Formula: "linear_efficiency(5 V, 3 V, 99 mA, 1 mA)", Expected: 0.594, Tolerance: 1e-12, Source: "worked here"},
	{ID: "buck_output_ripple", Formula: "buck_output_ripple(1 A, 500 kHz, 25 µF, 10 mΩ)", Expected: 20, Unit: "mV", Tolerance: 1e-9, Source: "worked here: 10 mV + 1 A / 100 S"},
	{ID: "boost_duty", Formula: "boost_duty(5 V, 12 V)", Expected: 0.583333, Tolerance: 1e-6, Source: "worked here"},
	{ID: "boost_ripple_current", Formula: "boost_ripple_current(5 V, 10 V, 10 µH, 500 kHz)", Expected: 0.5, Unit: "A", Tolerance: 1e-12, Source: "worked here"},
	{ID: "boost_input_current", Formula: "boost_input_current(5 V, 12 V, 1 A, 0.9)", Expected: 2.666667, Unit: "A", Tolerance: 1e-6, Source: "worked here"},
	{ID: "converter_loss", Formula: "converter_loss(9 W, 0.9)", Expected: 1, Unit: "W", Tolerance: 1e-12, Source: "worked here"},
	{ID: "duty_current", Formula: "duty_current(10 mA, 40 ms, 10 µA, 4 s)", Expected: 109.9, Unit: "µA", Tolerance: 1e-9, Source: "worked here"},
	{ID: "battery_voltage_loaded", Formula: "battery_voltage_loaded(3.0 V, 20 mA, 15 Ω, 1 Ω)", Expected: 2.68, Unit: "V", Tolerance: 1e-12, Source: "worked here"},
	{ID: "charge_rate", Formula: "charge_rate(500 mA, 1000 mA*h) * 1 h", Expected: 0.5, Tolerance: 1e-12, Source: "worked here"},
	{ID: "hold_up_time", Formula: "hold_up_time(863.1 µF, 50 W, 38 V, 9 V, 85 %)", Expected: 10, Unit: "ms", Tolerance: 1e-3, Source: "CAP-05 solved for the time"},
	{ID: "hold_up_time_current", Formula: "hold_up_time_current(100 µF, 10 mA, 5 V, 4 V)", Expected: 10, Unit: "ms", Tolerance: 1e-9, Source: "worked here"},
	{ID: "supply_dip", Formula: "supply_dip(100 mA, 1 µs, 1 µF, 20 mΩ)", Expected: 102, Unit: "mV", Tolerance: 1e-9, Source: "worked here"},
	{ID: "inrush_current", Formula: "inrush_current(12 V, 0.5 Ω)", Expected: 24, Unit: "A", Tolerance: 1e-12, Source: "worked here"},
	{ID: "slew_current", Formula: "slew_current(100 µF, 5 V, 1 ms)", Expected: 0.5, Unit: "A", Tolerance: 1e-12, Source: "worked here"},
	{ID: "inrush_melting_integral", Formula: "inrush_melting_integral(470 µF, 24 V, 0.5 Ω) / 1 A^2 / 1 s", Expected: 0.27072, Tolerance: 1e-9, Source: "worked here: C V² / (2 R)"},
	{ID: "effective_capacitance", Formula: "effective_capacitance(10 µF, 10 %, 15 %, 0.5, 3 %, 10000 h)", Expected: 3.366, Unit: "µF", Tolerance: 1e-9, Source: "worked here: 10 * 0.9 * 0.85 * 0.5 * (1 - 0.03 * 4)"},
	{ID: "bleed_voltage", Formula: "bleed_voltage(325 V pk, 1 MΩ, 0.5 µF, 1.12915 s)", Expected: 33.97, Unit: "V", Tolerance: 0.01, Source: "SAFE-11 the other way round, 325 V for 230 V rms"},
	{ID: "electrolytic_life", Formula: "electrolytic_life(2000 h, 105 °C, 55 °C)", Expected: 64000, Unit: "h", Tolerance: 1e-6, Source: "worked here: five doublings"},
	{ID: "adc_buffer_capacitor", Formula: "adc_buffer_capacitor(10 pF, 12)", Expected: 81.92, Unit: "nF", Tolerance: 1e-9, Source: "worked here"},
	{ID: "adc_effective_bits", Formula: "adc_effective_bits(74 dB)", Expected: 12, Tolerance: 2e-3, Source: "74 dB for 12 bits, common knowledge"},
	{ID: "jitter_snr", Formula: "jitter_snr(100 MHz, 1 ps)", Expected: 64.04, Unit: "dB", Tolerance: 5e-3, Source: "worked here: -20 log10(6.2832e-4)"},
	{ID: "thermal_noise_density", Formula: "thermal_noise_density(1 kΩ)", Expected: 4.06, Unit: "nV/√Hz", Tolerance: 5e-3, Source: "about 4 nV/√Hz for 1 kΩ, common knowledge"},
	{ID: "capacitor_noise", Formula: "capacitor_noise(1 pF, celsius(300 K))", Expected: 64.4, Unit: "µV", Tolerance: 0.05, Source: "64 µV for 1 pF at 300 K, common knowledge"},
	{ID: "noise_bandwidth", Formula: "noise_bandwidth(1 kHz)", Expected: 1570.8, Unit: "Hz", Tolerance: 0.05, Source: "1.57 times the corner, common knowledge"},
	{ID: "track_resistance", Formula: "track_resistance(100 mm, 1 mm, 35 µm)", Expected: 49.26, Unit: "mΩ", Tolerance: 5e-3, Source: "worked here: 2.857 squares a millimetre at 0.4926 mΩ"},
	{ID: "track_current_outer", Formula: "track_current_outer(11.8 mil, 1.378 mil, 10 K)", Expected: 1, Unit: "A", Tolerance: 3e-3, Source: "PCB-01 solved for the current"},
	{ID: "track_current_inner", Formula: "track_current_inner(23.65 mil, 0.689 mil, 10 K)", Expected: 0.5, Unit: "A", Tolerance: 1e-3, Source: "PCB-06 solved for the current"},
	{ID: "coil_pull_in_voltage", Formula: "coil_pull_in_voltage(8.4 V, 85 °C)", Expected: 10.5454, Unit: "V", Tolerance: 1e-4, Source: "worked here: 8.4 * 319.5 / 254.5"},
	{ID: "coil_temperature_rise", Formula: "coil_temperature_rise(125.540275 Ω, 100 Ω, 20 °C)", Expected: 85, Unit: "degC", Tolerance: 1e-5, Source: "coil_pull_in_voltage the other way round"},
	{ID: "switch_loss", Formula: "switch_loss(2 A, 50 mΩ, 0.5)", Expected: 100, Unit: "mW", Tolerance: 1e-9, Source: "worked here"},
	{ID: "gate_drive_current", Formula: "gate_drive_current(20 nC, 100 kHz)", Expected: 2, Unit: "mA", Tolerance: 1e-12, Source: "worked here"},
	{ID: "coil_energy", Formula: "coil_energy(10 mH, 2 A)", Expected: 20, Unit: "mJ", Tolerance: 1e-9, Source: "worked here"},
	{ID: "fuse_load", Formula: "fuse_load(0.6 A, 1 A, 0.8)", Expected: 0.75, Tolerance: 1e-12, Source: "worked here"},
	{ID: "prospective_current", Formula: "prospective_current(12 V, 10 mΩ)", Expected: 1200, Unit: "A", Tolerance: 1e-9, Source: "worked here"},
	{ID: "stress_ratio", Formula: "stress_ratio(5 V, 10 V)", Expected: 0.5, Tolerance: 1e-12, Source: "worked here"},
	{ID: "platinum_temperature", Formula: "platinum_temperature(247.09 Ω, 100 Ω)", Expected: 400, Unit: "degC", Tolerance: 0.02, Source: "IEC 60751 table, RTD-10 the other way round"},
	{ID: "ntc_b_value", Formula: "ntc_b_value(10 kΩ, 25 °C, 1070.3 Ω, 85 °C)", Expected: 3977, Unit: "K", Tolerance: 0.5, Source: "NTC-01 the other way round"},
	{ID: "bridge_voltage", Formula: "bridge_voltage(5 V, 1 kΩ, 1 kΩ, 1 kΩ, 1.01 kΩ)", Expected: -12.4378, Unit: "mV", Tolerance: 1e-4, Source: "worked here: 2.5 V - 5 V * 1.01 / 2.01"},
}

func TestOutsideValues(t *testing.T) {
	for _, c := range append(readOutside(t), worked...) {
		t.Run(c.ID+" "+c.Key, func(t *testing.T) {
			require.NotEmpty(t, c.Source)
			require.Positive(t, c.Tolerance)
			d := newDesk()
			for name, literal := range c.Inputs {
				d.give(t, name, literal)
			}
			got, typ := d.work(t, c.Formula)
			unit := units.Unit{}
			if c.Unit != "" {
				u, err := units.ParseUnit(c.Unit)
				if err != nil {
					t.Fatal(err)
				}
				unit = u
				require.Equal(t, u.Type.Dim, typ.Dim)
				offset := 0.0
				if u.Offset != nil && typ.Kind == units.Point {
					offset, _ = u.Offset.Float64()
				}
				factor, _ := u.Factor.Float64()
				got = (got - offset) / factor
			}
			require.InDelta(t, c.Expected, got, c.Tolerance*(1+1e-9)+1e-15*math.Abs(got), "%s in %s, %s", c.Formula, unit.Symbol, c.Source)
		})
	}
}

// TestEveryFormulaIsChecked: no formula goes without a figure.
func TestEveryFormulaIsChecked(t *testing.T) {
	used := map[string]bool{}
	for _, c := range append(readOutside(t), worked...) {
		e, errs := formula.Parse(c.Formula)
		require.Empty(t, errs)
		formula.Walk(e.Root, func(n *formula.Node) {
			if n.Kind == formula.NodeCall {
				used[n.Name] = true
			}
		})
	}
	for _, f := range Functions() {
		require.True(t, used[f.Name], "%s has no figure", f.Name)
	}
}
