package sheet

import (
	"math"
	"sort"
	"strings"
	"unicode"
	"unicode/utf8"
)

// measure is a unit as far as finding numbers needs it: what it measures, in a
// canonical spelling, and its factor to the unit without prefix.
type measure struct {
	kind   string // "V", "K W-1", "s"; "" for a bare number
	factor float64
}

// atoms are the unit symbols met in data sheets (SI Brochure, NIST SP 811 and
// common practice of the trade), with the kind they count as.
var atoms = map[string]measure{
	"V": {"V", 1}, "A": {"A", 1}, "W": {"W", 1}, "Ω": {"Ω", 1}, "ohm": {"Ω", 1}, "ohms": {"Ω", 1}, "Ohm": {"Ω", 1}, "Ohms": {"Ω", 1},
	"F": {"F", 1}, "H": {"H", 1}, "Hz": {"Hz", 1}, "s": {"s", 1}, "sec": {"s", 1}, "S": {"S", 1}, "J": {"J", 1}, "C": {"C", 1},
	"g": {"g", 1}, "m": {"m", 1}, "N": {"N", 1}, "Pa": {"Pa", 1}, "hPa": {"Pa", 100}, "bar": {"Pa", 1e5}, "T": {"T", 1},
	"lm": {"lm", 1}, "lx": {"lx", 1}, "cd": {"cd", 1},
	"K": {"K", 1}, "°C": {"°C", 1}, "degC": {"°C", 1}, "oC": {"°C", 1}, "°F": {"°F", 1}, "degF": {"°F", 1},
	"%": {"%", 1}, "ppm": {"ppm", 1}, "ppb": {"ppm", 1e-3}, "dB": {"dB", 1}, "dBm": {"dBm", 1}, "dBV": {"dBV", 1},
	"dBc": {"dBc", 1}, "dBFS": {"dBFS", 1},
	"bit": {"bit", 1}, "bits": {"bit", 1}, "Bit": {"bit", 1}, "Bits": {"bit", 1}, "b": {"bit", 1}, "B": {"B", 1},
	"Byte": {"B", 1}, "Bytes": {"B", 1}, "byte": {"B", 1}, "bytes": {"B", 1},
	"Bd": {"Bd", 1}, "baud": {"Bd", 1}, "bps": {"bit s-1", 1}, "SPS": {"sample s-1", 1}, "sps": {"sample s-1", 1}, "LSB": {"LSB", 1},
	"min": {"s", 60}, "h": {"s", 3600}, "hr": {"s", 3600}, "hours": {"s", 3600}, "d": {"s", 86400}, "years": {"year", 1}, "year": {"year", 1},
	"Ah": {"Ah", 1}, "Wh": {"Wh", 1}, "VA": {"VA", 1}, "mil": {"m", 25.4e-6}, "mils": {"m", 25.4e-6}, "in": {"m", 25.4e-3}, "inch": {"m", 25.4e-3},
	"rpm": {"rpm", 1}, "rad": {"rad", 1}, "deg": {"°", 1}, "°": {"°", 1}, "cycles": {"cycle", 1}, "Cycles": {"cycle",
		1}, "oz": {"oz", 1}, "ft": {"m", 0.3048}, "°K": {"K", 1},
}

// whole symbols take no prefix.
var whole = map[string]bool{
	"%": true, "ppm": true, "ppb": true, "°C": true, "degC": true, "oC": true, "°F": true, "degF": true, "°K": true,
	"dB": true, "dBm": true, "dBV": true, "dBc": true, "dBFS": true,
	"min": true, "h": true, "hr": true, "hours": true, "d": true, "years": true, "year": true, "mil": true, "mils": true, "in": true, "inch": true,
	"hPa": true, "rpm": true, "deg": true, "°": true, "cycles": true, "Cycles": true, "LSB": true, "oz": true,
	"ft": true, "ohms": true, "Ohms": true, "bits": true,
}

var prefixes = map[string]float64{
	"f": 1e-15, "p": 1e-12, "n": 1e-9, "μ": 1e-6, "u": 1e-6, "m": 1e-3, "c": 1e-2, "k": 1e3, "K": 1e3, "M": 1e6, "Meg": 1e6, "meg": 1e6, "G": 1e9,
}

// tails are said of a voltage or current and change nothing about its unit.
var tails = []string{"rms", "RMS", "p-p", "pp", "PP", "P-P", "pk", "DC", "dc", "AC", "ac"}

func isTail(s string) bool {
	for _, t := range tails {
		if s == t {
			return true
		}
	}
	return false
}

