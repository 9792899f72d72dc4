package sheets

var (
	vgx = Style{Grid: Ruled, Accent: [3]int{140, 90, 0}, Number: true}
	mrx = Style{Serif: true, Grid: Boxed, Accent: [3]int{90, 30, 90}, Right: true}
)

const mainsWarning = "DANGER: parts joined to the mains kill. Isolate and prove dead before work; wait for capacitors to discharge. " +
	"Wiring rules of the place and a licensed person decide what may be built and connected."

func fuseF8T() *Sheet {
	return &Sheet{File: "granary/sheets/pxx-f8t.pdf", Code: "PXX-F8T", Title: "Cartridge fuse 5 x 20 mm, slow",
		Issuer: "PXX (invented)", Revision: "B", Date: "2024-01-15", Style: pxx,
		Pages: []Page{
			{"Description and ordering information",
				[]Item{Text("Ceramic cartridge with sand filling, slow. Order code PXX-F8T-250: 8 A, 250 V."), Text(mainsWarning),
					codes("Order code PXX-F8T-{volts}", "volts | 250 | 250 V"), pins("Caps", "1 | A | passive | Cap", "2 | B | passive | Cap")}},
			{"Ratings", []Item{Sub("Absolute maximum ratings"), ratings("Voltage | VN | – | 250 | V", "Breaking capacity | IBR | – | 1500 | A"),
				nominal("Rated current at 23 °C | IN | 8 | A"),
				electrical("Characteristics", "Cold resistance | RF | – | – | 9 | 14 | mΩ", "Melting integral | I2t | 10 IN | – | 320 | – | A²s")}},
			{"Temperature", []Item{Table{"Factor on the rated current by ambient temperature", "Ambient | Factor",
				[]float64{1, 1}, []string{"−20 °C | 1.06", "23 °C | 1.00", "60 °C | 0.90", "85 °C | 0.81"}},
				Text("Straight lines between the points. For continuous load the trade keeps to four fifths of the current so derated.")}},
			{"Typical application and outline", []Item{Circuit{Block: "PXX-F8T", Left: []Wire{{"A", "line", "", ""}},
				Right: []Wire{{"B", "suppressor, filter", "", ""}}}, Outline{Name: "5 x 20", Kind: "cylinder", Length: 20, Width: 5.2, Height: 5.2}}},
		}}
}

func varistorV14() *Sheet {
	return &Sheet{File: "granary/sheets/pxx-v14.pdf", Code: "PXX-V14", Title: "Metal oxide varistor, disc 14 mm",
		Issuer: "PXX (invented)", Revision: "C", Date: "2024-09-09", Style: pxx,
		Pages: []Page{
			{"Description and ordering information",
				[]Item{Text("Disc varistors for surge suppression across the mains, behind a fuse."), Text(mainsWarning),
					ordering("PXX-V14-250 | 250 V rms | disc 14 mm | bag", "PXX-V14-275 | 275 V rms | disc 14 mm | bag"),
					codes("Order code PXX-V14-{volts}", "volts | 250 | 250 V rms", "volts | 275 | 275 V rms"),
					pins("Leads", "1 | A | passive | Lead", "2 | B | passive | Lead")}},
			{"Ratings and characteristics", []Item{
				Table{"Absolute maximum ratings, version by version",
					"Version | Continuous voltage, rms | Clamping voltage at 50 A | Surge current 8/20 µs", []float64{1.4, 2, 2, 2},
					[]string{"PXX-V14-250 | 250 V | 650 V | 4500 A", "PXX-V14-275 | 275 V | 710 V | 4500 A"}},
				Text("The continuous voltage is the highest the varistor bears for ever, tolerances of the mains included. Operated above it the disc heats itself and may burn.")}},
			{"Typical application", []Item{Circuit{Block: "PXX-V14", Left: []Wire{{"A", "line behind fuse", "", ""}},
				Right: []Wire{{"B", "neutral", "", ""}}, Note: "Place the fuse in front of the varistor; leave 5 mm of air around the disc."}}},
			{"Outline", []Item{Outline{Name: "disc 14 mm", Kind: "block", Length: 15.5, Width: 17, Height: 5}}},
		}}
}

func capacitorX2() *Sheet {
	return &Sheet{File: "granary/sheets/pxx-x2.pdf", Code: "PXX-X2",
		Title: "Film capacitor for interference suppression, class X2", Issuer: "PXX (invented)", Revision: "A", Date: "2023-10-23", Style: pxx,
		Pages: []Page{
			{"Description and ordering information",
				[]Item{Text("Metallised film capacitor for use across the line, class X2 of IEC 60384-14 as far as an invented part can be. Order code PXX-X2-224."),
					Text(mainsWarning), codes("Order code PXX-X2-{value}", "value | 104 | 100 nF",
						"value | 224 | 220 nF"), pins("Leads", "1 | A | passive | Lead", "2 | B | passive | Lead")}},
			{"Ratings and characteristics", []Item{Sub("Absolute maximum ratings"),
				ratings("Voltage, continuous, rms | VR | – | 305 | V", "Temperature | T | −40 | 105 | °C"),
				electrical("Characteristics", "Capacitance, PXX-X2-224 | C | 1 kHz, 23 °C | 198 | 220 | 242 | nF",
					"Loss factor | tanδ | 1 kHz | – | – | 0.001 | –"), Text("Tolerance ± 10 %.")}},
			{"Typical application", []Item{Circuit{Block: "PXX-X2", Left: []Wire{{"A", "line", "R", "bleed"}},
				Right: []Wire{{"B", "neutral", "", ""}}, Note: "A capacitor across the plug wants a path that empties it when the plug is drawn."}}},
			{"Outline", []Item{Outline{Name: "box, pitch 15 mm", Kind: "block", Length: 18, Width: 11, Height: 14}}},
		}}
}

