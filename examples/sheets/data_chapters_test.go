package sheets

import "fmt"

// chapter is the subject of a page between the pages with facts.
type chapter struct {
	name, does, use string
	registers       []string
}

var controllerSubjects = []chapter{
	{"Contents and conventions", "This sheet describes all versions of the TQK-32L family",
		"Figures without a unit are counts. A bar in a table means that nothing is promised", nil},
	{"Block diagram", "The core, the memories and the peripherals hang on one bus with two masters",
		"Read the clock tree before a peripheral is used: a block without a clock keeps its registers but does nothing", nil},
	{"Alternate functions", "Each port pin can serve a peripheral; the choice is made pin by pin",
		"P10 and P11 carry the two-wire bus, P12 to P14 the serial bus, P00 to P03 the converter inputs",
		[]string{"FSEL | function of a pin | 0", "FLCK | lock of the choice | 0"}},
	{"Memory map", "Program memory starts at zero, working memory at 0x20000000", "Peripherals stand in blocks of 1 KB above 0x40000000", nil},
	{"Core", "The core has three stages and multiplies in one cycle",
		"Interrupts are entered in fifteen cycles or fewer", []string{"CPRI | priority | 0", "CPND | pending | 0"}},
	{"Program memory", "Memory is erased in pages of 2 KB",
		"Do not erase while the supply may fall below the brown-out threshold", []string{"MKEY | key | –", "MCTL | command | 0", "MSTA | state | 1"}},
	{"Working memory", "All 32 KB are kept in stop", "A parity error raises an interrupt that cannot be masked", []string{"WPAR | parity | 0"}},
	{"Clock tree", "An internal oscillator of 16 MHz, a divider and the crystal feed the tree",
		"Switch the divider before the source", []string{"CSRC | source | 0", "CDIV | divider | 1", "CRDY | ready | 0"}},
	{"Power states", "Run, sleep and stop differ in what is clocked", "From stop the core is back in five microseconds",
		[]string{"PSTA | state | 0", "PWKE | wake-up sources | 0"}},
	{"Ports", "A port pin is input, output, open drain or analog", "After reset every pin is analog",
		[]string{"PDIR | direction | 0", "POUT | output | 0", "PINP | input | –", "POPD | open drain | 0"}},
	{"Interrupts", "Thirty-two sources with four levels", "A level that is left pending wakes the core at once",
		[]string{"IENA | enable | 0", "ISTA | state | 0"}},
	{"Direct memory access", "Four channels move data without the core", "A channel stops at the end of its block",
		[]string{"DSRC | source | 0", "DDST | target | 0", "DLEN | length | 0"}},
	{"Timers", "Three timers of 16 bit with two compare channels", "The third runs from the crystal in stop",
		[]string{"TCNT | count | 0", "TCMP | compare | 0", "TCTL | control | 0"}},
	{"Watchdog", "A counter that must be cleared in time", "It runs in stop unless it is told not to",
		[]string{"WCLR | clear | –", "WPER | period | 7"}},
	{"Serial ports", "Two ports with a first-in first-out store of eight characters",
		"The receiver can wake the core from stop", []string{"SDAT | data | –", "SBRD | divider | 0", "SSTA | state | 2"}},
	{"Serial bus", "A master or slave with clock up to half the core clock", "Select lines are ordinary port pins",
		[]string{"BDAT | data | –", "BCTL | control | 0"}},
	{"Two-wire bus", "A controller for the two-wire bus up to 400 kHz",
		"The rise time belongs to the resistors on the board", []string{"IDAT | data | –", "IADR | address | 0", "ITIM | timing | 0"}},
	{"Converter", "A converter of 12 bit with eight inputs", "The sampling time is set channel by channel",
		[]string{"ACTL | control | 0", "ADAT | result | –", "ASMP | sampling time | 3"}},
	{"Calendar", "A counter of seconds with alarm", "It runs from the crystal in all states", []string{"KCNT | seconds | –", "KALM | alarm | 0"}},
	{"Checksum unit", "A unit for checksums of 16 and 32 bit", "Write words, read the sum", []string{"XDAT | data | –", "XSUM | sum | –"}},
	{"Random numbers", "A source of noise with a test of its own health", "Discard the first sixteen words", []string{"RDAT | word | –"}},
	{"Debug port", "Two wires for programming and stopping the core", "The port costs 300 µA while it is on", nil},
	{"Package LQFP48", "The LQFP48 has the pins of the QFN48 and no exposed pad", "Body 7 mm, pitch 0.5 mm, span 9 mm", nil},
	{"Land pattern", "A land pattern for the QFN48 with windows in the paste of the pad", "Nine windows of 1.3 mm leave half the pad free", nil},
	{"Power-up", "Supply may rise with any slope between 0.1 V/ms and 100 V/ms", "The reset is released 1 ms after the threshold is passed", nil},
	{"Thermal data", "On a JESD51-7 board the QFN48 has 32 K/W, the LQFP48 58 K/W", "At the currents of this controller heat is no subject", nil},
	{"Wake-up times", "From stop 5 µs typical, from reset 1.2 ms typical", "These times promise nothing at the corners", nil},
	{"Memory endurance", "Ten thousand erase cycles per page at 85 °C", "Data are kept for twenty years at 55 °C", nil},
	{"Reset pin", "The reset pin is pulled up inside by 40 kΩ typical", "A capacitor of 100 nF at the pin keeps bursts away", nil},
	{"Internal oscillator", "16 MHz within 1 % over supply and temperature", "It is ready after 4 µs", nil},
	{"Converter, accuracy", "Total error 4 LSB at the most with a calibrated offset", "The reference is VDDA; its error adds", nil},
	{"Layout", "Keep the crystal within 5 mm of its pins and away from fast lines", "Join the exposed pad to ground with nine vias", nil},
	{"Errata and support", "Known errors of the silicon are listed in a sheet of their own",
		"Ask for the edition that belongs to the marking of your parts", nil},
}

// controllerChapters are the pages without cited facts, in order.
func controllerChapters() []Page {
	pages := make([]Page, 0, len(controllerSubjects))
	for _, c := range controllerSubjects {
		items := []Item{
			Text(c.does + ". " + c.use + "."),
			Sub("Operation"),
			Text("After reset the registers of this block hold the values given below. Write the control register last. Reserved bits are written as they were read."),
			Text("Nothing on this page is a limit. Limits stand in the tables of the electrical characteristics and hold over supply and temperature as stated there."),
		}
		if len(c.registers) > 0 {
			items = append(items, Table{fmt.Sprintf("Registers, %s", c.name), "Register | Content | After reset", []float64{1, 3, 1}, c.registers})
		}
		pages = append(pages, Page{c.name, items})
	}
	return pages
}
