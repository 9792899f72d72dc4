package sheets

func calendarR7() *Sheet {
	return &Sheet{File: "weirkeeper/sheets/tqk-r7.pdf", Code: "TQK-R7", Title: "Calendar with crystal inside",
		Issuer: "TQK (invented)", Revision: "B", Date: "2024-06-14", Style: tqk,
		Pages: []Page{
			{"Overview", []Item{Text("A calendar with its own crystal, an alarm output and a two-wire bus up to 400 kHz."),
				pins("DFN10 (code D10)", "1 | VDD | supply | Supply", "2 | VSS | ground | Ground",
					"3 | SCL | input | Bus clock", "4 | SDA | bidirectional | Bus data, open drain",
					"5 | INT | output | Alarm, open drain", "6 | CKO | output | Clock output",
					"7 | EVI | input | Event input", "8 | NC | not connected | Leave open", "9 | NC | not connected | Leave open", "10 | NC | not connected | Leave open")}},
			{"Absolute maximum ratings", []Item{ratings("Supply voltage | VDD | −0.3 | 4.5 | V",
				"Voltage at pins | VPIN | −0.3 | 5.5 | V", "Junction temperature | TJ | −40 | 105 | °C"), Text(stress)}},
			{"Electrical characteristics", []Item{operating("Supply voltage | VDD | 1.6 | – | 3.6 | V",
				"Ambient temperature | TA | −40 | – | 85 | °C"), electrical("VDD = 1.6 V to 3.6 V",
				"Supply current | IDD | bus idle | – | 0.2 | 0.6 | µA",
				"Data, low level | VOL | IOL up to 3 mA | – | – | 0.4 | V",
				"Pin capacitance | CPIN | – | – | 5 | 8 | pF", "Bus clock | fSCL | – | 0 | – | 400 | kHz", "Input, high level | VIH | – | 0.7 VDD | – | – | V", "Input, low level | VIL | – | – | – | 0.3 VDD | V", "Rise time, both lines | tR | – | – | – | 300 | ns")}},
			{"Typical application", []Item{Circuit{Block: "TQK-R7", Left: []Wire{{"VDD", "supply", "C", "100 nF"},
				{"SCL", "pull-up", "", ""}, {"SDA", "pull-up", "", ""}}, Right: []Wire{{"INT", "controller", "", ""},
				{"EVI", "ground", "", ""}, {"CKO", "open", "", ""}}}}},
			{"Package and ordering information", []Item{Outline{Name: "DFN10", Kind: "dual", Length: 3, Width: 3,
				Height: 0.85, Pins: 10, Pitch: 0.5}, codes("Order code TQK-R7-{case}-{packing}", "case | D10 | DFN10",
				"packing | R | reel"), Text("The bus address is 0x51 and cannot be changed.")}},
			handling("TQK-R7", "Moisture sensitivity level 1."),
		}}
}
