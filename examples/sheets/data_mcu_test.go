package sheets

import "fmt"

var tqk = Style{Grid: Ruled, Accent: [3]int{20, 60, 130}, Number: true}

// controller32L is the long sheet: 48 pages, cited between pages 4 and 45.
func controller32L() *Sheet {
	s := &Sheet{File: "weirkeeper/sheets/tqk-32l48.pdf", Code: "TQK-32L48", Title: "32-bit low-power controller",
		Issuer: "TQK (invented)", Revision: "D", Date: "2025-05-06", Style: tqk}
	s.Pages = make([]Page, 48)
	for n, p := range controllerPages() {
		s.Pages[n-1] = p
	}
	chapters := controllerChapters()
	for i := range s.Pages {
		if s.Pages[i].Title == "" {
			s.Pages[i], chapters = chapters[0], chapters[1:]
		}
	}
	return s
}

// controllerPages are the pages with facts, by page number.
func controllerPages() map[int]Page {
	return map[int]Page{
		1: {"Overview", []Item{Text("A controller for equipment that sleeps most of its life: 32-bit core up to 32 MHz, 256 KB of program memory, 32 KB of working memory, clock from an internal oscillator or a 32.768 kHz crystal."),
			Bullets{"Supply 1.8 V to 3.6 V", "Stop with memory kept: 1.6 µA typical at 50 °C",
				"12-bit converter, two serial ports, two bus controllers", "Brown-out reset with fixed threshold"}}},
		4: {"Ordering information", []Item{Text("The order code is TQK-32L{pins}-{case}-{packing}."),
			codes("Fields of the order code", "pins | 32 | 32 pins", "pins | 48 | 48 pins", "case | QE | QFN48 + EP",
				"case | LQ | LQFP48", "packing | R | reel", "packing | T | tray"),
			ordering("TQK-32L48-QE-R | −40 °C to 85 °C | QFN48 + EP | reel",
				"TQK-32L48-QE-T | −40 °C to 85 °C | QFN48 + EP | tray",
				"TQK-32L48-LQ-R | −40 °C to 85 °C | LQFP48 | reel"), Text("Status: active. Moisture sensitivity level 3.")}},
		5: {"Pins 1 to 24", []Item{pins("QFN48 + EP and LQFP48", controllerPins(1, 24)...)}},
		6: {"Pins 25 to 48", []Item{pins("QFN48 + EP and LQFP48", append(controllerPins(25, 48),
			"EP | EPAD | ground | Exposed pad of the QFN48, joined to VSS")...)}},
		28: {"Package QFN48 + EP", []Item{Outline{Name: "QFN48 + EP", Kind: "quad", Length: 7, Width: 7, Height: 0.85,
			Pins: 48, Pitch: 0.5, Pad: [2]float64{5.2, 5.2}}}},
		30: {"Absolute maximum ratings", []Item{ratings("Supply voltage, VDD to VSS | VDD | −0.3 | 4.0 | V",
			"Voltage at any other pin | VPIN | −0.3 | VDD + 0.3 | V",
			"Current injected into a pin | IINJ | −5 | 5 | mA", "Junction temperature | TJ | −40 | 105 | °C",
			"Storage temperature | TSTG | −55 | 150 | °C"), Text(stress)}},
		31: {"Operating conditions", []Item{operating("Supply voltage | VDD | 1.8 | – | 3.6 | V",
			"Supply of the converter | VDDA | 1.8 | – | 3.6 | V", "Ambient temperature | TA | −40 | – | 85 | °C",
			"Core clock | fCPU | 0 | – | 32 | MHz"), Text("VDD and VDDA come from the same supply. Each supply pin wants a capacitor of 100 nF.")}},
		34: {"Supply current, run", []Item{electrical("VDD = 1.8 V to 3.6 V, program in memory, all peripherals on",
			"Run, 4 MHz | IRUN | TA up to 85 °C | – | 1.3 | 1.9 | mA",
			"Run, 16 MHz | IRUN | TA up to 85 °C | – | 4.2 | 5.8 | mA",
			"Run, 32 MHz | IRUN | TA up to 85 °C | – | 8.1 | 11.0 | mA"), Text("The typical figures were taken at 25 °C and 3.0 V.")}},
		35: {"Supply current, stop", []Item{electrical("VDD = 1.8 V to 3.6 V, memory kept, crystal clock on",
			"Stop | ISTOP | TA up to 25 °C | – | 0.9 | 2.4 | µA", "Stop | ISTOP | TA up to 50 °C | – | 1.6 | 9.5 | µA",
			"Stop | ISTOP | TA up to 85 °C | – | 5.2 | 38 | µA"),
			Text("Leakage doubles about every twelve kelvins. Unused pins are set to analog; a floating input costs up to 100 µA.")}},
		37: {"Reset and brown-out", []Item{electrical("TA = −40 °C to 85 °C",
			"Brown-out threshold | VBOR | VDD falling | 2.45 | 2.50 | 2.55 | V",
			"Hysteresis | VHYS | – | 20 | 40 | 80 | mV", "Reset pulse | tRST | – | 20 | – | – | µs"),
			Text("Below the threshold the controller is held in reset and its outputs float.")}},
		39: {"Input and output pins", []Item{electrical("VDD = 1.8 V to 3.6 V",
			"Input, high level | VIH | – | 0.7 VDD | – | – | V", "Input, low level | VIL | – | – | – | 0.3 VDD | V",
			"Output, high level | VOH | IOH up to 4 mA | VDD − 0.4 | – | – | V",
			"Output, low level | VOL | IOL up to 4 mA | – | – | 0.4 | V", "Pin capacitance | CPIN | – | – | 5 | 8 | pF",
			"Leakage | ILEAK | 0 V to VDD, TA up to 85 °C | −50 | – | 50 | nA")}},
		41: {"Low-frequency oscillator", []Item{electrical("",
			"Transconductance, low frequency | gm | all corners | 4.5 | – | – | µA/V",
			"Start-up time | tSU | – | – | 0.8 | 2.0 | s"),
			Text("The oscillator wants a crystal for which the transconductance is at least five times what the network needs. Load capacitors stand outside.")}},
		44: {"Converter, sampling", []Item{electrical("VDDA = 1.8 V to 3.6 V",
			"Sampling capacitance | CSH | – | – | 5 | 8 | pF", "Sampling switch | RSW | – | – | 0.6 | 1.5 | kΩ",
			"Resolution | n | – | – | 12 | – | bit"),
			Text("A source of high resistance wants a capacitor at the pin that is large beside the sampling capacitance.")}},
		45: {"Typical application", []Item{Circuit{Block: "TQK-32L48",
			Left: []Wire{{"VDD1", "supply", "C", "100 nF"}, {"VDD2", "supply", "C", "100 nF"},
				{"VDD3", "supply", "C", "100 nF"}, {"VDDA", "supply", "C", "100 nF"}},
			Right: []Wire{{"LFI", "crystal", "C", "load"}, {"LFO", "crystal", "C", "load"},
				{"RSTN", "reset", "C", "100 nF"}, {"BOOT", "ground", "R", "10 kΩ"}}}}},
		47: handling("TQK-32L48", "Moisture sensitivity level 3."),
		48: history("A | 2023-02-13 | First edition", "B | 2023-11-20 | Stop current at 85 °C",
			"C | 2024-08-01 | Code for tray", "D | 2025-05-06 | Stop current at 50 °C raised to 9.5 µA"),
	}
}

