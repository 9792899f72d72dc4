package sheets

var kvr = Style{Serif: true, Grid: Ruled, Accent: [3]int{120, 40, 30}, Number: true}

func cell1865() *Sheet {
	return &Sheet{File: "weirkeeper/sheets/kvr-1865-26.pdf", Code: "KVR-1865-26", Title: "Cylindrical lithium-ion cell, product specification",
		Issuer: "KVR (invented)", Revision: "C", Date: "2025-01-08", Style: kvr,
		Pages: []Page{
			{"Scope and safety", []Item{
				Text("This specification covers the rechargeable cylindrical cell KVR-1865-26. It is a bare cell without a protector."),
				Text("WARNING: fire, burns. Never charge outside the limits of page 3. Never short-circuit, open, heat or crush the cell. Use it only together with a cell protector. " +
					"Do not leave it unattended while charging on the bench. Remove a cell that is swollen, dented or hot. Rules for transport and disposal differ from place to place: local codes decide."),
				Bullets{"Nominal voltage 3.6 V", "Round cell, steel can, positive end with a vent", "Weight 47 g typical"}}},
			{"Capacity", []Item{
				symbolFirst("Rated values", "CAP | Capacity | 2500 | 2600 | – | mAh | 0.2 C to 3.0 V, new, 23 °C",
					"E | Energy | 9.0 | 9.4 | – | Wh | as above", "m | Weight | 45 | 47 | 49 | g | –"),
				Text("Capacity after 300 cycles at 23 °C: not less than 80 % of the minimum. In the cold less charge can be drawn before the cutoff voltage is reached; at −20 °C expect about 70 %."),
			}},
			{"Limits of use", []Item{
				Table{"Charging and discharging", "Quantity | Symbol | Min | Max | Unit | Remark", []float64{3.4, 1.2, 1, 1.2, 0.8, 3}, []string{
					"Charge voltage | VCHG | – | 4.20 | V | constant voltage phase", "Absolute charge voltage | VABS | – | 4.25 | V | never beyond",
					"Discharge cutoff voltage | VCUT | 3.0 | – | V | at the terminals", "Charge current | ICHG | – | 1.25 | A | 0 °C to 45 °C",
					"Discharge current | IDIS | – | 5.0 | A | continuous", "Temperature, charging | TCHG | 0 | 45 | °C | of the can",
					"Temperature, discharging | TDIS | −20 | 60 | °C | of the can"}},
				Text("The limits hold for every cell and every moment. A tolerance of the charger counts against them.")}},
			{"Discharge behaviour", []Item{
				Text("At 0.2 C and 23 °C the voltage falls from 4.1 V to 3.7 V over the first half of the charge, to 3.4 V at about 90 % and then quickly to 3.0 V."),
				Table{"Rest voltage, typical, 23 °C", "Charge left | Rest voltage", []float64{1, 1},
					[]string{"100 % | 4.18 V", "80 % | 3.98 V", "60 % | 3.81 V", "40 % | 3.67 V", "20 % | 3.53 V", "10 % | 3.42 V", "5 % | 3.31 V"}},
				Text("The table is typical and promises nothing for a single cell.")}},
			{"Resistance and storage", []Item{
				symbolFirst("Internal resistance", "RNEW | Internal resistance, new | 45 | – | 70 | mΩ | 25 °C, 1 kHz",
					"RAGED | Internal resistance, aged | – | – | 300 | mΩ | −20 °C, after 300 cycles, pulse of 1 s"),
				symbolFirst("Storage", "SD | Self-discharge per month | – | – | 2 | % | of the rated capacity, 23 °C"),
				Text("Store at half charge, dry and cool.")}},
			{"Outline", []Item{Outline{Name: "cell with terminals", Kind: "cylinder", Length: 65.1, Width: 18.4, Height: 18.4},
				pins("Terminals", "1 | P | power | Positive end, marked +", "2 | N | power | Can, negative"),
				codes("Order code KVR-{size}-{capacity}, for example KVR-1865-26", "size | 1865 | 18.4 mm by 65.1 mm", "capacity | 26 | 2600 mAh")}},
			{"Use in equipment", []Item{
				Circuit{Block: "KVR-1865-26", Left: []Wire{{"N", "protector", "", ""}}, Right: []Wire{{"P", "load and charger", "", ""}},
					Note: "The cell is used with a protector in its negative lead and a charger for 4.20 V. Tabs are spot-welded by the issuer; never solder to the can."},
				Text("Revision C: resistance of aged cells stated at −20 °C; earlier editions gave it at 0 °C only.")}},
		}}
}

