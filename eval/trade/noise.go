package trade

// boltzmann is k_B, exact since the SI of 2019.
const boltzmann = "1.380649e-23 J/K"

const noiseSource = "Johnson-Nyquist formula; k_B exact (SI Brochure, 9th ed.)"

var noise = []row{
	{name: "thermal_noise", doc: "rms noise voltage of a resistor in a bandwidth",
		params: []string{"R [Ω] resistance", "bandwidth [Hz] noise bandwidth", "T [°C] temperature = 25 °C"},
		body:   "sqrt(4 * " + boltzmann + " * kelvin(T) * R * bandwidth)", unit: "V rms", text: "far below the optical range", source: noiseSource},
	{name: "thermal_noise_density", doc: "noise voltage density of a resistor",
		params: []string{"R [Ω] resistance", "T [°C] temperature = 25 °C"},
		body:   "sqrt(4 * " + boltzmann + " * kelvin(T) * R)", unit: "V/√Hz", source: noiseSource},
	{name: "thermal_noise_power", doc: "available noise power in a bandwidth",
		params: []string{"bandwidth [Hz] noise bandwidth", "T [°C] temperature = 25 °C"},
		body:   boltzmann + " * kelvin(T) * bandwidth", unit: "W", source: noiseSource},
	{name: "capacitor_noise", doc: "rms noise voltage sampled on a capacitor",
		params: []string{"C [F] capacitance", "T [°C] temperature = 25 °C"},
		body:   "sqrt(" + boltzmann + " * kelvin(T) / C)", unit: "V rms", source: noiseSource},
	{name: "noise_bandwidth", doc: "noise bandwidth of a first-order low pass",
		params: []string{"f_corner [Hz] corner frequency"},
		body:   "pi / 2 * f_corner", unit: "Hz", source: "definition"},
	{name: "noise_figure", doc: "noise figure from a noise temperature",
		params: []string{"T_noise [K] noise temperature", "T_ref [K] reference temperature = 290 K"},
		body:   "dB_power(1 + T_noise / T_ref)", unit: "dB", source: "definition (IEC 60050-702)"},
	{name: "power_voltage", doc: "rms voltage of a power in a resistance",
		params: []string{"P [W] power", "R [Ω] resistance"},
		body:   "sqrt(P * R)", unit: "V rms", source: "Ohm's law"},
}
