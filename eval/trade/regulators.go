package trade

var regulators = []row{
	{name: "regulator_loss", doc: "power dissipated in a linear regulator",
		params: []string{"V_in [V] input voltage", "V_out [V] output voltage", "I_out [A] output current", "I_ground [A] current out of the ground pin = 0 A"},
		body:   "(V_in - V_out) * I_out + V_in * I_ground", unit: "W", valid: []string{"V_in >= V_out"}, source: common},
	{name: "dropout_headroom", doc: "voltage left above what a linear regulator needs",
		params: []string{"V_in [V] voltage of the source", "V_out [V] output voltage", "V_drop [V] dropout voltage at that current", "I_out [A] output current = 0 A", "R_path [Ω] resistance between source and regulator = 0 Ω"},
		body:   "V_in - I_out * R_path - V_out - V_drop", unit: "V", source: common},
	{name: "linear_efficiency", doc: "efficiency of a linear regulator",
		params: []string{"V_in [V] input voltage", "V_out [V] output voltage", "I_out [A] output current", "I_ground [A] current out of the ground pin = 0 A"},
		body:   "V_out * I_out / (V_in * (I_out + I_ground))", unit: "1", valid: []string{"V_in >= V_out"}, source: "definition"},
	{name: "regulator_current_limit_heat", doc: "largest output current that keeps a linear regulator's junction at its limit",
		params: []string{"T_J [°C] highest junction temperature", "T_A [°C] ambient temperature", "R_θ [K/W] thermal resistance, junction to ambient", "V_in [V] input voltage", "V_out [V] output voltage"},
		body:   "(T_J - T_A) / (R_θ * (V_in - V_out))", unit: "A", valid: []string{"V_in > V_out"}, text: "R_θ of the board it was stated for", source: common},
}
