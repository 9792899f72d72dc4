package lists

import (
	"slices"
	"strings"

	"guardband/eval/circuit"
	"guardband/eval/record"
)

// metricChip are the metric codes of the chips whose imperial ones are read, from memory.
var metricChip = map[string]string{"0201": "0603", "0402": "1005", "0603": "1608", "0805": "2012", "1206": "3216",
	"1210": "3225", "2010": "5025", "2512": "6332"}

// isChip says that a word is a chip size.
func isChip(code string) bool {
	_, ok := circuit.ChipOf(code)
	return ok || slices.Contains(circuit.ChipOnly, code)
}

// ChipOf is the chip size that a row of a plain kind states, "" without one.
func ChipOf(m *circuit.Component) string {
	for _, o := range m.Row.Options {
		if s := strings.TrimSpace(o.S); isChip(s) {
			return s
		}
	}
	return ""
}

// SameChip compares a package of a list with a chip size: passed where it holds the code, or the metric one said to be
// metric; failed where it holds another; open where it holds none, both, or what may be either.
func SameChip(cell, size string) record.Verdict {
	same, other, unsure := false, false, false
	words := wordsOf(strings.ToUpper(cell))
	for i, w := range words {
		code := strings.TrimLeft(w, "ABCDEFGHIJKLMNOPQRSTUVWXYZ")
		before := w[:len(w)-len(code)]
		after := strings.TrimLeft(code, "0123456789")
		code = code[:len(code)-len(after)]
		switch {
		case strings.HasPrefix(after, "METRIC"), after == "" && i+1 < len(words) && words[i+1] == "METRIC",
			slices.Contains([]string{"CAPC", "RESC", "INDC", "LEDC", "FUSC"}, before): // IPC-7351
			same, other = same || code == metricChip[size], other || code != metricChip[size]
		case code == size:
			same = true
		case code == metricChip[size]:
			unsure = true
		case isChip(code):
			other = true
		}
	}
	switch {
	case same && !other:
		return record.Passed
	case other && !same && !unsure:
		return record.Failed
	}
	return record.Open
}

// Chip is the one chip size that the package of a line, or else its value, names without doubt; "" for none.
func (r Row) Chip() string {
	if r.Cells["package"] == "" {
		for _, w := range listWords(r.Cells["value"]) {
			if isChip(w) {
				return w
			}
		}
		return ""
	}
	out := ""
	for code := range metricChip {
		if SameChip(r.Cells["package"], code) == record.Passed {
			if out != "" {
				return ""
			}
			out = code
		}
	}
	return out
}

// plainWords may stand beside the value of a chip without making it anything else, as NTC, POT or ARRAY do.
var plainWords = map[string]string{
	"resistor":  "± / V VDC VOLT % W OHM OHMS Ω KOHM SMD SMT CHIP RES RESISTOR THICK THIN FILM ZERO JUMPER",
	"capacitor": "± / V VDC VOLT % F PF NF UF µF SMD SMT CHIP CAP CAPACITOR CER CERAMIC MLCC",
	"inductor":  "± / % A MA H NH UH µH MH SMD SMT CHIP IND INDUCTOR",
}

// PlainValue finds the class of a ceramic among the words of a value. plain says that none of them makes the part
// anything but a chip of its kind.
func PlainValue(text, kind string) (class string, plain bool) {
	words := strings.Fields(plainWords[kind])
	for _, w := range listWords(text) {
		w = strings.ToUpper(w)
		if kind == "capacitor" && slices.ContainsFunc(circuit.Dielectrics, func(d circuit.Dielectric) bool { return d.Name == w }) {
			class = w
			continue
		}
		f, figure := readFigure(w)
		if !figure && !isChip(w) && !slices.Contains(words, w) || figure && len(f.rest) > 4 {
			return "", false
		}
	}
	return class, true
}
