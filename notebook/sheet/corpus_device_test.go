package sheet

// The files corpus_*_test.go write data sheets of invented parts in many layouts
// and keep what stands on them, so that reading them can be judged. Every maker,
// part and figure in them is invented.

// corpusDevice is an invented part and all that its sheet says.
type corpusDevice struct {
	Name, Title, Maker, Revision string

	Orders    []corpusOrder
	Packages  []corpusPackage
	Pins      []corpusPin
	AbsMax    []corpusRow
	Operating []corpusRow
	Thermal   []corpusRow
	Electric  []corpusRow
	Circuit   []string // lines beside the application circuit
}

// corpusOrder is a line of the ordering table.
type corpusOrder struct{ Code, Option, Package, Temperature string }

// corpusPackage is a package with its body size and pitch.
type corpusPackage struct{ Name, Pins, Body, Pitch string }

// corpusPin is a line of the pin table.
type corpusPin struct{ Number, Name, Type, Function string }

// corpusRow is a line of a table of ratings or characteristics. Rows that follow each
// other with the same name and symbol may be printed with one spanning cell.
type corpusRow struct{ Group, Name, Symbol, Condition, Min, Typ, Max, Unit string }

// corpusDevices gives the invented parts.
func corpusDevices() []corpusDevice {
	return []corpusDevice{corpusRegulator(), corpusConverter(), corpusSensor(), corpusDriver()}
}

func corpusRegulator() corpusDevice {
	return corpusDevice{
		Name: "QX41", Title: "150 mA low-dropout regulator with enable", Maker: "Brindlecombe Semiconductors (invented)", Revision: "C, 2025-03",
		Orders: []corpusOrder{
			{"QX41-18C5", "1.8 V", "SC-70-5", "-40 °C to 125 °C"}, {"QX41-30C5", "3.0 V", "SC-70-5", "-40 °C to 125 °C"},
			{"QX41-33C5", "3.3 V", "SC-70-5", "-40 °C to 125 °C"}, {"QX41-33D6", "3.3 V", "DFN-6", "-40 °C to 125 °C"},
		},
		Packages: []corpusPackage{{"SC-70-5", "5", "2.00 mm x 1.25 mm", "0.65 mm"}, {"DFN-6", "6", "2.00 mm x 2.00 mm", "0.65 mm"}},
		Pins: []corpusPin{
			{"1", "VIN", "Power", "Input of the regulator. Connect a capacitor of at least 2.2 µF to GND."}, {"2", "GND", "Ground", "Ground."},
			{"3", "EN", "Input", "Enable, active high. Do not leave open."}, {"4", "NR", "Analog",
				"Noise reduction; 22 nF to GND."}, {"5", "VOUT", "Output", "Regulated output."},
		},
		AbsMax: []corpusRow{
			{"", "Input voltage", "VIN", "", "-0.3", "", "6.2", "V"}, {"", "Enable voltage", "VEN", "", "-0.3", "", "VIN + 0.3", "V"},
			{"", "Output current", "IOUT", "", "", "", "220", "mA"}, {"", "Junction temperature", "TJ", "", "", "", "125", "°C"},
			{"", "Storage temperature", "TSTG", "", "-65", "", "150", "°C"}, {"", "ESD, human body model", "VESD", "", "", "", "2", "kV"},
		},
		Operating: []corpusRow{
			{"", "Input voltage", "VIN", "", "1.9", "", "5.6", "V"}, {"", "Output current", "IOUT", "", "0", "", "150", "mA"},
			{"", "Output capacitance", "COUT", "", "2.2", "", "22", "µF"}, {"", "Ambient temperature", "TA", "", "-40", "", "105", "°C"},
		},
		Thermal: []corpusRow{{"", "Thermal resistance, junction to ambient", "RθJA", "SC-70-5", "", "195", "", "°C/W"},
			{"", "Thermal resistance, junction to ambient", "RθJA", "DFN-6", "", "84", "", "°C/W"}},
		Electric: []corpusRow{
			{"Output", "Output voltage accuracy", "VOUT", "IOUT = 1 mA", "-1", "", "1", "%"},
			{"Output", "Output voltage accuracy", "VOUT", "IOUT = 1 mA to 150 mA, TJ = -40 °C to 125 °C", "-2", "", "2", "%"},
			{"Output", "Dropout voltage", "VDROP", "IOUT = 50 mA", "", "45", "85", "mV"},
			{"Output", "Dropout voltage", "VDROP", "IOUT = 150 mA", "", "130", "250", "mV"},
			{"Output", "Line regulation", "ΔVLINE", "VIN = 3.6 V to 5.6 V", "", "0.02", "0.1", "%/V"},
			{"Output", "Load regulation", "ΔVLOAD", "IOUT = 1 mA to 150 mA", "", "8", "20", "mV"},
			{"Output", "Current limit", "ILIM", "VOUT = 0.9 x VOUT(NOM)", "160", "260", "400", "mA"},
			{"Supply", "Quiescent current", "IQ", "no load", "", "15", "25", "µA"},
			{"Supply", "Shutdown current", "ISD", "EN = GND", "", "0.05", "1", "µA"},
			{"Enable", "Enable threshold, high", "VENH", "", "1.2", "", "", "V"},
			{"Enable", "Enable threshold, low", "VENL", "", "", "", "0.4", "V"},
			{"Dynamic", "Power supply rejection ratio", "PSRR", "f = 1 kHz, IOUT = 10 mA", "", "62", "", "dB"},
			{"Dynamic", "Output noise voltage", "VN", "BW = 10 Hz to 100 kHz", "", "30", "", "µV rms"},
			{"Dynamic", "Turn-on time", "tON", "COUT = 2.2 µF", "", "180", "400", "µs"},
		},
		Circuit: []string{"C1 2.2 µF, C2 2.2 µF, C3 22 nF", "Place C1 and C2 within 5 mm of the pins."},
	}
}

