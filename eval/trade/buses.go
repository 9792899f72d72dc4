package trade

// From 30 % to 70 % of the supply an RC line takes ln(0.7 / 0.3) = 0.8473
// time constants.
const busSource = "I²C-bus specification UM10204, section 7.1"

var buses = []row{
	{name: "pull_up_lower", doc: "smallest pull-up resistor that an open-drain output can still pull low",
		params: []string{"V_DD [V] supply of the bus, highest", "V_OL [V] low level allowed at the output", "I_OL [A] current the output sinks at that level"},
		body:   "(V_DD - V_OL) / I_OL", unit: "Ω", valid: []string{"V_DD > V_OL", "I_OL > 0 A"}, source: busSource},
	{name: "pull_up_upper", doc: "largest pull-up resistor that still gives the rise time",
		params: []string{"t_rise [s] rise time allowed, 30 % to 70 % of the supply", "C_bus [F] capacitance of the line, highest"},
		body:   "t_rise / (ln(0.7 / 0.3) * C_bus)", unit: "Ω", text: "passive pull-up alone", source: busSource},
	{name: "bus_rise_time", doc: "rise time of a line with a pull-up resistor, 30 % to 70 % of the supply",
		params: []string{"R [Ω] pull-up resistor", "C_bus [F] capacitance of the line"},
		body:   "ln(0.7 / 0.3) * R * C_bus", unit: "s", text: "passive pull-up alone", source: busSource},
	{name: "noise_margin_high", doc: "distance of the driver's high level from what the receiver needs",
		params: []string{"V_OH [V] lowest high level of the driver", "V_IH [V] lowest level read as high"},
		body:   "V_OH - V_IH", unit: "V", text: "both at the same supply and the current of the use", source: "definition (JESD99)"},
	{name: "noise_margin_low", doc: "distance of the driver's low level from what the receiver needs",
		params: []string{"V_IL [V] highest level read as low", "V_OL [V] highest low level of the driver"},
		body:   "V_IL - V_OL", unit: "V", text: "both at the same supply and the current of the use", source: "definition (JESD99)"},
	{name: "injected_current", doc: "current a driver pushes through the protection diode of an input above its supply",
		params: []string{"V_drive [V] voltage of the driver", "V_DD [V] supply of the input", "V_F [V] forward voltage of the diode", "R [Ω] series resistor"},
		body:   "max(V_drive - V_DD - V_F, 0 V) / R", unit: "A", valid: []string{"R > 0 Ω"}, text: "no current below V_DD + V_F", source: "Ohm's law"},
	{name: "clock_error_total", doc: "sum of the clock errors of two ends of an asynchronous link over one frame, in bit times",
		params: []string{"error_a [1] relative error of one clock", "error_b [1] relative error of the other", "bits [1] bit times from the start edge to the middle of the stop bit"},
		body:   "(abs(error_a) + abs(error_b)) * bits", unit: "1", text: "below half a bit time, less the receiver's own sampling error", source: common},
}
