package sheets

var (
	nhx = Style{Letter: true, Grid: Striped, Accent: [3]int{70, 70, 110}, Right: true}
	rvx = Style{Serif: true, Grid: Boxed, Accent: [3]int{60, 90, 50}}
)

func converterB24() *Sheet {
	return &Sheet{File: "weirkeeper/sheets/nhx-b24.pdf", Code: "NHX-B24", Title: "24-bit converter for bridge sensors",
		Issuer: "NHX (invented)", Revision: "2", Date: "2025-02-11", Style: nhx,
		Pages: []Page{
			{"Features", []Item{Bullets{"24-bit delta-sigma converter with amplifier 1 to 128",
				"Ratiometric: reference taken from the bridge's supply", "10 or 80 conversions per second", "Standby by command"},
				Text("The NHX-B24 measures the output of a resistive bridge. The bridge is fed from the same node as the reference input, so that drift of the supply cancels.")}},
			{"Pins", []Item{pins("TSSOP10 (code T10)", "1 | AVDD | supply | Supply", "2 | GND | ground | Ground",
				"3 | INP | analog | Bridge, positive", "4 | INN | analog | Bridge, negative", "5 | REFP | analog | Reference, positive",
				"6 | REFN | analog | Reference, negative", "7 | CS | input | Select, low active",
				"8 | SCK | input | Clock", "9 | DOUT | output | Data, also data ready", "10 | DIN | input | Command")}},
			{"Absolute maximum ratings", []Item{ratings("Supply voltage | AVDD | −0.3 | 4.0 | V",
				"Voltage at inputs | VPIN | −0.3 | AVDD + 0.3 | V", "Junction temperature | TJ | −40 | 125 | °C"), Text(stress)}},
			{"Electrical characteristics", []Item{operating("Supply voltage | AVDD | 2.6 | – | 3.6 | V",
				"Ambient temperature | TA | −40 | – | 85 | °C"),
				symbolFirst("AVDD = 2.6 V to 3.6 V, TA = −40 °C to 85 °C",
					"IACT | Supply current, converting | – | 0.9 | 1.3 | mA | gain 128, 10 per second",
					"ISTB | Supply current, standby | – | 0.2 | 1.0 | µA | clock stopped",
					"VIH | Input, high level | 0.7 AVDD | – | – | V | –",
					"VIL | Input, low level | – | – | 0.3 AVDD | V | –",
					"VOH | Output, high level | AVDD − 0.4 | – | – | V | 2 mA",
					"VOL | Output, low level | – | – | 0.4 | V | 2 mA", "en | Noise, input | – | 50 | – | nV | 10 per second")}},
			{"Typical application", []Item{Circuit{Block: "NHX-B24", Left: []Wire{{"INP", "bridge +", "C", "10 nF"},
				{"INN", "bridge −", "C", "10 nF"}, {"REFP", "bridge supply", "", ""}}, Right: []Wire{{"AVDD", "3.0 V",
				"C", "100 nF"}, {"SCK", "controller", "", ""}, {"DOUT", "controller", "", ""}}}}},
			{"Package and ordering", []Item{Outline{Name: "TSSOP10", Kind: "dual", Length: 3.0, Width: 3.0, Height: 1.1,
				Pins: 10, Pitch: 0.5, Span: 4.9}, codes("Order code NHX-B24-{case}-{packing}", "case | T10 | TSSOP10", "packing | R | reel")}},
			handling("NHX-B24", "Moisture sensitivity level 1."),
		}}
}