func corpusConverter() corpusDevice {
	return corpusDevice{
		Name: "TV707", Title: "2 A synchronous step-down converter", Maker: "Ostwyn Power Devices (invented)", Revision: "1.4",
		Orders: []corpusOrder{{"TV707AQS", "adjustable", "QSN-8", "-40 °C to 85 °C"}, {"TV707A33QS", "3.3 V", "QSN-8",
			"-40 °C to 85 °C"}, {"TV707A50QS", "5.0 V", "QSN-8", "-40 °C to 85 °C"}},
		Packages: []corpusPackage{{"QSN-8", "8", "3.00 mm x 2.50 mm", "0.50 mm"}},
		Pins: []corpusPin{
			{"1", "BST", "Analog", "Supply of the high-side gate driver; 100 nF to SW."}, {"2", "SW", "Output",
				"Switching node."}, {"3", "PGND", "Ground", "Power ground."},
			{"4", "VIN", "Power", "Input supply, 4.5 V to 18 V."}, {"5", "EN", "Input",
				"Enable; may be driven to VIN."}, {"6", "FB", "Input", "Feedback input, 0.8 V."},
			{"7", "PG", "Output", "Power good, open drain. High when the output is within 10 % of its set value."},
			{"8", "AGND", "Ground", "Analog ground."},
		},
		AbsMax: []corpusRow{
			{"", "Supply voltage", "VIN", "", "-0.3", "", "20", "V"}, {"", "Switching node voltage", "VSW", "", "-0.6", "", "VIN + 0.3", "V"},
			{"", "Bootstrap voltage", "VBST", "to SW", "-0.3", "", "6", "V"}, {"", "Voltage at any other pin", "VPIN", "", "-0.3", "", "6", "V"},
			{"", "Operating junction temperature", "TJ", "", "-40", "", "150", "°C"}, {"", "Soldering temperature",
				"TS", "10 s", "", "", "260", "°C"},
		},
		Operating: []corpusRow{
			{"", "Supply voltage", "VIN", "", "4.5", "", "18", "V"}, {"", "Output voltage", "VOUT", "", "0.8", "", "12", "V"},
			{"", "Output current", "IOUT", "", "0", "", "2", "A"}, {"", "Operating free-air temperature", "TA", "", "-40", "", "85", "°C"},
		},
		Thermal: []corpusRow{{"", "Junction-to-ambient thermal resistance", "RθJA", "", "", "62.5", "", "°C/W"}, {"",
			"Junction-to-case thermal resistance", "RθJC", "", "", "18", "", "°C/W"}},
		Electric: []corpusRow{
			{"Input supply", "Undervoltage lockout threshold", "VUVLO", "VIN rising", "3.9", "4.15", "4.4", "V"},
			{"Input supply", "Undervoltage lockout threshold", "VUVLO", "VIN falling", "3.5", "3.75", "4.0", "V"},
			{"Input supply", "Supply current, switching", "IIN", "VFB = 0.75 V", "", "0.6", "0.9", "mA"},
			{"Input supply", "Supply current, shutdown", "ISD", "VEN = 0 V", "", "1", "3", "µA"},
			{"Feedback", "Feedback voltage", "VFB", "TA = 25 °C", "0.792", "0.800", "0.808", "V"},
			{"Feedback", "Feedback voltage", "VFB", "TA = -40 °C to 85 °C", "0.784", "0.800", "0.816", "V"},
			{"Feedback", "Feedback input current", "IFB", "", "", "10", "100", "nA"},
			{"Switches", "High-side on-resistance", "RDS(ON)H", "ISW = 500 mA", "", "110", "180", "mΩ"},
			{"Switches", "Low-side on-resistance", "RDS(ON)L", "ISW = 500 mA", "", "70", "115", "mΩ"},
			{"Switches", "High-side current limit", "ILIMH", "", "2.6", "3.4", "4.2", "A"},
			{"Oscillator", "Switching frequency", "fSW", "", "430", "500", "570", "kHz"},
			{"Oscillator", "Minimum on-time", "tON(MIN)", "", "", "85", "130", "ns"},
			{"Oscillator", "Pulses counted before shutdown", "NOC", "", "12", "16", "20", ""},
			{"Protection", "Thermal shutdown", "TSD", "TJ rising", "", "165", "", "°C"},
		},
		Circuit: []string{"L1 4.7 µH, C1 10 µF, C2 2 x 22 µF, C3 100 nF", "R1 31.6 kΩ, R2 10 kΩ for 3.3 V"},
	}
}
