package sheet

func corpusSensor() corpusDevice {
	return corpusDevice{
		Name: "NK204", Title: "Digital pressure and temperature sensor", Maker: "Fenmarsh Instruments (invented)", Revision: "B",
		Orders: []corpusOrder{{"NK204-A-LG8", "I²C address 5C", "LGM-8", "-40 °C to 85 °C"}, {"NK204-B-LG8",
			"I²C address 5D", "LGM-8", "-40 °C to 85 °C"}},
		Packages: []corpusPackage{{"LGM-8", "8", "2.50 mm x 2.50 mm", "0.65 mm"}},
		Pins: []corpusPin{
			{"1", "GND", "Ground", "Ground."}, {"2", "CSB", "Input", "Chip select; high selects I²C."}, {"3", "SDI",
				"I/O", "Serial data."}, {"4", "SCK", "Input", "Serial clock, up to 3.4 MHz."},
			{"5", "SDO", "Output", "Serial data out; sets the address in I²C mode."}, {"6", "VDDIO", "Power",
				"Supply of the interface, 1.2 V to 3.6 V."}, {"7", "GND", "Ground", "Ground."}, {"8", "VDD", "Power", "Analog supply."},
		},
		AbsMax: []corpusRow{
			{"", "Voltage at any supply pin", "VDD", "VDD and VDDIO", "-0.3", "", "4.25", "V"}, {"",
				"Voltage at any interface pin", "VIF", "", "-0.3", "", "VDDIO + 0.3", "V"},
			{"", "Storage temperature", "TSTG", "≤ 65 % rel. humidity", "-45", "", "85", "°C"}, {"", "Pressure", "PMAX", "", "0", "", "20000", "hPa"},
		},
		Operating: []corpusRow{
			{"", "Supply voltage, analog", "VDD", "ripple max. 50 mVpp", "1.71", "1.8", "3.6", "V"}, {"",
				"Supply voltage, interface", "VDDIO", "", "1.2", "1.8", "3.6", "V"},
			{"", "Operating temperature range", "TA", "operational", "-40", "25", "85", "°C"}, {"",
				"Operating pressure range", "P", "full accuracy", "300", "", "1100", "hPa"},
		},
		Electric: []corpusRow{
			{"", "Sleep current", "IDDSL", "", "", "0.1", "0.3", "µA"}, {"", "Standby current", "IDDSB", "", "", "0.2", "0.5", "µA"},
			{"", "Current during pressure measurement", "IDDP", "max. value at 85 °C", "", "714", "", "µA"},
			{"", "Current during temperature measurement", "IDDT", "max. value at 85 °C", "", "350", "", "µA"},
			{"", "Peak current", "Ipeak", "during pressure measurement", "", "720", "1120", "µA"},
			{"", "Relative accuracy, pressure", "Arel", "700 hPa to 900 hPa, 25 °C to 40 °C", "", "±0.12", "", "hPa"},
			{"", "Absolute accuracy, pressure", "Aabs", "300 hPa to 1100 hPa, 0 °C to 65 °C", "", "±1.0", "", "hPa"},
			{"", "Temperature coefficient of offset", "TCO", "900 hPa, 25 °C to 40 °C", "", "±1.5", "", "Pa/K"},
			{"", "Absolute accuracy, temperature", "AT", "25 °C", "", "±0.5", "", "°C"},
			{"", "Absolute accuracy, temperature", "AT", "0 °C to 65 °C", "", "±1.0", "", "°C"},
			{"", "Start-up time", "tstartup", "VDD > 1.58 V to first communication", "", "", "2", "ms"},
			{"", "Output low voltage", "VOL", "IOL = 3 mA", "", "", "0.2", "V"},
			{"", "Input high voltage", "VIH", "", "0.7 x VDDIO", "", "", "V"},
		},
		Circuit: []string{"C1 100 nF at VDD, C2 100 nF at VDDIO", "R1, R2 4.7 kΩ pull-up resistors"},
	}
}

