package sheets

func controller32G() *Sheet {
	return &Sheet{File: "granary/sheets/tqk-32g32.pdf", Code: "TQK-32G32", Title: "32-bit general controller",
		Issuer: "TQK (invented)", Revision: "C", Date: "2024-11-04", Style: tqk,
		Pages: []Page{
			{"Overview", []Item{Text("A controller for appliances: 32-bit core at 48 MHz, 64 KB of program memory, converter, two serial ports."),
				Bullets{"Supply 2.0 V to 3.6 V", "Internal oscillator within 1 %"}}},
			{"Ordering information", []Item{codes("Order code TQK-32G{pins}-{case}-{packing}", "pins | 32 | 32 pins",
				"case | LQ | LQFP32", "packing | R | reel"),
				ordering("TQK-32G32-LQ-R | −40 °C to 85 °C | LQFP32 | reel"), Text("Status: active. Moisture sensitivity level 3.")}},
			{"Pins", []Item{pins("LQFP32", "1 | VDD | supply | Supply", "2 | RSTN | input | Reset, low active",
				"3 | P00 | bidirectional | Port pin, converter input",
				"4 | P01 | bidirectional | Port pin, converter input", "5 | P02 | bidirectional | Port pin",
				"6 | P03 | bidirectional | Port pin", "7 | P04 | bidirectional | Port pin", "8 | P05 | bidirectional | Port pin",
				"9 | P06 | bidirectional | Port pin", "10 | P07 | bidirectional | Port pin",
				"11 | P08 | bidirectional | Port pin", "12 | P09 | bidirectional | Port pin",
				"13 | P10 | bidirectional | Port pin", "14 | P11 | bidirectional | Port pin",
				"15 | P12 | bidirectional | Port pin", "16 | VSS | ground | Ground", "17 to 32 | P13 to P28 | bidirectional | Port pins")}},
			{"Absolute maximum ratings", []Item{ratings("Supply voltage | VDD | −0.3 | 4.0 | V",
				"Voltage at pins | VPIN | −0.3 | VDD + 0.3 | V", "Junction temperature | TJ | −40 | 105 | °C"), Text(stress)}},
			{"Operating conditions and characteristics", []Item{operating("Supply voltage | VDD | 2.0 | – | 3.6 | V",
				"Ambient temperature | TA | −40 | – | 85 | °C"),
				electrical("VDD = 2.0 V to 3.6 V, TA = −40 °C to 85 °C",
					"Run, 48 MHz | IRUN | all peripherals on | – | 15 | 22 | mA",
					"Output, high level | VOH | IOH up to 4 mA | VDD − 0.4 | – | – | V", "Output, low level | VOL | IOL up to 4 mA | – | – | 0.4 | V", "Input, high level | VIH | – | 0.7 VDD | – | – | V", "Input, low level | VIL | – | – | – | 0.3 VDD | V")}},
			{"Typical application", []Item{Circuit{Block: "TQK-32G32", Left: []Wire{{"VDD", "3.3 V", "C", "100 nF"},
				{"RSTN", "supervisor", "C", "100 nF"}}, Right: []Wire{{"P12", "switch", "", ""}, {"P00", "sensor", "", ""}}}}},
			{"Outline", []Item{Outline{Name: "LQFP32", Kind: "quad", Length: 7, Width: 7, Height: 1.4, Pins: 32, Pitch: 0.8, Span: 9}}},
			handling("TQK-32G32", "Moisture sensitivity level 3."),
		}}
}

