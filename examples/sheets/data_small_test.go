package sheets

func diodeS40() *Sheet {
	return &Sheet{File: "granary/sheets/qlx-s40.pdf", Code: "QLX-S40", Title: "Diode 1 A 40 V",
		Issuer: "QLX (invented)", Revision: "A", Date: "2022-09-19", Style: qlx,
		Pages: []Page{
			{"Overview and ordering information",
				[]Item{Text("Fast diode for coils and supplies. Order code QLX-S40, SOD123."),
					codes("Order code QLX-S{volts}", "volts | 20 | 20 V", "volts | 40 | 40 V"), pins("",
						"1 | A | passive | Anode", "2 | K | passive | Cathode, marked by a bar")}},
			{"Absolute maximum ratings", []Item{ratings("Reverse voltage | VR | – | 40 | V",
				"Forward current | IF | – | 1 | A", "Junction temperature | TJ | −55 | 125 | °C"), Text(stress)}},
			{"Electrical characteristics", []Item{symbolFirst("25 °C",
				"VF | Forward voltage | – | 0.42 | 0.5 | V | 1 A", "IR | Leakage | – | 5 | 200 | µA | 40 V")}},
			{"Typical application and outline", []Item{Circuit{Block: "QLX-S40", Left: []Wire{{"A", "switch", "", ""}},
				Right: []Wire{{"K", "5 V", "", ""}}}, Outline{Name: "SOD123", Kind: "chip", Length: 2.7, Width: 1.6, Height: 1.1}}},
		}}
}

func clampT485() *Sheet {
	return &Sheet{File: "granary/sheets/qlx-t485.pdf", Code: "QLX-T485", Title: "Clamp for RS-485 lines",
		Issuer: "QLX (invented)", Revision: "A", Date: "2023-02-06", Style: qlx,
		Pages: []Page{
			{"Overview and ordering information",
				[]Item{Text("Two unsymmetric clamps for the range of RS-485. Order code QLX-T485, SOT23-3."),
					codes("Order code QLX-T{bus}", "bus | 485 | RS-485"), pins("", "1 | L1 | passive | Line",
						"2 | L2 | passive | Line", "3 | GND | ground | Ground")}},
			{"Absolute maximum ratings", []Item{ratings("Pulse power 10/1000 µs | PPP | – | 400 | W",
				"Junction temperature | TJ | −55 | 125 | °C"), Text(stress)}},
			{"Electrical characteristics", []Item{symbolFirst("25 °C",
				"VRWM | Stand-off voltage, positive | – | – | 12 | V | per line",
				"VRWN | Stand-off voltage, negative | −7 | – | – | V | per line", "CL | Line capacitance | – | 60 | 75 | pF | 0 V")}},
			{"Typical application and outline", []Item{Circuit{Block: "QLX-T485", Left: []Wire{{"L1", "A", "", ""}},
				Right: []Wire{{"L2", "B", "", ""}}}, Outline{Name: "SOT23-3", Kind: "dual", Length: 2.9, Width: 1.3,
				Height: 1.1, Pins: 3, Pitch: 1.9, Span: 2.4}}},
		}}
}

func terminalT508() *Sheet {
	return &Sheet{File: "granary/sheets/rvx-t508.pdf", Code: "RVX-T508", Title: "Terminal block, pitch 5.08 mm",
		Issuer: "RVX (invented)", Revision: "C", Date: "2023-05-22", Style: rvx,
		Pages: []Page{
			{"Description and ordering information", []Item{Text("Screw terminal with four ways. Order code RVX-T508."),
				Text(mainsWarning), codes("Order code RVX-T{pitch}", "pitch | 508 | 5.08 mm"), pins("Ways",
					"1 | L | passive | Way 1", "2 | N | passive | Way 2", "3 | H1 | passive | Way 3", "4 | H2 | passive | Way 4")}},
			{"Ratings", []Item{Sub("Absolute maximum ratings"), ratings("Current per way, rms | IW | – | 10 | A",
				"Voltage, rms | VW | – | 300 | V", "Temperature | T | −40 | 105 | °C"), electrical("Wire",
				"Cross-section | AW | – | 0.5 | – | 2.5 | mm²", "Torque | M | – | 0.4 | – | 0.5 | Nm")}},
			{"Typical application", []Item{Text("Tighten with the stated torque; a loose screw at ten amperes is a heater of its own."),
				Circuit{Block: "RVX-T508", Left: []Wire{{"L", "line", "", ""}, {"N", "neutral", "", ""}},
					Right: []Wire{{"H1", "heater", "", ""}, {"H2", "heater", "", ""}}}}},
			{"Outline", []Item{Outline{Name: "terminal block", Kind: "block", Length: 20.3, Width: 8.2, Height: 10}}},
		}}
}

