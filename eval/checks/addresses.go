package checks

import (
	"strconv"
	"strings"
)

// addressOption is one address of a part, and how its pins must be joined for
// it.
type addressOption struct {
	from, to int64
	bits     []string // pins added as a number, the most significant first
	straps   []strap
}

type strap struct{ pin, level string }

// maxAddresses bounds a block, so that a slip cannot fill the memory.
const maxAddresses = 1 << 10

// readAddress reads "0x51", "0x50 to 0x57", "0x48 at A0=GND A1=GND",
// "0x50 + A2 A1 A0".
func readAddress(text string) (addressOption, bool) {
	var o addressOption
	words := strings.Fields(strings.NewReplacer("+", " + ", "–", " to ").Replace(text))
	if len(words) == 0 {
		return o, false
	}
	var err error
	if o.from, err = strconv.ParseInt(words[0], 0, 32); err != nil || o.from < 0 {
		return o, false
	}
	o.to = o.from
	words = words[1:]
	if len(words) > 1 && words[0] == "to" {
		if o.to, err = strconv.ParseInt(words[1], 0, 32); err != nil || o.to < o.from || o.to-o.from >= maxAddresses {
			return o, false
		}
		words = words[2:]
	}
	bits := false
	for _, w := range words {
		pin, level, strapped := strings.Cut(w, "=")
		switch {
		case strapped && pin != "" && level != "":
			o.straps = append(o.straps, strap{pin, level})
		case w == "at":
			bits = false
		case w == "+":
			bits = true
		case bits && len(o.bits) < 10:
			o.bits = append(o.bits, w)
		default:
			return o, false
		}
	}
	return o, true
}