func regulatorL5() *Sheet {
	return &Sheet{File: "granary/sheets/ozd-l5.pdf", Code: "OZD-L5", Title: "Linear regulator 300 mA",
		Issuer: "OZD (invented)", Revision: "A", Date: "2024-04-08", Style: ozd,
		Pages: []Page{
			{"Overview", []Item{Text("A regulator for 5 V inputs."), pins("SOT223 (code S4)",
				"1 | GND | ground | Ground", "2 | VOUT | supply output | Output, joined to the tab",
				"3 | VIN | supply | Input", "4 | TAB | supply output | Tab")}},
			{"Ratings and operating conditions", []Item{Sub("Absolute maximum ratings"),
				ratings("Input voltage | VIN | −0.3 | 7.0 | V", "Junction temperature | TJ | −40 | 125 | °C"),
				Text(stress), operating("Input voltage | VIN | 2.5 | – | 6.5 | V",
					"Load current | IOUT | 0 | – | 300 | mA"), electrical("Thermal resistance",
					"Junction to ambient, SOT223 | θJA | 2 cm² of copper | – | 85 | – | K/W")}},
			{"Electrical characteristics", []Item{electrical("",
				"Output voltage, 3.3 V version | VOUT | all corners | 3.2505 | 3.30 | 3.3495 | V",
				"Dropout voltage | VDO | IOUT up to 300 mA | – | 220 | 350 | mV",
				"Ground current | IGND | IOUT up to 300 mA | – | 0.1 | 0.4 | mA"), Text("The output is within 1.5 % of 3.3 V.")}},
			{"Typical application", []Item{Circuit{Block: "OZD-L5", Left: []Wire{{"VIN", "5 V", "C", "1 µF"}},
				Right: []Wire{{"VOUT", "3.3 V", "C", "2.2 µF"}, {"GND", "ground", "", ""}}}}},
			{"Package and ordering information", []Item{Outline{Name: "SOT223", Kind: "dual", Length: 6.5, Width: 3.5,
				Height: 1.6, Pins: 4, Pitch: 2.3, Span: 7.0}, codes("Order code OZD-L5-{volts}-{case}-{packing}",
				"volts | 33 | 3.3 V", "case | S4 | SOT223", "packing | R | reel")}},
			history("A | 2024-04-08 | First edition"),
		}}
}

func supervisorR29() *Sheet {
	return &Sheet{File: "granary/sheets/ozd-r29.pdf", Code: "OZD-R29", Title: "Supply supervisor 2.93 V",
		Issuer: "OZD (invented)", Revision: "A", Date: "2023-11-27", Style: ozd,
		Pages: []Page{
			{"Overview", []Item{Text("Holds the reset line low while the supply is below 2.93 V."),
				pins("SOT23-3 (code S3)", "1 | GND | ground | Ground", "2 | RST | output | Reset, open drain", "3 | VDD | supply | Supply")}},
			{"Absolute maximum ratings", []Item{ratings("Supply voltage | VDD | −0.3 | 6.0 | V",
				"Junction temperature | TJ | −40 | 125 | °C"), Text(stress), operating("Supply voltage | VDD | 1.0 | – | 5.5 | V")}},
			{"Electrical characteristics", []Item{electrical("",
				"Threshold | VTH | VDD falling | 2.88605 | 2.93 | 2.97395 | V",
				"Supply current | IDD | – | – | 1.0 | 3.0 | µA", "Reset time | tRST | – | 100 | 200 | 300 | ms"),
				Text("The threshold is within 1.5 % of 2.93 V.")}},
			{"Typical application", []Item{Circuit{Block: "OZD-R29", Left: []Wire{{"VDD", "supply", "C", "100 nF"}},
				Right: []Wire{{"RST", "controller", "", ""}, {"GND", "ground", "", ""}}}}},
			{"Package and ordering information", []Item{Outline{Name: "SOT23-3", Kind: "dual", Length: 2.9, Width: 1.3,
				Height: 1.1, Pins: 3, Pitch: 1.9, Span: 2.4}, codes("Order code OZD-R29-{case}-{packing}",
				"case | S3 | SOT23-3", "packing | R | reel")}},
		}}
}

