package trade

var diodes = []row{
	{name: "led_resistor", doc: "series resistor that sets the current of a light-emitting diode",
		params: []string{"V_supply [V] supply", "V_F [V] forward voltage at that current", "I_F [A] forward current"},
		body:   "(V_supply - V_F) / I_F", unit: "Ω", valid: []string{"V_supply > V_F", "I_F > 0 A"}, source: "Ohm's law"},
	{name: "led_current", doc: "current of a light-emitting diode behind a series resistor",
		params: []string{"V_supply [V] supply", "V_F [V] forward voltage", "R [Ω] series resistor"},
		body:   "max(V_supply - V_F, 0 V) / R", unit: "A", valid: []string{"R > 0 Ω"}, text: "no current below V_F", source: "Ohm's law"},
}