func resistor12() *Sheet {
	return &Sheet{File: "granary/sheets/pxx-r12.pdf", Code: "PXX-R12", Title: "Thick-film resistor 1206",
		Issuer: "PXX (invented)", Revision: "E", Date: "2024-05-06", Style: pxx,
		Pages: []Page{
			{"Description and ordering information", []Item{Text("Resistor of size 1206, 5 %."),
				ordering("PXX-R473-12 | 47 kΩ | 1206 | reel", "PXX-R474-12 | 470 kΩ | 1206 | reel"),
				codes("Order code PXX-R{value}-{size}", "value | 473 | 47 kΩ", "value | 474 | 470 kΩ",
					"size | 12 | 1206"), pins("Terminals", "1 | A | passive | Terminal", "2 | B | passive | Terminal")}},
			{"Ratings and characteristics", []Item{Sub("Absolute maximum ratings"),
				ratings("Power at 70 °C | P | – | 0.25 | W",
					"Limiting element voltage, direct or peak | VLIM | – | 200 | V", "Temperature | T | −55 | 155 | °C"),
				electrical("Characteristics", "Resistance, PXX-R473-12 | R | 23 °C | 44.65 | 47 | 49.35 | kΩ",
					"Resistance, PXX-R474-12 | R | 23 °C | 446.5 | 470 | 493.5 | kΩ"),
				Text("Tolerance ± 5 %. Above 70 °C the power falls in a straight line to nothing at 155 °C.")}},
			{"Typical application", []Item{Text("Resistors across the mains are used in series, so that each sees a part of the voltage and one that fails short leaves the others."),
				Circuit{Block: "PXX-R12", Left: []Wire{{"A", "line", "", ""}}, Right: []Wire{{"B", "next resistor", "", ""}}}}},
			{"Outline", []Item{Outline{Name: "1206", Kind: "chip", Length: 3.2, Width: 1.6, Height: 0.55}}},
		}}
}

func module5W() *Sheet {
	return &Sheet{File: "granary/sheets/vgx-5w05.pdf", Code: "VGX-5W05", Title: "Mains module 5 V, 5 W, Class II",
		Issuer: "VGX (invented)", Revision: "2", Date: "2025-02-03", Style: vgx,
		Pages: []Page{
			{"Overview", []Item{Text("Encapsulated module that makes 5 V from the mains, with reinforced insulation between the two. Order code VGX-5W05."),
				Text(mainsWarning), Bullets{"85 V to 264 V, 47 Hz to 63 Hz", "5 V, 1.0 A", "No earth needed"},
				codes("Order code VGX-{power}{volts}", "power | 5W | 5 W", "power | 3W | 3 W", "volts | 05 | 5 V"),
				pins("Pins", "1 | L | passive | Line", "2 | N | passive | Neutral",
					"3 | GND | ground | Output, negative", "4 | VOUT | supply output | Output, positive")}},
			{"Electrical characteristics", []Item{operating("Input voltage, rms | VAC | 85 | 230 | 264 | V",
				"Ambient temperature | TA | −20 | – | 70 | °C"),
				electrical("", "Output voltage | VOUT | all loads and inputs | 4.85 | 5.00 | 5.15 | V",
					"Output current | IOUT | up to 50 °C | – | – | 1.0 | A", "Ripple | VR | 20 MHz | – | 60 | 120 | mV",
					"Touch current | ITC | 264 V | – | – | 0.25 | mA", "Test voltage, input to output | VTEST | 1 min | 4 | – | – | kV")}},
			{"Absolute maximum ratings", []Item{ratings("Input voltage, rms | VAC | – | 275 | V",
				"Temperature of the case | TC | −40 | 95 | °C"), Text(stress)}},
			{"Derating", []Item{Text("Full current up to 50 °C of the air around the module; above it the current falls by 2.5 % of the rated current per kelvin."),
				Table{"Output current by ambient temperature", "Ambient | Output current", []float64{1, 1},
					[]string{"−20 °C | 1.0 A", "50 °C | 1.0 A", "60 °C | 0.75 A", "70 °C | 0.5 A"}},
				Text("The current on page 1 is that up to 50 °C. In a closed box next to a heater the air is warmer than the room.")}},
			{"Typical application", []Item{Circuit{Block: "VGX-5W05", Left: []Wire{{"L", "line behind fuse", "", ""},
				{"N", "neutral", "", ""}}, Right: []Wire{{"VOUT", "5 V", "C", "220 µF"}, {"GND", "ground", "", ""}},
				Note: "Creepage and clearance between the pins of input and output: 8 mm. Keep the same under the module on the board."}}},
			{"Outline", []Item{Outline{Name: "module", Kind: "block", Length: 45, Width: 24, Height: 17}}},
		}}
}