func driver485() *Sheet {
	return &Sheet{File: "granary/sheets/nhx-485.pdf", Code: "NHX-485", Title: "Driver and receiver for RS-485",
		Issuer: "NHX (invented)", Revision: "2", Date: "2024-07-01", Style: nhx,
		Pages: []Page{
			{"Features", []Item{Bullets{"Half duplex, up to 500 kbit/s", "Supply 3.0 V to 3.6 V",
				"Bus pins bear −7 V to 12 V"}, Text("For bus lines in rough places, together with a clamp.")}},
			{"Pins", []Item{pins("SOIC8 (code S8)", "1 | RO | output | Receiver out",
				"2 | RE | input | Receiver on, low active", "3 | DE | input | Driver on", "4 | DI | input | Driver in",
				"5 | GND | ground | Ground", "6 | A | passive | Bus", "7 | B | passive | Bus", "8 | VCC | supply | Supply")}},
			{"Absolute maximum ratings", []Item{ratings("Supply voltage | VCC | −0.3 | 4.5 | V",
				"Voltage at A and B | VBUS | −9 | 14 | V", "Junction temperature | TJ | −40 | 125 | °C"), Text(stress)}},
			{"Electrical characteristics", []Item{operating("Supply voltage | VCC | 3.0 | 3.3 | 3.6 | V"),
				symbolFirst("TA = −40 °C to 85 °C",
					"ICC | Supply current, loaded | – | 45 | 60 | mA | 54 Ω, VCC = 3.0 V to 3.6 V",
					"VOD | Differential output | 1.5 | 2.0 | – | V | 54 Ω, VCC = 3.3 V",
					"VIH | Input, high level | 2.0 | – | – | V | –", "VIL | Input, low level | – | – | 0.8 | V | –")}},
			{"Typical application", []Item{Circuit{Block: "NHX-485", Left: []Wire{{"DI", "controller", "", ""}, {"RO",
				"controller", "", ""}}, Right: []Wire{{"A", "bus", "", ""}, {"B", "bus", "", ""}, {"VCC", "3.3 V", "C", "100 nF"}}}}},
			{"Package and ordering", []Item{Outline{Name: "SOIC8", Kind: "dual", Length: 4.9, Width: 3.9, Height: 1.6,
				Pins: 8, Pitch: 1.27, Span: 6.0}, codes("Order code NHX-485-{case}-{packing}", "case | S8 | SOIC8", "packing | R | reel")}},
		}}
}

func transistorN30() *Sheet {
	return &Sheet{File: "granary/sheets/qlx-n30.pdf", Code: "QLX-N30", Title: "N-channel transistor 30 V",
		Issuer: "QLX (invented)", Revision: "A", Date: "2023-08-14", Style: qlx,
		Pages: []Page{
			{"Overview", []Item{Text("Field effect transistor driven from logic. Order code QLX-N30-C, SOT23-3."),
				pins("", "1 | G | input | Gate", "2 | S | passive | Source", "3 | D | passive | Drain")}},
			{"Absolute maximum ratings", []Item{ratings("Drain to source voltage | VDS | – | 30 | V",
				"Gate to source voltage | VGS | −12 | 12 | V", "Drain current | ID | – | 3.0 | A",
				"Junction temperature | TJ | −55 | 150 | °C"), Text(stress)}},
			{"Electrical characteristics", []Item{electrical("TJ = −40 °C to 85 °C",
				"Resistance when on | RDSon | VGS = 4.5 V or more | – | 24 | 38 | mΩ",
				"Resistance when on | RDSon | VGS = 2.5 V or more | – | 36 | 60 | mΩ", "Threshold voltage | VGSth | 250 µA | 0.5 | 0.8 | 1.2 | V")}},
			{"Typical application", []Item{Circuit{Block: "QLX-N30", Left: []Wire{{"G", "controller", "R", "100 kΩ"}},
				Right: []Wire{{"D", "coil", "", ""}, {"S", "ground", "", ""}}}}},
			{"Package and ordering information", []Item{Outline{Name: "SOT23-3", Kind: "dual", Length: 2.9, Width: 1.3,
				Height: 1.1, Pins: 3, Pitch: 1.9, Span: 2.4}, codes("Order code QLX-N30-{grade}", "grade | C | −40 °C to 85 °C")}},
		}}
}
