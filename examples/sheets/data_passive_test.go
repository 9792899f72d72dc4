package sheets

var (
	qlx = Style{Grid: Ruled, Accent: [3]int{110, 60, 20}, Right: true}
	pxx = Style{Letter: true, Serif: true, Grid: Striped, Accent: [3]int{40, 100, 110}}
)

func crystal32k() *Sheet {
	return crystal("weirkeeper/sheets/rvx-x32k.pdf", "RVX-X32K-7P", "load | 7P | 7 pF",
		"Tuning-fork crystal 32.768 kHz", "2024-02-19", "3.2 x 1.5, two pads", 3.2, 1.5,
		[]string{"1 | X1 | passive | Crystal", "2 | X2 | passive | Crystal"},
		[]string{"Frequency | f | 32.768 | kHz", "Load capacitance | CL | 7 | pF"}, "Series resistance | ESR | −40 °C to 85 °C | – | 50 | 70 | kΩ",
		"Shunt capacitance | C0 | – | – | 1.0 | 1.2 | pF", "Drive level | DL | – | – | 0.1 | 0.5 | µW", "Tolerance | Δf | 25 °C | −20 | – | 20 | ppm")
}

func crystal32M() *Sheet {
	return crystal("weirkeeper/sheets/rvx-x32m.pdf", "RVX-X32M-10P", "load | 10P | 10 pF", "Crystal 32 MHz",
		"2024-02-26", "2.5 x 2.0, four pads", 2.5, 2.0, []string{"1 | X1 | passive | Crystal", "2 | LID | ground | Lid",
			"3 | X2 | passive | Crystal", "4 | LID | ground | Lid"},
		[]string{"Frequency | f | 32 | MHz", "Load capacitance | CL | 10 | pF"}, "Series resistance | ESR | −40 °C to 85 °C | – | 30 | 50 | Ω",
		"Shunt capacitance | C0 | – | – | 1.5 | 2.0 | pF", "Drive level | DL | – | – | 50 | 200 | µW", "Tolerance | Δf | 25 °C | −10 | – | 10 | ppm")
}

func crystal(file, code, field, title, date, pack string, l, w float64, pads, rated []string, rows ...string) *Sheet {
	return &Sheet{File: file, Code: code, Title: title, Issuer: "RVX (invented)", Revision: "A", Date: date, Style: rvx,
		Pages: []Page{
			{"Description and ordering information",
				[]Item{Text("A quartz crystal in a sealed ceramic package with a metal lid. No pad of the crystal is joined to the lid."),
					Text("Order code " + code + "."), codes("Fields of the order code", field),
					pins("Pads", pads...)}},
			{"Electrical characteristics", []Item{nominal(rated...), electrical("Characteristics", rows...),
				Sub("Absolute maximum ratings"), ratings("Drive level, never beyond | DLMAX | – | 2 × DL | –",
					"Temperature, storage | TSTG | −55 | 125 | °C"),
				Text("The load capacitance is that seen between the pads, strays included.")}},
			{"Typical application", []Item{Circuit{Block: "oscillator", Left: []Wire{{"IN", "X1", "C", "C1"}},
				Right: []Wire{{"OUT", "X2", "C", "C2"}},
				Note:  "Two capacitors to ground: in series they make half of one; the stray between the pads is added. A stray of 2 pF is usual on a small board."}}},
			{"Outline", []Item{Outline{Name: pack, Kind: "chip", Length: l, Width: w, Height: 0.75}}},
		}}
}

