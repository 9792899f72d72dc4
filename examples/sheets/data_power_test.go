package sheets

var ozd = Style{Grid: Boxed, Accent: [3]int{30, 70, 90}}

func regulatorL2() *Sheet {
	return &Sheet{File: "weirkeeper/sheets/ozd-l2.pdf", Code: "OZD-L2", Title: "Low-quiescent 150 mA linear regulator",
		Issuer: "OZD (invented)", Revision: "B", Date: "2025-03-14", Style: ozd,
		Pages: []Page{
			{"Overview", []Item{
				Text("The OZD-L2 is a linear regulator for circuits that live on one cell for years. It keeps its output within " +
					"2 % over load, line and temperature, and takes less than two microamperes for itself."),
				Bullets{"Output 3.0 V or 3.3 V, fixed", "Load up to 150 mA", "Stable with one small ceramic capacitor",
					"Enable input", "Two packages with different pads"},
				Sub("Where it fits"), Text("Loggers, meters, sensors with a radio. In dropout the pass transistor is fully on and the output " +
					"follows the input less the dropout voltage; regulation, and with it rejection of supply noise, is lost there."),
			}},
			{"Pin description", []Item{
				pins("SC70-5 (code D5)",
					"1 | VIN | supply | Input. One capacitor of 1 µF close to the pin",
					"2 | GND | ground | Ground",
					"3 | EN | input | High turns the regulator on. Never leave it floating",
					"4 | NC | not connected | No internal connection; may be grounded",
					"5 | VOUT | supply output | Regulated output"),
				pins("DFN4 1x1 + EP (code Q4)",
					"1 | VOUT | supply output | Regulated output", "2 | GND | ground | Ground", "3 | EN | input | Enable",
					"4 | VIN | supply | Input", "EP | GND | ground | Exposed pad, joined to ground"),
				Text("The two packages have neither the same pads nor the same order of pins. A board drawn for one cannot take the other."),
			}},
			{"Ratings and operating conditions", []Item{
				Sub("Absolute maximum ratings"),
				ratings("Input voltage to ground | VIN | −0.3 | 6.0 | V", "Enable voltage to ground | VEN | −0.3 | 6.0 | V",
					"Junction temperature | TJ | −40 | 125 | °C", "Storage temperature | TSTG | −55 | 150 | °C"),
				Text(stress),
				operating("Input voltage | VIN | 2.2 | – | 5.5 | V", "Junction temperature | TJ | −40 | – | 125 | °C",
					"Load current | IOUT | 0 | – | 150 | mA"),
				electrical("Thermal resistance", "Junction to ambient, SC70-5 | θJA | JESD51-7 board | – | 190 | – | K/W",
					"Junction to ambient, DFN4 | θJA | JESD51-7 board | – | 150 | – | K/W"),
				Text("The thermal resistance belongs to the test board of JESD51-7. A small board without planes is worse."),
			}},
			{"Electrical characteristics", []Item{
				Text("VIN from 2.2 V to 5.5 V, IOUT from 0 to 150 mA, TJ from −40 °C to 125 °C, unless stated otherwise."),
				electrical("",
					"Output voltage, 3.0 V version | VOUT | VIN from 3.2 V to 5.5 V | 2.94 | 3.00 | 3.06 | V",
					"Output voltage, 3.3 V version | VOUT | VIN from 3.5 V to 5.5 V | 3.234 | 3.30 | 3.366 | V",
					"Dropout voltage | VDO | IOUT up to 150 mA | – | 110 | 210 | mV",
					"Quiescent current | IQ | IOUT = 0, all temperatures | – | 0.9 | 1.8 | µA",
					"Shutdown current | ISD | VEN = 0 V | – | 0.05 | 0.3 | µA",
					"Enable, high level | VIH | – | 1.2 | – | – | V",
					"Enable, low level | VIL | – | – | – | 0.4 | V",
					"Current limit | ILIM | VOUT = 0.9 of nominal | 180 | 260 | 380 | mA"),
				Text("Dropout voltage is the difference VIN − VOUT at which the output has fallen by 50 mV from its value at VIN = VOUT + 0.5 V."),
			}},
			{"Description", []Item{
				Text("A band-gap reference, an error amplifier with adaptive bias and a P-channel pass transistor form the loop. The bias rises with the load, " +
					"so that a radio burst finds a fast loop and a sleeping circuit pays little."),
				Text("Below 2.2 V at the input the reference is not guaranteed. When the input returns the output rises without overshoot in about 300 µs."),
				Sub("Heat"), Text("The loss is (VIN − VOUT) times the load current. At 160 °C typical the device turns itself off; this is no operating condition."),
			}},
			{"Typical application", []Item{
				Circuit{Block: "OZD-L2", Left: []Wire{{"VIN", "supply", "C", "1 µF"}, {"EN", "supply", "", ""}},
					Right: []Wire{{"VOUT", "load", "C", "1 µF to 22 µF"}, {"GND", "ground", "", ""}}},
				electrical("Capacitors", "Effective output capacitance | COUT | after tolerance, bias and temperature | 1.0 | – | 22 | µF",
					"Series resistance of COUT | ESR | 100 kHz | 0 | – | 0.3 | Ω",
					"Effective input capacitance | CIN | – | 1.0 | – | – | µF"),
				Text("Effective means what is left of the capacitor at the output voltage, at the coldest and hottest place, and at the low end of its tolerance. " +
					"A small ceramic capacitor may keep less than half of the printed value."),
			}},
			{"Package SC70-5 (code D5)", []Item{Outline{Name: "SC70-5", Kind: "dual", Length: 2.0, Width: 1.25,
				Height: 1.0, Pins: 5, Pitch: 0.65, Span: 2.1}}},
			{"Package DFN4 1x1 + EP (code Q4)", []Item{Outline{Name: "DFN4 1x1 + EP", Kind: "dual", Length: 1.0,
				Width: 1.0, Height: 0.4, Pins: 4, Pitch: 0.65, Pad: [2]float64{0.48, 0.48}}}},
			{"Ordering information", []Item{
				Text("The order code is OZD-L2-{volts}-{case}-{packing}."),
				codes("Fields of the order code", "volts | 30 | 3.0 V", "volts | 33 | 3.3 V", "case | D5 | SC70-5",
					"case | Q4 | DFN4 1x1 + EP", "packing | R | reel of 3000"),
				ordering("OZD-L2-30-D5-R | 3.0 V | SC70-5 | reel", "OZD-L2-30-Q4-R | 3.0 V | DFN4 1x1 + EP | reel",
					"OZD-L2-33-D5-R | 3.3 V | SC70-5 | reel", "OZD-L2-33-Q4-R | 3.3 V | DFN4 1x1 + EP | reel"),
				Text("Status of all versions: active. Moisture sensitivity level 1."),
			}},
			history("A | 2024-06-03 | First edition", "B | 2025-03-14 | Dropout maximum raised to 210 mV; DFN4 package added"),
		}}
}