// controllerPins lists pins from to to; the order is this sheet's own.
func controllerPins(from, to int) []string {
	fixed := map[int]string{1: "VDD1 | supply | Supply", 2: "VSS1 | ground | Ground",
		3: "LFI | analog | Crystal 32.768 kHz", 4: "LFO | analog | Crystal 32.768 kHz",
		5: "RSTN | input | Reset, low active, pulled up inside", 6: "BOOT | input | Low at reset: start from program memory",
		17: "VDD2 | supply | Supply", 18: "VSS2 | ground | Ground", 29: "VDDA | supply | Supply of the converter",
		30: "VSSA | ground | Ground of the converter", 41: "VDD3 | supply | Supply", 42: "VSS3 | ground | Ground"}
	var rows []string
	for n := from; n <= to; n++ {
		if text, ok := fixed[n]; ok {
			rows = append(rows, fmt.Sprintf("%d | %s", n, text))
			continue
		}
		rows = append(rows, fmt.Sprintf("%d | %s | bidirectional | Port pin", n, controllerPort(n)))
	}
	return rows
}

func controllerPort(n int) string {
	switch {
	case n <= 16:
		return fmt.Sprintf("P%02d", n-7)
	case n <= 28:
		return fmt.Sprintf("P%02d", n-9)
	case n <= 40:
		return fmt.Sprintf("P%02d", n-11)
	}
	return fmt.Sprintf("P%02d", n-13)
}