func corpusDriver() corpusDevice {
	return corpusDevice{
		Name: "WR8105", Title: "Octal low-side driver for inductive loads", Maker: "Calder & Pike Microdevices (invented)", Revision: "3, 2024-11",
		Orders: []corpusOrder{{"WR8105TS16", "parallel input", "TSP-16", "-40 °C to 125 °C"}, {"WR8105TS16R",
			"parallel input, reel", "TSP-16", "-40 °C to 125 °C"}, {"WR8105SW18", "parallel input", "SWP-18", "-40 °C to 85 °C"}},
		Packages: []corpusPackage{{"TSP-16", "16", "5.00 mm x 4.40 mm", "0.65 mm"}, {"SWP-18", "18", "11.55 mm x 7.50 mm", "1.27 mm"}},
		Pins: []corpusPin{
			{"1", "IN1", "Input", "Input of channel 1."}, {"2", "IN2", "Input", "Input of channel 2."}, {"3", "IN3",
				"Input", "Input of channel 3."}, {"4", "IN4", "Input", "Input of channel 4."},
			{"5", "GND", "Ground", "Common ground of all channels."}, {"6", "COM", "Output",
				"Common cathode of the clamp diodes."}, {"7", "OUT4", "Output", "Open-drain output of channel 4."},
			{"8", "OUT1", "Output", "Open-drain output of channel 1."},
		},
		AbsMax: []corpusRow{
			{"", "Output voltage", "VOUT", "off state", "", "", "50", "V"}, {"", "Input voltage", "VI", "", "-0.3", "", "30", "V"},
			{"", "Continuous drain current", "ID", "per channel, TA = 25 °C", "", "", "500", "mA"}, {"",
				"Peak drain current", "IDM", "tp < 10 ms", "", "", "1.2", "A"},
			{"", "Total power dissipation", "PTOT", "TA = 25 °C", "", "", "950", "mW"},
		},
		Operating: []corpusRow{{"", "Output voltage", "VOUT", "", "0", "", "40", "V"},
			{"", "Output current", "IOUT", "duty cycle < 25 %", "", "", "350", "mA"},
			{"", "High-level input voltage", "VIH", "IOUT = 350 mA", "2.4", "", "", "V"},
			{"", "Low-level input voltage", "VIL", "", "", "", "0.6", "V"}},
		Thermal: []corpusRow{{"", "Thermal resistance junction to ambient", "RthJA", "TSP-16", "", "", "125", "K/W"}},
		Electric: []corpusRow{
			{"Off state", "Leakage current", "IDSS", "VOUT = 50 V, TA = 25 °C", "", "", "10", "µA"},
			{"Off state", "Leakage current", "IDSS", "VOUT = 50 V, TA = 85 °C", "", "", "50", "µA"},
			{"On state", "On-state resistance", "RON", "VI = 3 V, IOUT = 100 mA", "", "1.8", "3.2", "Ω"},
			{"On state", "On-state resistance", "RON", "VI = 5 V, IOUT = 200 mA", "", "1.1", "2.4", "Ω"},
			{"On state", "On-state resistance", "RON", "VI = 5 V, IOUT = 350 mA", "", "1.2", "2.6", "Ω"},
			{"On state", "Output voltage, on", "VDS(on)", "VI = 5 V, IOUT = 350 mA", "", "0.42", "0.91", "V"},
			{"Inputs", "Input current", "II", "VI = 3.3 V", "45", "66", "90", "µA"},
			{"Inputs", "Input capacitance", "CI", "", "", "15", "25", "pF"},
			{"Diodes", "Clamp diode forward voltage", "VF", "IF = 350 mA", "", "1.3", "1.8", "V"},
			{"Diodes", "Clamp diode leakage", "IR", "VR = 50 V", "", "", "50", "µA"},
			{"Timing", "Turn-on delay", "tPHL", "RL = 82 Ω", "", "90", "250", "ns"},
			{"Timing", "Turn-off delay", "tPLH", "RL = 82 Ω", "", "150", "400", "ns"},
		},
		Circuit: []string{"COM to the supply of the loads, 24 V", "C1 100 µF near COM"},
	}
}
