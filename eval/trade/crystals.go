package trade

var crystals = []row{
	{name: "crystal_load", doc: "load capacitance that a crystal sees",
		params: []string{"C_1 [F] capacitor at one pin", "C_2 [F] capacitor at the other", "C_stray [F] stray capacitance"},
		body:   "1 / (1 / C_1 + 1 / C_2) + C_stray", unit: "F", text: "parallel-resonant oscillator", source: common},
	{name: "crystal_capacitor", doc: "equal capacitors at both pins that make the load capacitance",
		params: []string{"C_L [F] load capacitance the crystal is made for", "C_stray [F] stray capacitance"},
		body:   "2 * (C_L - C_stray)", unit: "F", valid: []string{"C_L > C_stray"}, source: common},
	{name: "crystal_critical_gm", doc: "transconductance at which the oscillator only just starts",
		params: []string{"ESR [Ω] series resistance of the crystal, highest", "f [Hz] frequency", "C_0 [F] shunt capacitance", "C_L [F] load capacitance"},
		body:   "4 * ESR * (2 * pi * f)^2 * (C_0 + C_L)^2", unit: "S", text: "equal capacitors at both pins, fundamental mode", source: common + " (negative-resistance analysis of the Pierce oscillator)"},
	{name: "crystal_gain_margin", doc: "transconductance of the oscillator over the critical one; 5 and more is usual",
		params: []string{"g_m [S] transconductance of the oscillator, lowest", "ESR [Ω] series resistance of the crystal, highest", "f [Hz] frequency", "C_0 [F] shunt capacitance", "C_L [F] load capacitance"},
		body:   "g_m / crystal_critical_gm(ESR, f, C_0, C_L)", unit: "1", text: "equal capacitors at both pins, fundamental mode", source: common},
	{name: "crystal_pulling", doc: "relative frequency error when the load is not the one the crystal is made for",
		params: []string{"C_m [F] motional capacitance", "C_0 [F] shunt capacitance", "C_actual [F] load capacitance in the circuit", "C_L [F] load capacitance the crystal is made for"},
		body:   "C_m / 2 * (1 / (C_0 + C_actual) - 1 / (C_0 + C_L))", unit: "1", text: "small errors", source: common + " (series expansion of the crystal's equivalent circuit, IEC 60122-1)"},
	{name: "crystal_drive", doc: "power dissipated in a crystal",
		params: []string{"I [A rms] current through the crystal", "ESR [Ω] series resistance"},
		body:   "I^2 * ESR", unit: "W", source: "definition"},
}
