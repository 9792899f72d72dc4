package trade

// The coefficients of IEC 60751 stand in the bodies as plain numbers over the
// temperature in degrees Celsius.
const (
	celsiusNumber  = "((T - 0 °C) / 1 K)"
	platinumSource = "IEC 60751: A = 3.9083e-3, B = -5.775e-7, C = -4.183e-12"
)

var sensors = []row{
	{name: "platinum_resistance", doc: "resistance of a platinum sensor at a temperature",
		params: []string{"R_0 [Ω] resistance at 0 °C", "T [°C] temperature"},
		body: "R_0 * (1 + 3.9083e-3 * " + celsiusNumber + " - 5.775e-7 * " + celsiusNumber + "^2 - (T < 0 °C ? 4.183e-12 * (" +
			celsiusNumber + " - 100) * " + celsiusNumber + "^3 : 0))",
		unit: "Ω", valid: []string{"T >= -200 °C", "T <= 850 °C"}, source: platinumSource},
	{name: "platinum_temperature", doc: "temperature of a platinum sensor from its resistance",
		params: []string{"R [Ω] resistance", "R_0 [Ω] resistance at 0 °C"},
		body:   "0 °C + (sqrt(3.9083e-3^2 + 4 * 5.775e-7 * (1 - R / R_0)) - 3.9083e-3) / (-2 * 5.775e-7) * 1 K",
		unit:   "°C", valid: []string{"R >= R_0", "R <= 3.9048112 * R_0"}, text: "0 °C to 850 °C", source: platinumSource},
	{name: "platinum_tolerance_a", doc: "tolerance of a platinum sensor of class A, as a temperature",
		params: []string{"T [°C] temperature"},
		body:   "0.15 K + 0.002 * abs(T - 0 °C)", unit: "K", valid: []string{"T >= -200 °C", "T <= 850 °C"},
		text: "present edition: wire-wound -100 °C to 450 °C, film -30 °C to 300 °C; earlier ones to wider limits", source: "IEC 60751, class A"},
	{name: "platinum_tolerance_b", doc: "tolerance of a platinum sensor of class B, as a temperature",
		params: []string{"T [°C] temperature"},
		body:   "0.3 K + 0.005 * abs(T - 0 °C)", unit: "K", valid: []string{"T >= -200 °C", "T <= 850 °C"},
		text: "present edition: wire-wound -196 °C to 600 °C, film -50 °C to 500 °C; earlier ones to wider limits", source: "IEC 60751, class B"},
	{name: "ntc_resistance", doc: "resistance of a thermistor at a temperature, by its B value",
		params: []string{"R_ref [Ω] resistance at T_ref", "B [K] B value of the range", "T [°C] temperature", "T_ref [°C] reference temperature = 25 °C"},
		body:   "R_ref * exp(B * (1 / kelvin(T) - 1 / kelvin(T_ref)))", unit: "Ω",
		text: "between the two temperatures that B is stated for; a few kelvin off beyond", source: "definition of B (IEC 60539-1)"},
	{name: "ntc_temperature", doc: "temperature of a thermistor from its resistance, by its B value",
		params: []string{"R [Ω] resistance", "R_ref [Ω] resistance at T_ref", "B [K] B value of the range", "T_ref [°C] reference temperature = 25 °C"},
		body:   "celsius(1 / (1 / kelvin(T_ref) + ln(R / R_ref) / B))", unit: "°C",
		text: "between the two temperatures that B is stated for; a few kelvin off beyond", source: "definition of B (IEC 60539-1)"},
	{name: "ntc_b_value", doc: "B value from two resistances",
		params: []string{"R_1 [Ω] resistance at T_1", "T_1 [°C] one temperature", "R_2 [Ω] resistance at T_2", "T_2 [°C] other temperature"},
		body:   "ln(R_1 / R_2) / (1 / kelvin(T_1) - 1 / kelvin(T_2))", unit: "K", source: "definition of B (IEC 60539-1)"},
	{name: "bridge_voltage", doc: "output of a bridge of two dividers",
		params: []string{"V [V] supply of the bridge", "R_1 [Ω] top left", "R_2 [Ω] bottom left", "R_3 [Ω] top right", "R_4 [Ω] bottom right"},
		body:   "V * (R_2 / (R_1 + R_2) - R_4 / (R_3 + R_4))", unit: "V", text: "no load", source: "Ohm's law"},
}
