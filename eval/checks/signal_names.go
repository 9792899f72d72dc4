package checks

import (
	"guardband/eval/circuit"
)

// isResetName knows the names of a reset pin; the last resort where no flag
// says what a pin is.
func isResetName(s string) bool {
	switch circuit.BareName(s) {
	case "RST", "RESET", "NRST", "NRESET", "RES", "RSTB", "MR":
		return true
	}
	return false
}