func connectorUC16() *Sheet {
	return &Sheet{File: "weirkeeper/sheets/rvx-uc16.pdf", Code: "RVX-UC16", Title: "USB-C receptacle, 16 contacts",
		Issuer: "RVX (invented)", Revision: "B", Date: "2024-08-12", Style: rvx,
		Pages: []Page{
			{"Description and ordering information",
				[]Item{Text("Receptacle for USB 2.0 and power, top mount with two pegs. Order code RVX-UC16."),
					codes("Order code RVX-UC{contacts}", "contacts | 16 | 16 contacts",
						"contacts | 06 | 6 contacts, power only"), Bullets{"5 A over all supply contacts together", "10,000 matings"}}},
			{"Contacts", []Item{pins("Contacts", "A4 A9 B4 B9 | VBUS | passive | Supply, four contacts",
				"A1 A12 B1 B12 | GND | ground | Ground, four contacts", "A5 | CC1 | passive | Configuration",
				"B5 | CC2 | passive | Configuration", "A6 B6 | DP | passive | Data", "A7 B7 | DM | passive | Data",
				"A8 B8 | SBU | passive | May stay open", "S | SH | passive | Shell")}},
			{"Ratings", []Item{Sub("Absolute maximum ratings"),
				ratings("Current, all supply contacts | IBUS | – | 5 | A", "Voltage | VBUS | – | 20 | V",
					"Temperature | T | −40 | 85 | °C"), electrical("Characteristics", "Contact resistance | RC | per contact | – | – | 40 | mΩ")}},
			{"Typical application", []Item{Circuit{Block: "RVX-UC16", Left: []Wire{{"CC1", "", "R", "5.1 kΩ"}, {"CC2",
				"", "R", "5.1 kΩ"}}, Right: []Wire{{"VBUS", "charger", "C", "1 µF"}, {"GND", "ground", "", ""}},
				Note: "A device that takes power shows 5.1 kΩ to ground on each of the two contacts, with two resistors."}}},
			{"Outline", []Item{Outline{Name: "receptacle", Kind: "block", Length: 8.94, Width: 7.35, Height: 3.16}}},
		}}
}

func clampE4() *Sheet {
	return &Sheet{File: "weirkeeper/sheets/qlx-e4.pdf", Code: "QLX-E4", Title: "Four-line clamp",
		Issuer: "QLX (invented)", Revision: "A", Date: "2023-07-11", Style: qlx,
		Pages: []Page{
			{"Overview", []Item{Text("Four clamps to a common ground for fast lines. Order code QLX-E4-05, SOT23-6."),
				pins("", "1 | L1 | passive | Line 1", "2 | GND | ground | Ground", "3 | L2 | passive | Line 2",
					"4 | L3 | passive | Line 3", "5 | NC | not connected | Leave open", "6 | L4 | passive | Line 4")}},
			{"Absolute maximum ratings", []Item{ratings("Pulse current 8/20 µs | IPP | – | 4 | A",
				"Temperature | TJ | −55 | 125 | °C"), Text(stress)}},
			{"Electrical characteristics", []Item{symbolFirst("25 °C",
				"VRWM | Stand-off voltage | – | – | 5.5 | V | per line",
				"CL | Line capacitance | – | 0.45 | 0.6 | pF | 0 V, 1 MHz",
				"VCL | Clamping voltage | – | 9 | 12 | V | 4 A", "IR | Leakage | – | 1 | 50 | nA | 5.5 V")}},
			{"Typical application", []Item{Circuit{Block: "QLX-E4", Left: []Wire{{"L1", "CC1", "", ""}, {"L2", "CC2",
				"", ""}}, Right: []Wire{{"L3", "data", "", ""}, {"GND", "ground", "", ""}}}}},
			{"Package and ordering information", []Item{Outline{Name: "SOT23-6", Kind: "dual", Length: 2.9, Width: 1.6,
				Height: 1.1, Pins: 6, Pitch: 0.95, Span: 2.8}, codes("Order code QLX-E4-{volts}", "volts | 05 | 5.5 V")}},
		}}
}

