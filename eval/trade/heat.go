package trade

var heat = []row{
	{name: "junction_temperature", doc: "temperature of a junction from its power and thermal resistance",
		params: []string{"T_A [°C] temperature of the reference: ambient, case or board", "P [W] power dissipated", "R_θ [K/W] thermal resistance from junction to that reference"},
		body:   "T_A + P * R_θ", unit: "°C", text: "R_θJA holds for the board it was measured on (JESD51): a screening figure", source: "definition (JESD51-1)"},
	{name: "allowed_dissipation", doc: "power at which a junction reaches a temperature",
		params: []string{"T_J [°C] highest junction temperature", "T_A [°C] temperature of the reference", "R_θ [K/W] thermal resistance from junction to that reference"},
		body:   "(T_J - T_A) / R_θ", unit: "W", text: "R_θJA holds for the board it was measured on (JESD51): a screening figure", source: "definition (JESD51-1)"},
	{name: "thermal_resistance_rated", doc: "thermal resistance that a rated power at a temperature stands for",
		params: []string{"T_J [°C] highest junction temperature", "T_rated [°C] temperature the power is rated at", "P_rated [W] rated power"},
		body:   "(T_J - T_rated) / P_rated", unit: "K/W", source: "definition"},
	{name: "thermal_time_constant", doc: "time constant of a heat capacity and a loss",
		params: []string{"C_th [J/K] heat capacity", "G_th [W/K] dissipation factor"},
		body:   "C_th / G_th", unit: "s", source: "definition"},
	{name: "thermal_rise", doc: "temperature rise a time after the power is switched on",
		params: []string{"P [W] power", "R_θ [K/W] thermal resistance", "tau [s] thermal time constant", "t [s] time"},
		body:   "P * R_θ * (1 - exp(-t / tau))", unit: "K", valid: []string{"t >= 0 s"}, text: "one time constant", source: "definition"},
}