func memoryF2M() *Sheet {
	return &Sheet{File: "weirkeeper/sheets/nhx-f2m.pdf", Code: "NHX-F2M", Title: "2 Mbit serial memory",
		Issuer: "NHX (invented)", Revision: "4", Date: "2024-10-30", Style: nhx,
		Pages: []Page{
			{"Features", []Item{Bullets{"2 Mbit, organised as 1024 pages of 256 bytes", "Serial bus up to 20 MHz",
				"100,000 writes per page", "Write abort below the minimum supply is not detected: hold the controller in reset there"},
				Text("The memory keeps a page write whole only while its supply stays inside the operating range. A write that is under way when the supply leaves it may corrupt the page.")}},
			{"Pins", []Item{pins("SOIC8 (code S8)", "1 | CS | input | Select, low active", "2 | SO | output | Data out",
				"3 | WP | input | Write protect, low active", "4 | GND | ground | Ground", "5 | SI | input | Data in",
				"6 | SCK | input | Clock", "7 | HOLD | input | Pause, low active", "8 | VCC | supply | Supply")}},
			{"Absolute maximum ratings", []Item{ratings("Supply voltage | VCC | −0.3 | 4.2 | V",
				"Voltage at pins | VPIN | −0.3 | VCC + 0.3 | V", "Junction temperature | TJ | −55 | 125 | °C"), Text(stress)}},
			{"Electrical characteristics", []Item{operating("Supply voltage | VCC | 2.0 | – | 3.6 | V",
				"Clock frequency | fSCK | 0 | – | 20 | MHz", "Ambient temperature | TA | −40 | – | 85 | °C"),
				symbolFirst("VCC = 2.0 V to 3.6 V, TA = −40 °C to 85 °C",
					"IACT | Supply current, write | – | 1.2 | 2.0 | mA | –",
					"ISTB | Supply current, standby | – | 0.3 | 1.0 | µA | CS high",
					"VIH | Input, high level | 0.7 VCC | – | – | V | –",
					"VIL | Input, low level | – | – | 0.3 VCC | V | –", "VOH | Output, high level | VCC − 0.4 | – | – | V | 2 mA", "VOL | Output, low level | – | – | 0.4 | V | 2 mA")}},
			{"Typical application", []Item{Circuit{Block: "NHX-F2M", Left: []Wire{{"CS", "controller", "", ""}, {"SCK",
				"controller", "", ""}, {"SI", "controller", "", ""}, {"SO", "controller", "", ""}},
				Right: []Wire{{"VCC", "supply", "C", "100 nF"}, {"WP", "supply", "", ""}, {"HOLD", "supply", "", ""}, {"GND", "ground", "", ""}}}}},
			{"Package and ordering", []Item{Outline{Name: "SOIC8", Kind: "dual", Length: 4.9, Width: 3.9, Height: 1.6,
				Pins: 8, Pitch: 1.27, Span: 6.0}, codes("Order code NHX-F2M-{case}-{packing}", "case | S8 | SOIC8", "packing | R | reel")}},
			handling("NHX-F2M", "Moisture sensitivity level 1."),
		}}
}