func transistorP12() *Sheet {
	return &Sheet{File: "weirkeeper/sheets/qlx-p12.pdf", Code: "QLX-P12", Title: "P-channel transistor 12 V",
		Issuer: "QLX (invented)", Revision: "B", Date: "2024-03-04", Style: qlx,
		Pages: []Page{
			{"Overview", []Item{Text("P-channel field effect transistor for switching the supply of battery equipment, characterised down to a gate voltage of −1.8 V. Order code QLX-P12-B, SOT23-3."),
				pins("", "1 | G | input | Gate", "2 | S | passive | Source", "3 | D | passive | Drain")}},
			{"Absolute maximum ratings", []Item{ratings("Drain to source voltage | VDS | −12 | – | V",
				"Gate to source voltage | VGS | −8 | 8 | V", "Drain current | ID | −3.5 | – | A",
				"Junction temperature | TJ | −55 | 150 | °C"), Text(stress)}},
			{"Electrical characteristics", []Item{electrical("TJ = −40 °C to 85 °C",
				"Resistance when on | RDSon | VGS = −4.5 V | – | 31 | 42 | mΩ",
				"Resistance when on | RDSon | VGS = −2.5 V or more | – | 44 | 60 | mΩ",
				"Resistance when on | RDSon | VGS = −1.8 V | – | 70 | 110 | mΩ",
				"Threshold voltage | VGSth | ID = −250 µA | −1.0 | −0.7 | −0.4 | V", "Leakage | IDSS | VDS = −10 V | −1.0 | – | – | µA")}},
			{"Typical application", []Item{Circuit{Block: "QLX-P12", Left: []Wire{{"D", "cell +", "", ""}, {"G", "",
				"R", "100 kΩ"}}, Right: []Wire{{"S", "load", "C", "1 µF"}},
				Note: "As a guard against reversed cells the drain faces the cell and the gate is pulled to ground."}}},
			{"Package and ordering information", []Item{Outline{Name: "SOT23-3", Kind: "dual", Length: 2.9, Width: 1.3,
				Height: 1.1, Pins: 3, Pitch: 1.9, Span: 2.4}, codes("Order code QLX-P12-{grade}", "grade | B | −40 °C to 85 °C")}},
			history("A | 2022-05-02 | First edition", "B | 2024-03-04 | Grade B"),
		}}
}

func capacitor475() *Sheet {
	return &Sheet{File: "weirkeeper/sheets/pxx-c475.pdf", Code: "PXX-C475-5R-06",
		Title: "Ceramic capacitor 4.7 µF, X5R, 6.3 V, 0603", Issuer: "PXX (invented)", Revision: "D", Date: "2025-01-27", Style: pxx,
		Pages: []Page{
			{"Description and ordering information",
				[]Item{Text("Multilayer ceramic capacitor of class 2. Order code PXX-C475-5R-06: 4.7 µF, X5R, 6.3 V, size 0603."),
					codes("Order code PXX-C{value}-{class}-{volts}", "value | 475 | 4.7 µF", "class | 5R | X5R, ± 20 %",
						"volts | 06 | 6.3 V"), pins("Terminals", "1 | A | passive | Terminal", "2 | B | passive | Terminal")}},
			{"Electrical characteristics", []Item{electrical("",
				"Capacitance | C | 1 kHz, 0.5 V, 25 °C | 3.76 | 4.7 | 5.64 | µF",
				"Change over temperature, X5R | ΔC | −55 °C to 85 °C | −15 | – | 15 | %", "Series resistance | ESR | 100 kHz | – | 3 | 5 | mΩ"),
				Table{"Capacitance kept under direct voltage, low end, share of the value at 0 V", "Bias | Kept",
					[]float64{1, 1}, []string{"0 V | 100 %", "1.0 V | 94 %", "2.0 V | 79 %", "3.0 V | 62 %", "4.0 V | 48 %", "6.3 V | 27 %"}},
				Text("On a rail of 3.0 V nominal, 2.9 V to 3.1 V, at least 62 % is kept. The three losses, tolerance, temperature and bias, multiply.")}},
			{"Ratings", []Item{Sub("Absolute maximum ratings"), ratings("Direct voltage | VR | – | 6.3 | V", "Temperature | T | −55 | 85 | °C")}},
			{"Outline and typical application", []Item{Outline{Name: "0603", Kind: "chip", Length: 1.6, Width: 0.8,
				Height: 0.8}, Text("Used across the output of regulators and the supply of chips.")}},
		}}
}
