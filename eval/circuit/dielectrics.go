package circuit

// Dielectric is one class of ceramic: how far its capacitance goes from the
// value at 25 °C between two temperatures, bias apart.
type Dielectric struct {
	Name      string
	Low, High string // change, as factors of a formula
	From, To  string // temperatures
	Steady    bool   // class 1: no loss with bias or age
}

// Dielectrics by the codes of EIA-198 and IEC 60384-21/-22, from memory of the
// standards. Class 1 is given its 30 ppm/K over 100 K, rounded up.
var Dielectrics = []Dielectric{
	{"C0G", "(1 - 0.3 %)", "(1 + 0.3 %)", "-55 °C", "125 °C", true}, {"NP0", "(1 - 0.3 %)", "(1 + 0.3 %)", "-55 °C", "125 °C", true},
	{"X5R", "(1 - 15 %)", "(1 + 15 %)", "-55 °C", "85 °C", false}, {"X7R", "(1 - 15 %)", "(1 + 15 %)", "-55 °C",
		"125 °C", false}, {"X8R", "(1 - 15 %)", "(1 + 15 %)", "-55 °C", "150 °C", false},
	{"X5S", "(1 - 22 %)", "(1 + 22 %)", "-55 °C", "85 °C", false}, {"X6S", "(1 - 22 %)", "(1 + 22 %)", "-55 °C",
		"105 °C", false}, {"X7S", "(1 - 22 %)", "(1 + 22 %)", "-55 °C", "125 °C", false},
	{"X6T", "(1 - 33 %)", "(1 + 22 %)", "-55 °C", "105 °C", false}, {"X7T", "(1 - 33 %)", "(1 + 22 %)", "-55 °C", "125 °C", false},
	{"Y5V", "(1 - 82 %)", "(1 + 22 %)", "-30 °C", "85 °C", false}, {"Z5U", "(1 - 56 %)", "(1 + 22 %)", "10 °C", "85 °C", false},
}