func radioRX8() *Sheet {
	return &Sheet{File: "weirkeeper/sheets/nhx-rx8.pdf", Code: "NHX-RX8", Title: "Sub-GHz transceiver",
		Issuer: "NHX (invented)", Revision: "3", Date: "2025-04-22", Style: nhx,
		Pages: []Page{
			{"Features", []Item{Bullets{"Two-way radio below 1 GHz, up to +14 dBm", "Packet engine with address filter",
				"Sleep with registers kept"},
				Text("Which band, power and duty may be used is decided by the rules of the place of use, not by this sheet.")}},
			{"Pins", []Item{pins("QFN24 + EP (code Q24)", "1 | VDD1 | supply | Supply of the digital part",
				"2 | CS | input | Select, low active", "3 | SCK | input | Clock", "4 | SI | input | Data in",
				"5 | SO | output | Data out", "6 | IRQ | output | Interrupt",
				"7 | RES | input | Reset, low active", "8 | XI | analog | Crystal", "9 | XO | analog | Crystal",
				"10 | VSS | ground | Ground", "11 | VDD2 | supply | Supply of the power stage", "12 | TX | rf | Transmit output",
				"13 | VSS2 | ground | Ground", "14 | RXP | rf | Receive input", "15 | RXN | rf | Receive input",
				"16 | VSS3 | ground | Ground", "17 to 24 | NC | not connected | Leave open", "EP | VSS | ground | Exposed pad, joined to ground")}},
			{"Absolute maximum ratings", []Item{ratings("Supply voltage | VDD | −0.3 | 3.9 | V",
				"Voltage at digital pins | VPIN | −0.3 | VDD + 0.3 | V", "Junction temperature | TJ | −40 | 125 | °C"), Text(stress)}},
			{"Operating conditions and supply current", []Item{operating("Supply voltage | VDD | 1.9 | – | 3.6 | V",
				"Ambient temperature | TA | −40 | – | 85 | °C"),
				symbolFirst("VDD = 1.9 V to 3.6 V, TA = −40 °C to 85 °C",
					"ITX | Supply current, transmit | – | 98 | 118 | mA | +14 dBm",
					"ITX | Supply current, transmit | – | 45 | 56 | mA | +10 dBm",
					"IRX | Supply current, receive | – | 9.8 | 12.5 | mA | –",
					"ISLP | Supply current, sleep | – | 0.6 | 1.5 | µA | registers kept")}},
			{"Digital characteristics", []Item{symbolFirst("VDD = 1.9 V to 3.6 V",
				"VIH | Input, high level | 0.7 VDD | – | – | V | –", "VIL | Input, low level | – | – | 0.3 VDD | V | –",
				"VOH | Output, high level | VDD − 0.4 | – | – | V | 2 mA",
				"VOL | Output, low level | – | – | 0.4 | V | 2 mA", "fSCK | Clock frequency | – | – | 10 | MHz | –")}},
			{"Crystal oscillator", []Item{symbolFirst("",
				"gm | Transconductance | 8 | – | – | mA/V | start-up, all corners",
				"fX | Crystal frequency | – | 32 | – | MHz | –", "tSU | Start-up time | – | 0.4 | 1.5 | ms | load 10 pF"),
				Text("No load capacitors are inside. Choose the crystal so that the transconductance is at least five times what the network needs at the worst crystal.")}},
			{"Typical application", []Item{Circuit{Block: "NHX-RX8", Left: []Wire{{"VDD1", "3.0 V", "C", "100 nF"},
				{"VDD2", "3.0 V", "C", "4.7 µF"}, {"XI", "32 MHz", "C", "load"}, {"XO", "32 MHz", "C", "load"}},
				Right: []Wire{{"TX", "matching, antenna", "", ""}, {"SCK", "controller", "", ""}, {"SO", "controller",
					"", ""}, {"IRQ", "controller", "", ""}}}}},
			layoutAdvice("NHX-RX8", "Ground plane without slots under the radio.",
				"Five or more vias in the exposed pad.", "The capacitor of VDD2 within 3 mm: the burst draws its edge from it."),
			{"Package and ordering", []Item{Outline{Name: "QFN24 + EP", Kind: "quad", Length: 4, Width: 4, Height: 0.85,
				Pins: 24, Pitch: 0.5, Pad: [2]float64{2.6, 2.6}}, codes("Order code NHX-RX8-{case}-{packing}",
				"case | Q24 | QFN24 + EP", "packing | R | reel")}},
			handling("NHX-RX8", "Moisture sensitivity level 3."),
		}}
}

func bridgePB10() *Sheet {
	return &Sheet{File: "weirkeeper/sheets/rvx-pb10.pdf", Code: "RVX-PB10", Title: "Pressure sensor, resistive bridge, 1 bar gauge",
		Issuer: "RVX (invented)", Revision: "B", Date: "2023-12-05", Style: rvx,
		Pages: []Page{
			{"Description", []Item{Text("A steel membrane with four strain gauges, vented to the air behind it (version G, gauge). Wetted parts stainless steel."),
				Bullets{"Range 0 bar to 1 bar", "Overload 2 bar", "Cable of 2 m"},
				codes("Order code RVX-PB10-{version}, for example RVX-PB10-G", "version | G | gauge, vented cable", "version | A | absolute")}},
			{"Wires", []Item{pins("Cable", "1 | EP | analog | Red, excitation +",
				"2 | EN | analog | Black, excitation −", "3 | SP | analog | White, signal +", "4 | SN | analog | Green, signal −")}},
			{"Ratings and characteristics", []Item{Sub("Absolute maximum ratings"),
				ratings("Excitation voltage | VEX | – | 6 | V", "Pressure | P | – | 2 | bar"),
				electrical("Excitation 1.5 V to 5 V, −20 °C to 60 °C",
					"Bridge resistance | RB | – | 2.4 | 3.0 | 3.6 | kΩ",
					"Sensitivity at full range | S | – | 18 | 20 | 22 | mV/V", "Offset | OFS | – | −2 | – | 2 | mV/V")}},
			{"Typical application", []Item{Circuit{Block: "RVX-PB10", Left: []Wire{{"EP", "switched supply", "", ""},
				{"EN", "ground", "", ""}}, Right: []Wire{{"SP", "converter +", "", ""}, {"SN", "converter −", "", ""}}}}},
			{"Outline", []Item{Outline{Name: "housing", Kind: "cylinder", Length: 62, Width: 22, Height: 22}}},
		}}
}