func relay16() *Sheet {
	return &Sheet{File: "granary/sheets/mrx-16.pdf", Code: "MRX-16", Title: "Power relay 16 A, one make contact",
		Issuer: "MRX (invented)", Revision: "D", Date: "2024-12-02", Style: mrx,
		Pages: []Page{
			{"Description and ordering information", []Item{Text("Relay for resistive loads at the mains."),
				Text(mainsWarning), codes("Order code MRX-16-{coil}", "coil | 05 | 5 V", "coil | 12 | 12 V"),
				Text("Order code MRX-16-05."), pins("Pins", "1 | C1 | passive | Coil", "2 | C2 | passive | Coil",
					"3 | COM | passive | Contact", "4 | NO | passive | Contact")}},
			{"Coil", []Item{electrical("Coil of the 5 V version, 23 °C",
				"Coil resistance | RCOIL | 23 °C | 62.46 | 69.4 | 76.34 | Ω",
				"Must operate voltage | VOP | 23 °C | – | – | 3.75 | V",
				"Must release voltage | VREL | 23 °C | 0.5 | – | – | V", "Thermal resistance of the coil | RTH | – | – | 48 | 55 | K/W"),
				Text("Coil resistance 69.4 Ω within 10 %. The operate voltage rises with the resistance of the copper: by (234.5 + T) / (234.5 + 23) with T in °C.")}},
			{"Contact", []Item{Sub("Absolute maximum ratings"),
				ratings("Contact current, rms, resistive | IC | – | 16 | A", "Contact voltage, rms | VC | – | 250 | V",
					"Coil temperature | TCOIL | – | 155 | °C", "Ambient temperature | TA | −40 | 85 | °C"),
				electrical("Insulation", "Coil to contact, creepage and clearance | DCC | – | 8 | – | – | mm",
					"Test voltage, coil to contact | VTEST | 1 min | 4 | – | – | kV")}},
			{"Typical application", []Item{Circuit{Block: "MRX-16", Left: []Wire{{"C1", "5 V", "", ""}, {"C2", "switch",
				"", ""}}, Right: []Wire{{"COM", "line", "", ""}, {"NO", "heater", "", ""}},
				Note: "A diode of 10 V or more across the coil, cathode to the 5 V. A contact can weld: a heater that must not run on wants a second, independent cut-out."}}},
			{"Outline", []Item{Outline{Name: "relay", Kind: "block", Length: 29, Width: 12.7, Height: 15.7}}},
		}}
}

func coupler4() *Sheet {
	return &Sheet{File: "granary/sheets/qlx-ac4.pdf", Code: "QLX-AC4", Title: "Optocoupler for alternating current",
		Issuer: "QLX (invented)", Revision: "B", Date: "2024-03-18", Style: qlx,
		Pages: []Page{
			{"Overview", []Item{Text("Two light-emitting diodes in opposite directions and a transistor. Order code QLX-AC4, DIP4."),
				Text(mainsWarning), pins("", "1 | A1 | passive | Diodes", "2 | A2 | passive | Diodes",
					"3 | E | passive | Emitter", "4 | C | output | Collector")}},
			{"Absolute maximum ratings", []Item{ratings("Diode current, rms | IF | – | 30 | mA",
				"Collector voltage | VCE | – | 70 | V", "Junction temperature | TJ | −40 | 110 | °C"), Text(stress)}},
			{"Electrical characteristics", []Item{symbolFirst("25 °C",
				"CTR | Current transfer ratio | 50 | 120 | 300 | % | 1 mA, VCE = 0.4 V to 5 V",
				"VF | Diode voltage | 1.0 | 1.15 | 1.4 | V | 1 mA", "ICEO | Dark current | – | 1 | 100 | nA | 60 °C"),
				symbolFirst("Insulation", "DCR | Creepage, input to output | 7 | – | – | mm | outside the body",
					"VTEST | Test voltage | 5 | – | – | kV | 1 min")}},
			{"Typical application", []Item{Circuit{Block: "QLX-AC4", Left: []Wire{{"A1", "line, 4 × 47 kΩ", "", ""},
				{"A2", "neutral", "", ""}}, Right: []Wire{{"C", "3.3 V by 10 kΩ", "", ""}, {"E", "ground", "", ""}},
				Note: "A slot of 1 mm under the body keeps the creepage on the board as long as that of the body."}}},
			{"Outline and ordering information", []Item{Outline{Name: "DIP4", Kind: "dual", Length: 4.6, Width: 6.5,
				Height: 3.5, Pins: 4, Pitch: 2.54, Span: 10.0}, codes("Order code QLX-AC{leads}",
				"leads | 4 | DIP4, one channel", "leads | 8 | DIP8, two channels")}},
		}}
}
