package notebook

import "strings"

// SplitList cuts a text at its commas; what is empty between them is left out.
func SplitList(s string) []string {
	var out []string
	for _, x := range strings.Split(s, ",") {
		if x = strings.TrimSpace(x); x != "" {
			out = append(out, x)
		}
	}
	return out
}

// HintNear asks whether the nearest of some names was meant; "" where none is near.
func HintNear(name string, among []string) string {
	if n := Nearest(name, among); n != "" {
		return "did you mean `" + n + "`?"
	}
	return ""
}
