package trade

// Copper of 100 % conductivity (IACS) at 20 °C and its temperature
// coefficient, both IEC 60028.
const (
	copper       = "(1 / 58) * 1 Ω * 1 mm^2 / 1 m"
	copperRise   = "(1 + 0.00393 * (T - 20 °C) / 1 K)"
	copperSource = "IEC 60028: 1/58 Ω·mm²/m and 0.00393/K at 20 °C"
	copperText   = "annealed copper, d.c., -50 °C to 200 °C; printed copper may be thinner than stated"
	trackSource  = "curve fit to the charts of IPC-2221: I = k·ΔT^0.44·A^0.725, A in mil²"
	trackText    = "1 track in still air, up to 35 A and 400 mil, 10 K to 100 K rise, 0.5 oz/ft² to 3 oz/ft²; the charts of IPC-2152 supersede it"
)

var copperRange = []string{"T >= -50 °C", "T <= 200 °C"}

var (
	trackRange = []string{"ΔT >= 10 K", "ΔT <= 100 K", "w <= 400 mil"}
	widthRange = []string{"ΔT >= 10 K", "ΔT <= 100 K", "I <= 35 A"}
)

var conductors = []row{
	{name: "track_resistance", doc: "resistance of a printed copper track",
		params: []string{"l [m] length", "w [m] width", "t [m] thickness", "T [°C] temperature = 20 °C"},
		body:   copper + " * l / (w * t) * " + copperRise, unit: "Ω", valid: copperRange, text: copperText, source: copperSource},
	{name: "wire_resistance", doc: "resistance of a round copper wire",
		params: []string{"l [m] length, there and back counted", "d [m] diameter", "T [°C] temperature = 20 °C"},
		body:   copper + " * l / (pi * d^2 / 4) * " + copperRise, unit: "Ω", valid: copperRange, text: copperText, source: copperSource},
	{name: "conductor_resistance", doc: "resistance of a copper conductor of a cross-section",
		params: []string{"l [m] length, there and back counted", "A [m²] cross-section", "T [°C] temperature = 20 °C"},
		body:   copper + " * l / A * " + copperRise, unit: "Ω", valid: copperRange, text: copperText, source: copperSource},
	{name: "copper_resistance_at", doc: "resistance of copper at a temperature, from that at 20 °C",
		params: []string{"R_20 [Ω] resistance at 20 °C", "T [°C] temperature"},
		body:   "R_20 * " + copperRise, unit: "Ω", valid: copperRange, text: copperText, source: copperSource},
	{name: "wire_gauge_diameter", doc: "diameter of a wire of the American wire gauge",
		params: []string{"gauge [1] number; 0, -1, -2, -3 for 1/0 to 4/0"},
		body:   "5 mil * 92^((36 - gauge) / 39)", unit: "mm", valid: []string{"gauge >= -3", "gauge <= 50"}, text: "solid wire, gauge -3 (4/0) to 50", source: "ASTM B258"},
	{name: "track_current_outer", doc: "current that warms an outer track by ΔT",
		params: []string{"w [m] width", "t [m] thickness", "ΔT [K] temperature rise"},
		body:   "0.048 A * (ΔT / 1 K)^0.44 * (w * t / 1 mil^2)^0.725", unit: "A", valid: trackRange, text: trackText, source: trackSource + ", k = 0.048"},
	{name: "track_current_inner", doc: "current that warms an inner track by ΔT",
		params: []string{"w [m] width", "t [m] thickness", "ΔT [K] temperature rise"},
		body:   "0.024 A * (ΔT / 1 K)^0.44 * (w * t / 1 mil^2)^0.725", unit: "A", valid: trackRange, text: trackText, source: trackSource + ", k = 0.024"},
	{name: "track_width_outer", doc: "width at which a current warms an outer track by ΔT",
		params: []string{"I [A] current", "t [m] thickness", "ΔT [K] temperature rise"},
		body:   "(I / 0.048 A / (ΔT / 1 K)^0.44)^(1 / 0.725) * 1 mil^2 / t", unit: "mm", valid: widthRange, text: trackText, source: trackSource + ", k = 0.048"},
	{name: "track_width_inner", doc: "width at which a current warms an inner track by ΔT",
		params: []string{"I [A] current", "t [m] thickness", "ΔT [K] temperature rise"},
		body:   "(I / 0.024 A / (ΔT / 1 K)^0.44)^(1 / 0.725) * 1 mil^2 / t", unit: "mm", valid: widthRange, text: trackText, source: trackSource + ", k = 0.024"},
}