func chargerC1() *Sheet {
	return &Sheet{File: "weirkeeper/sheets/ozd-c1.pdf", Code: "OZD-C1", Title: "Linear charger for one lithium-ion cell",
		Issuer: "OZD (invented)", Revision: "A", Date: "2024-11-20", Style: ozd,
		Pages: []Page{
			{"Overview", []Item{
				Text("The OZD-C1 charges one lithium-ion cell with constant current, then constant voltage. It watches the temperature of the cell " +
					"through a 10 kΩ NTC and reduces the current when its own junction gets hot."),
				Bullets{"Charge voltage 4.20 V or 4.35 V, trimmed", "Current set by one resistor",
					"Charging only inside the temperature window of the cell", "No current back into the input"},
				Text("WARNING: a lithium-ion cell charged beyond its limits can catch fire. Choose the version whose charge voltage the issuer of the cell permits, and keep the cell protector in the circuit."),
			}},
			{"Pin description", []Item{pins("DFN8 2x2 + EP (code D8)",
				"1 | VIN | supply | Input from the charging supply", "2 | ISET | analog | Resistor to ground sets the charge current",
				"3 | NTC | analog | 10 kΩ NTC of the cell to ground", "4 | STAT | open drain | Low while charging",
				"5 | CEN | input | Low enables charging", "6 | GND | ground | Ground", "7 | BAT | power | To the cell",
				"8 | BAT | power | To the cell",
				"EP | GND | ground | Exposed pad; join it to ground, it carries the heat")}},
			{"Absolute maximum ratings", []Item{
				ratings("Input voltage | VIN | −0.3 | 7.0 | V", "Voltage at BAT | VBAT | −0.3 | 5.5 | V",
					"Voltage at other pins | VPIN | −0.3 | 5.5 | V", "Junction temperature | TJ | −40 | 150 | °C"),
				Text(stress),
				electrical("Thermal resistance", "Junction to ambient, DFN8 2x2 + EP | θJA | JESD51-7 board, pad soldered | – | 65 | – | K/W")}},
			{"Recommended operating conditions", []Item{
				operating("Input voltage | VIN | 4.4 | 5.0 | 5.6 | V", "Ambient temperature | TA | −40 | – | 85 | °C",
					"Junction temperature | TJ | −20 | – | 125 | °C", "Charge current set | ISET | 50 | – | 500 | mA"),
				Text("Between 4.4 V and the cell's voltage plus 150 mV the charger waits. Above 5.8 V typical it turns itself off until the input has fallen again.")}},
			{"Charge characteristics", []Item{
				Text("VIN from 4.4 V to 5.6 V, TJ from −20 °C to 125 °C, unless stated otherwise."),
				electrical("", "Charge voltage, 4.20 V version | VREG | all corners | 4.1685 | 4.200 | 4.2315 | V",
					"Charge current | ICHG | RISET 2.00 kΩ within 1 % | 418.5 | 450 | 481.5 | mA",
					"Pre-charge current | IPRE | VBAT below VFAST | 30 | 45 | 60 | mA",
					"Threshold to full current | VFAST | VBAT rising | 3.40 | 3.45 | 3.50 | V",
					"End of charge current | IEND | – | 30 | 45 | 60 | mA",
					"Leakage from the cell | IREV | VIN = 0 V | – | 0.3 | 1.0 | µA",
					"STAT, low level | VOL | 2 mA | – | – | 0.4 | V",
					"CEN, high level | VIH | – | 1.4 | – | – | V", "CEN, low level | VIL | – | – | – | 0.4 | V"),
				Text("The charge current is set within 7 % of 450 mA by a resistor of 2.00 kΩ.")}},
			{"Typical application", []Item{Circuit{Block: "OZD-C1", Left: []Wire{{"VIN", "USB 5 V", "C", "1 µF"},
				{"ISET", "", "R", "2.00 kΩ 1 %"}, {"NTC", "", "R", "10 kΩ NTC"}},
				Right: []Wire{{"BAT", "cell +", "C", "1 µF"}, {"STAT", "controller", "", ""}, {"CEN", "ground", "", ""}},
				Note:  "Effective capacitance at VIN and at BAT: at least 1 µF each. The exposed pad is soldered to ground with at least four thermal vias."}}},
			{"Temperature", []Item{
				electrical("Cell window and junction", "Charging permitted, lower end | TCOLD | NTC 10 kΩ at 25 °C | 0 | 2 | 4 | °C",
					"Charging permitted, upper end | THOT | NTC 10 kΩ at 25 °C | 41 | 43 | 45 | °C",
					"Junction fold-back begins | TFOLD | – | 115 | 120 | 125 | °C", "Thermal shutdown | TSD | – | 145 | 155 | 165 | °C"),
				Text("Charge window 0 °C to 45 °C. In fold-back the current is reduced so that the junction stays where it is; charging takes longer but nothing is harmed. A design that reaches it in normal use has no reserve of cooling.")}},
			{"Package and ordering information", []Item{
				Outline{Name: "DFN8 2x2 + EP", Kind: "dual", Length: 2.0, Width: 2.0, Height: 0.75, Pins: 8, Pitch: 0.5, Pad: [2]float64{1.6, 0.9}},
				codes("Order code OZD-C1-{volts}-{case}-{packing}", "volts | 420 | 4.20 V", "volts | 435 | 4.35 V",
					"case | D8 | DFN8 2x2 + EP", "packing | R | reel")}},
			history("A | 2024-11-20 | First edition"),
		}}
}
