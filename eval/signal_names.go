package eval

import "strings"

// bareName is a pin's name without what marks it active low or numbers it:
// /CS, nCS, CS_N, CSN, CS#, CS1 are CS.
func bareName(s string) string {
	s = strings.ToUpper(strings.TrimPrefix(s, "n"))
	s = strings.Trim(s, "/~#!*_0123456789")
	if len(s) > 2 {
		s = strings.TrimSuffix(s, "_N")
		s = strings.TrimSuffix(s, "_B")
		if len(s) > 2 {
			s = strings.TrimSuffix(s, "N")
		}
	}
	return strings.Trim(s, "_")
}

// isResetName knows the names of a reset pin; the last resort where no flag
// says what a pin is.
func isResetName(s string) bool {
	switch bareName(s) {
	case "RST", "RESET", "NRST", "NRESET", "RES", "RSTB", "MR":
		return true
	}
	return false
}
