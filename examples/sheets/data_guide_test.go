package sheets

// guideSheet is the small sheet that the language guide cites.
func guideSheet() *Sheet {
	return &Sheet{File: "guide/sheets/zqx-30.pdf", Code: "ZQX-30", Title: "Small linear regulator",
		Issuer: "ZQX (invented)", Revision: "A", Date: "2025-06-02", Style: vgx,
		Pages: []Page{
			{"Overview and ordering information", []Item{Text("A linear regulator for the language guide."),
				codes("Order code ZQX-{volts}{case}", "volts | 18 | 1.8 V", "volts | 30 | 3.0 V", "case | C5 | SC70-5", "case | D6 | DFN6"),
				ordering("ZQX-30C5 | 3.0 V | SC70-5 | reel", "ZQX-30D6 | 3.0 V | DFN6 | reel", "ZQX-18C5 | 1.8 V | SC70-5 | reel")}},
			{"Pins", []Item{pins("SC70-5", "1 | VIN | supply | Input", "2 | GND | ground | Ground",
				"3 | EN | input | Enable", "4 | NR | analog | Noise filter", "5 | VOUT | supply output | Output")}},
			{"Ratings and operating conditions", []Item{Sub("Absolute maximum ratings"),
				ratings("Input voltage | VIN | −0.3 | 6.2 | V", "Junction temperature | TJ | −40 | 125 | °C"), Text(stress),
				operating("Input voltage | VIN | 1.9 | – | 5.6 | V", "Junction temperature | TJ | −40 | – | 125 | °C"),
				electrical("Thermal resistance", "Junction to ambient | θJA | JESD51-7 board | – | 195 | – | K/W")}},
			{"Electrical characteristics", []Item{electrical("",
				"Output voltage, 3.0 V version | VOUT | IOUT = 1 mA to 150 mA | 2.94 | 3.00 | 3.06 | V",
				"Dropout voltage | VDROP | IOUT up to 150 mA | – | 130 | 250 | mV",
				"Dropout voltage, light load | VDROP | IOUT up to 50 mA | – | 45 | 90 | mV", "Supply current | IQ | no load | – | 1.2 | 2.5 | µA")}},
			{"Typical application", []Item{Circuit{Block: "ZQX-30", Left: []Wire{{"VIN", "supply", "C", "2.2 µF"},
				{"EN", "supply", "", ""}}, Right: []Wire{{"VOUT", "load", "C", "2.2 µF"}, {"NR", "", "C", "22 nF"}},
				Note: "Capacitors of 2.2 µF at least at VIN, 2.2 µF to 22 µF at VOUT, 22 nF at NR."}}},
			{"Package SC70-5", []Item{Outline{Name: "SC70-5", Kind: "dual", Length: 2.0, Width: 1.25, Height: 1.0, Pins: 5, Pitch: 0.65, Span: 2.1}}},
		}}
}