// parseMeasure reads a unit in its usual spellings; ok is false where s is none.
func parseMeasure(s string) (measure, bool) {
	s = strings.Trim(strings.ReplaceAll(foldString(s), " ", ""), "()[],;:")
	if s == "" {
		return measure{factor: 1}, true
	}
	if len(s) > 24 {
		return measure{}, false
	}
	if m, ok := parseSymbol(s); ok && !strings.Contains(m.kind, " ") {
		return m, true // nothing to reckon
	}
	powers := map[string]int{}
	factor, sign := 1.0, 1
	for i, part := range splitUnit(s) {
		switch part {
		case "/", "per":
			sign = -1
			continue
		case "·", "*":
			continue
		case "1":
			if i == 0 {
				continue
			}
		}
		m, power, ok := parseTerm(part)
		if !ok {
			return measure{}, false
		}
		power *= sign
		factor *= math.Pow(m.factor, float64(power))
		for _, k := range strings.Fields(m.kind) {
			base, p := splitPower(k)
			powers[base] += p * power
		}
	}
	return measure{kind: canonical(powers), factor: factor}, true
}

// splitUnit cuts at operators; everything after the first solidus divides, as
// V/√Hz and mV/°C/W are read in the trade. Parentheses are dropped.
func splitUnit(s string) []string {
	var parts []string
	if strings.ContainsAny(s, "()") {
		s = strings.ReplaceAll(strings.ReplaceAll(s, "(", ""), ")", "")
	}
	for len(s) > 0 {
		i := strings.IndexAny(s, "/·*")
		if i < 0 {
			return append(parts, s)
		}
		if i > 0 {
			parts = append(parts, s[:i])
		}
		_, n := utf8.DecodeRuneInString(s[i:])
		parts = append(parts, s[i:i+n])
		s = s[i+n:]
	}
	return parts
}

// parseTerm reads prefix, symbol and power: "mm2", "kΩ", "√Hz", "Vrms".
func parseTerm(s string) (m measure, power int, ok bool) {
	power = 1
	if rest, found := strings.CutPrefix(s, "√"); found {
		m, power, ok = parseTerm(rest)
		m.kind = strings.TrimSpace(strings.ReplaceAll(" "+m.kind, " ", " √"))
		m.factor = math.Sqrt(m.factor)
		return m, power, ok
	}
	if m, ok := parseSymbol(s); ok {
		return m, 1, true
	}
	if n := len(s) - 1; n > 0 && (s[n] == '2' || s[n] == '3') {
		base := strings.TrimSuffix(s[:n], "^")
		if m, ok := parseSymbol(base); ok {
			return m, int(s[n] - '0'), true
		}
	}
	for _, t := range tails {
		if base, found := strings.CutSuffix(s, t); found {
			if m, ok := parseSymbol(strings.TrimRight(base, "-_")); ok && (m.kind == "V" || m.kind == "A") {
				return m, 1, true
			}
		}
	}
	return measure{}, 0, false
}

func parseSymbol(s string) (measure, bool) {
	if m, ok := atoms[s]; ok {
		return m, true
	}
	for n := 1; n <= 3 && n < len(s); n++ {
		f, isPrefix := prefixes[s[:n]]
		if !isPrefix {
			continue
		}
		if m, ok := atoms[s[n:]]; ok && !whole[s[n:]] && !(s[:n] == "K" && s[n:] == "m") {
			return measure{m.kind, m.factor * f}, true
		}
	}
	return measure{}, false
}

func splitPower(k string) (string, int) {
	n := len(k) - 1
	if n < 1 || !isDigit(k[n]) {
		return k, 1
	}
	if base, ok := strings.CutSuffix(k[:n], "-"); ok {
		return base, -int(k[n] - '0')
	}
	return k[:n], int(k[n] - '0')
}

// canonical spells powers in a fixed order; beside another unit a degree is a
// difference, so °C and K are one.
func canonical(powers map[string]int) string {
	if len(powers) > 1 || powers["°C"] < 0 {
		if n := powers["°C"]; n != 0 {
			delete(powers, "°C")
			powers["K"] += n
		}
	}
	var keys []string
	for k, n := range powers {
		if n != 0 {
			keys = append(keys, k)
		}
	}
	sort.Strings(keys)
	var b strings.Builder
	for _, k := range keys {
		if b.Len() > 0 {
			b.WriteByte(' ')
		}
		b.WriteString(k)
		switch n := powers[k]; {
		case n < 0:
			b.WriteString("-" + string(rune('0'-n)))
		case n > 1:
			b.WriteString(string(rune('0' + n)))
		}
	}
	return b.String()
}

// unitWord reads a word of a page as a unit: brackets, punctuation and footnote
// marks around it do not count. A word that may as well be prose is no unit.
func unitWord(s string) (measure, bool) {
	t := strings.Trim(foldString(s), ",;:.[](){}")
	if i := strings.IndexByte(t, '('); i > 0 {
		t = t[:i] // mV(1)
	}
	if t == "" || !strings.ContainsFunc(t, func(r rune) bool { return unicode.IsLetter(r) || r == '%' || r == '°' || r == 'Ω' }) {
		return measure{}, false
	}
	if m, ok := parseMeasure(t); ok {
		return m, m.kind != ""
	}
	if r := strings.TrimRight(t, "0123456789"); r != t && r != "" { // raised footnote mark
		m, ok := parseMeasure(r)
		return m, ok && m.kind != ""
	}
	return measure{}, false
}
