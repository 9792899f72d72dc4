package formula

import "guardband/units"

// Param is one parameter of a trade function.
type Param struct {
	Name    string
	Type    units.Type
	Doc     string // "input voltage"; the unit follows from Type
	Unit    string // unit shown in help, "V"
	Default string // literal text when it may be left out; "" = required
}

// Function is a formula of the trade: its body is written in this language
// over its parameters, so the same text is computed, printed and checked.
type Function struct {
	Name      string
	Params    []Param
	Body      string // formula over the parameter names (and pi)
	Result    units.Type
	Unit      string   // unit shown
	Doc       string   // what it gives, one line
	Valid     []string // conditions as formulas over the parameters ("R > 0 Ω"): outside them the value is undefined with the reason
	ValidText string   // range of validity in words
	Source    string   // published source, or "common practice"
	Group     string   // heading in help: "regulators", "timing"
}