func capacitorE227() *Sheet {
	return &Sheet{File: "granary/sheets/pxx-e227.pdf", Code: "PXX-E227-10", Title: "Electrolytic capacitor 220 µF 10 V",
		Issuer: "PXX (invented)", Revision: "B", Date: "2024-02-12", Style: pxx,
		Pages: []Page{
			{"Description and ordering information",
				[]Item{Text("Radial electrolytic capacitor, 105 °C. Order code PXX-E227-10."),
					codes("Order code PXX-E{value}-{volts}", "value | 227 | 220 µF", "volts | 10 | 10 V"), pins("Leads",
						"1 | P | passive | Positive, long lead", "2 | N | passive | Negative, marked by a stripe")}},
			{"Ratings and characteristics", []Item{Sub("Absolute maximum ratings"),
				ratings("Direct voltage | VR | – | 10 | V", "Temperature of the case | T | −40 | 105 | °C",
					"Ripple current, 100 kHz | IR | – | 340 | mA"), electrical("Characteristics",
					"Capacitance | C | 120 Hz, 20 °C | 176 | 220 | 264 | µF",
					"Endurance | L0 | 105 °C, rated ripple | 2000 | – | – | h"), Text("Life doubles for every ten kelvins below 105 °C. The rule is weak below 60 °C and says nothing of a capacitor's drying by other paths.")}},
			{"Typical application", []Item{Circuit{Block: "PXX-E227", Left: []Wire{{"P", "5 V", "", ""}}, Right: []Wire{{"N", "ground", "", ""}}}}},
			{"Outline", []Item{Outline{Name: "can 6.3 x 11", Kind: "cylinder", Length: 11, Width: 6.3, Height: 6.3}}},
		}}
}

func fan40() *Sheet {
	return &Sheet{File: "granary/sheets/rvx-fan40.pdf", Code: "RVX-FAN40", Title: "Axial fan 40 mm, 5 V",
		Issuer: "RVX (invented)", Revision: "B", Date: "2024-10-07", Style: rvx,
		Pages: []Page{
			{"Description and ordering information",
				[]Item{Text("Two versions that look alike and take very different currents."),
					ordering("RVX-FAN40 | 6 m³/h | 40 x 10 mm | box", "RVX-FAN40H | 11 m³/h | 40 x 20 mm | box"),
					codes("Order code RVX-FAN{size}{version}", "size | 40 | 40 mm", "version | none | flat",
						"version | H | tall"), pins("Wires", "1 | P | supply | Red, positive", "2 | N | ground | Black, negative")}},
			{"Characteristics", []Item{operating("Supply voltage | VS | 4.5 | 5.0 | 5.5 | V",
				"Ambient temperature | TA | −10 | – | 70 | °C"), electrical("5 V",
				"Current, RVX-FAN40 | IFAN | blocked or running | – | 240 | 350 | mA",
				"Current, RVX-FAN40H | IFAN | blocked or running | – | 390 | 540 | mA")}},
			{"Ratings", []Item{Sub("Absolute maximum ratings"), ratings("Supply voltage | VS | −6 | 6 | V", "Temperature | T | −20 | 75 | °C")}},
			{"Typical application and outline", []Item{Circuit{Block: "RVX-FAN40", Left: []Wire{{"P", "5 V", "C",
				"100 nF"}}, Right: []Wire{{"N", "ground", "", ""}}}, Outline{Name: "frame 40", Kind: "block", Length: 40, Width: 40, Height: 10}}},
		}}
}