func protectorP1() *Sheet {
	return &Sheet{File: "weirkeeper/sheets/ozd-p1.pdf", Code: "OZD-P1", Title: "Protector for one lithium-ion cell, with switches",
		Issuer: "OZD (invented)", Revision: "A", Date: "2024-09-02", Style: ozd,
		Pages: []Page{
			{"Overview", []Item{Text("The OZD-P1 watches one cell and opens its negative lead when the voltage is too high, too low, or the current too large. The two switches are inside."),
				Bullets{"Over-charge, over-discharge, over-current, short circuit",
					"Two N-channel switches inside, 45 mΩ together", "3 µA of the cell at most"},
				Text("The protector is a last line. It replaces neither a charger that keeps to the cell's limits nor a cutoff in the equipment.")}},
			{"Pin description", []Item{pins("SOT23-6 (code S6)",
				"1 | CP | supply | Positive end of the cell through 330 Ω", "2 | CN | power | Negative end of the cell",
				"3 | CN | power | Negative end of the cell",
				"4 | PN | power | Negative end of the equipment", "5 | PN | power | Negative end of the equipment",
				"6 | NC | not connected | Leave open")}},
			{"Absolute maximum ratings", []Item{ratings("Voltage CP to CN | VCP | −0.3 | 6.5 | V",
				"Voltage PN to CN | VPN | −6.0 | 12 | V", "Junction temperature | TJ | −40 | 125 | °C"), Text(stress),
				operating("Voltage CP to CN | VCP | 1.5 | – | 4.5 | V")}},
			{"Electrical characteristics", []Item{electrical("Version A, −20 °C to 60 °C",
				"Over-charge detection | VOC | VCP rising | 4.250 | 4.275 | 4.300 | V",
				"Over-discharge detection | VOD | VCP falling | 2.45 | 2.50 | 2.55 | V",
				"Resistance of both switches | RSW | VCP = 2.5 V to 4.3 V | – | 32 | 45 | mΩ",
				"Supply current | ICP | VCP = 2.5 V to 4.3 V | – | 1.4 | 3.0 | µA", "Over-current detection | IOC | – | 1.5 | 2.2 | 3.0 | A")}},
			{"Typical application", []Item{Circuit{Block: "OZD-P1", Left: []Wire{{"CP", "cell + by 330 Ω", "C",
				"100 nF"}, {"CN", "cell −", "", ""}}, Right: []Wire{{"PN", "equipment −", "", ""}},
				Note: "The capacitor of 100 nF stands between CP and CN, at the pins."}}},
			{"Package and ordering information", []Item{Outline{Name: "SOT23-6", Kind: "dual", Length: 2.9, Width: 1.6,
				Height: 1.1, Pins: 6, Pitch: 0.95, Span: 2.8},
				codes("Order code OZD-P1-{trip}-{case}-{packing}", "trip | A | 4.275 V over-charge",
					"trip | B | 4.425 V over-charge", "case | S6 | SOT23-6", "packing | R | reel")}},
			history("A | 2024-09-02 | First edition"),
		}}
}

func switchS1() *Sheet {
	return &Sheet{File: "weirkeeper/sheets/ozd-s1.pdf", Code: "OZD-S1", Title: "Load switch",
		Issuer: "OZD (invented)", Revision: "A", Date: "2024-05-17", Style: ozd,
		Pages: []Page{
			{"Overview", []Item{Text("The OZD-S1 joins a load to its supply when its enable input is high. A slow edge keeps the inrush small."),
				pins("DFN4 (code D4)", "1 | OUT | supply output | To the load", "2 | GND | ground | Ground",
					"3 | EN | input | High joins OUT to IN", "4 | IN | supply | Supply")}},
			{"Absolute maximum ratings", []Item{ratings("Voltage at any pin | VPIN | −0.3 | 6.0 | V",
				"Junction temperature | TJ | −40 | 125 | °C", "Load current, pulse | IPK | – | 1.0 | A"), Text(stress),
				operating("Supply voltage | VIN | 1.2 | – | 5.5 | V", "Load current | IOUT | 0 | – | 500 | mA")}},
			{"Electrical characteristics", []Item{electrical("",
				"Resistance IN to OUT | RON | VIN = 2.5 V to 5.5 V | – | 38 | 55 | mΩ", "Supply current, off | IOFF | EN low | – | 0.1 | 0.5 | µA",
				"Supply current, on | ION | EN high | – | 0.6 | 1.5 | µA",
				"Enable, high level | VIH | – | 1.1 | – | – | V", "Enable, low level | VIL | – | – | – | 0.4 | V",
				"Rise time at OUT | tR | 1 µF | – | 0.4 | – | ms")}},
			{"Typical application", []Item{Circuit{Block: "OZD-S1", Left: []Wire{{"IN", "supply", "C", "1 µF"}, {"EN",
				"controller", "", ""}}, Right: []Wire{{"OUT", "load", "C", "100 nF"}, {"GND", "ground", "", ""}}}}},
			{"Package and ordering information", []Item{Outline{Name: "DFN4", Kind: "dual", Length: 1.2, Width: 1.2,
				Height: 0.5, Pins: 4, Pitch: 0.6}, codes("Order code OZD-S1-{case}-{packing}", "case | D4 | DFN4", "packing | R | reel")}},
			history("A | 2024-05-17 | First edition"),
		}}
}
