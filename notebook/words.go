package notebook

// This file holds the closed word lists of rows, and what they are written
// as in the Book. The trade's own words; twins only where keyboards or the
// two Englishes differ.

// pinTypes maps what may stand as the type of a pin to its canonical form.
// The longest form that fits is taken.
var pinTypes = map[string]string{
	"supply": "supply", "supply output": "supply output", "analog supply": "supply", "analogue supply": "supply",
	"ground": "ground", "earth": "ground",
	"input": "input", "output": "output", "bidirectional": "bidirectional", "input output": "bidirectional", "I/O": "bidirectional",
	"analog": "analog", "analogue": "analog",
	"analog input": "analog input", "analogue input": "analog input",
	"analog output": "analog output", "analogue output": "analog output",
	"passive": "passive", "clock": "clock",
	"not connected": "not connected", "NC": "not connected", "no connection": "not connected",
	"do not connect": "do not connect", "DNC": "do not connect",
	"reserved": "reserved", "thermal pad": "thermal pad",
}

// sheetPinTypes are words that pin tables use for those types, for hints.
var sheetPinTypes = map[string]string{
	"power": "supply", "pwr": "supply", "p": "supply", "vcc": "supply", "vdd": "supply",
	"gnd": "ground", "vss": "ground", "g": "ground", "in": "input", "i": "input", "out": "output", "o": "output",
	"io": "bidirectional", "bidir": "bidirectional", "i/o/z": "bidirectional", "inout": "bidirectional",
	"nc": "not connected", "dnc": "do not connect", "ep": "thermal pad", "pad": "thermal pad", "clk": "clock",
}

// pinFlags maps what may follow the type of a pin to its canonical form.
var pinFlags = map[string]string{
	"open drain": "open drain", "open collector": "open collector", "open source": "open source",
	"push-pull": "push-pull", "three-state": "three-state", "tri-state": "three-state",
	"pull-up": "pull-up", "pull-down": "pull-down", "keeper": "keeper",
	"strap": "strap", "reset": "reset", "active low": "active low", "schmitt": "schmitt", "Schmitt": "schmitt",
	"optional": "optional", "tolerant": "tolerant", "differential": "differential",
	"power": "power", "input": "input", "output": "output", "clock": "clock",
}

// Unused is the role of a pin that the board has no use for.
const Unused = "unused"

// pinRoles maps what may follow a pin in `in use:` to its canonical form.
var pinRoles = map[string]string{
	"input": "input", "output": "output", "analog": "analog", "analogue": "analog",
	"analog input": "analog input", "analogue input": "analog input",
	"analog output": "analog output", "analogue output": "analog output", Unused: Unused,
}

// placedKinds are the kinds that a circuit row or an application need may
// name in place of a part. nets is how many bare nets such a part joins; 0
// means any number.
var placedKinds = map[string]struct {
	kind string
	nets int
}{
	"resistor": {"resistor", 2}, "capacitor": {"capacitor", 2}, "inductor": {"inductor", 2},
	"diode": {"diode", 2}, "LED": {"LED", 2}, "Zener diode": {"Zener diode", 2}, "crystal": {"crystal", 2},
	"resonator": {"resonator", 0}, "fuse": {"fuse", 2}, "ferrite bead": {"ferrite bead", 2},
	"thermistor": {"thermistor", 2}, "varistor": {"varistor", 2}, "cell": {"cell", 2}, "battery": {"battery", 2},
	"switch": {"switch", 0}, "button": {"switch", 0}, "jumper": {"jumper", 0}, "relay": {"relay", 0}, "transformer": {"transformer", 0},
	"connector": {"connector", 0}, "test point": {"test point", 1}, "link": {"link", 2}, "wire": {"wire", 2},
}

// columnWords may follow a comma of one quantity in a row.
var columnWords = []string{"min", "typ", "max"}

// reserved are the words that cannot be names, and why.
var reserved = map[string]string{
	"and": "joins conditions", "or": "joins conditions", "not": "negates a condition",
	"in": "is kept for lists", "inside": "asks whether a value is inside a range", "to": "makes a range",
	"at": "starts conditions", "of": "names the base of a margin", "for": "starts a duration", "every": "starts a period",
	"from": "names a rail", "min": "is a column", "typ": "is a column", "max": "is a column",
	"if": "is kept for formulas", "else": "is kept for formulas", "let": "is kept for formulas",
	"true": "is a constant", "false": "is a constant", "nil": "is kept for formulas",
	"matches": "is kept for formulas", "contains": "is kept for formulas",
	"startsWith": "is kept for formulas", "endsWith": "is kept for formulas",
	"pi": "is a constant", "net": "calls a net by name", "part": "calls a part by name",
	"budget": "calls a budget by net", "bench": "is kept for readings", "claim": "calls a claim by ID",
	"ambient": "is the ambient temperature",
}

// notSources are words that brackets in prose use otherwise.
var notSources = map[string]bool{"value": true, "verdict": true, "assumed": true}

// languages are names of programming languages that lie one edit away from a
// fence word of ours (common knowledge), so that no warning is due.
var languages = map[string]bool{"dart": true, "pari": true}
