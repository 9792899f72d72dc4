package trade

var batteries = []row{
	{name: "battery_life", doc: "time a charge lasts at a mean current",
		params: []string{"Q [A·h] usable charge, at that current and temperature", "I [A] mean current"},
		body:   "Q / I", unit: "h", valid: []string{"I > 0 A"}, text: "usable, not nominal, charge", source: "definition"},
	{name: "duty_current", doc: "mean current of a load that wakes for t_active in every period",
		params: []string{"I_active [A] current while awake", "t_active [s] time awake", "I_sleep [A] current asleep", "period [s] time from one waking to the next"},
		body:   "I_sleep + (I_active - I_sleep) * t_active / period", unit: "A", valid: []string{"t_active <= period"}, source: "definition"},
	{name: "self_discharge_current", doc: "mean current that self-discharge amounts to",
		params: []string{"Q [A·h] charge", "share [1] share of it lost in the time", "t [s] the time"},
		body:   "Q * share / t", unit: "A", text: "loss even over the time", source: "definition"},
	{name: "battery_energy", doc: "energy of a battery",
		params: []string{"V [V] mean voltage", "Q [A·h] charge"},
		body:   "V * Q", unit: "W·h", source: "definition"},
	{name: "battery_voltage_loaded", doc: "voltage of a battery at its load",
		params: []string{"V_open [V] open-circuit voltage", "I [A] current", "R_internal [Ω] internal resistance, at that temperature and state of charge", "R_path [Ω] resistance of leads and switches = 0 Ω"},
		body:   "V_open - I * (R_internal + R_path)", unit: "V", text: "steady current; pulses polarise a cell less at first and more later", source: "Ohm's law"},
	{name: "charge_rate", doc: "charging or discharging current per charge, in 1/h",
		params: []string{"I [A] current", "Q [A·h] nominal charge"},
		body:   "I / Q", unit: "1/h", source: "definition (IEC 61960-3)"},
}
