package trade

var diodes = []row{
	{name: "led_resistor", doc: "series resistor that sets the current of a light-emitting diode",
		params: []string{"V_supply [V] supply", "V_F [V] forward voltage at that current", "I_F [A] forward current"},
		body:   "(V_supply - V_F) / I_F", unit: "Ω", text: "V_supply above V_F", source: "Ohm's law"},
	{name: "led_current", doc: "current of a light-emitting diode behind a series resistor",
		params: []string{"V_supply [V] supply", "V_F [V] forward voltage", "R [Ω] series resistor"},
		body:   "(V_supply - V_F) / R", unit: "A", text: "V_supply above V_F; below it the current is nought, not negative", source: "Ohm's law"},
}
