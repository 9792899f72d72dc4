package draft

import (
	"regexp"
	"strings"

	"guardband/notebook"
	"guardband/units"
)

// quantityLetters are the letter symbols of IEC 60027 and IEC 60747 that a
// subscript follows, with the end of the units that they are given in.
var quantityLetters = map[byte][]string{
	'V': {"V"}, 'U': {"V"}, 'I': {"A"}, 'T': {"°C", "K"}, 'R': {"Ω", "ohm", "K/W", "°C/W"}, 'C': {"F"}, 'L': {"H"},
	'P': {"W"}, 'f': {"Hz"}, 'F': {"Hz"}, 't': {"s"}, 'g': {"A/V", "S"}, 'Q': {"C"}, 'e': {"V", "V/√Hz"},
}

var (
	thermal   = pattern(`(?i)^r?_?(?:θ|th|theta)?[_(-]*(j)[_-]?([abcl])\)?$`)
	noName    = pattern(`[^\p{Latin}\p{Greek}0-9_]+`)
	noteMark  = pattern(`(?i)\(?\bnotes?\s*[0-9][0-9, and&]*\)?|\(\d{1,2}\)|^\*\d?|\[\d{1,2}\]|†|‡`)
	bracketed = pattern(`\([^)]*\)`)
)

// factName is the symbol of a row as a name of the language, the subscript
// behind "_": "VIN" in volts is V_IN, "tHD:STA" in seconds t_HD_STA, "θJA" in
// kelvins per watt R_θJA. "" if it cannot be a name.
func factName(symbol, unit string) string {
	s := noteMark().ReplaceAllString(strings.ReplaceAll(symbol, "∆", "Δ"), "")
	s = strings.Trim(noName().ReplaceAllString(units.FoldName(strings.TrimSpace(s)), "_"), "_")
	if m := thermal().FindStringSubmatch(s); m != nil && strings.Contains(unit, "/W") {
		return "R_θ" + strings.ToUpper(m[1]+m[2])
	}
	if s == "" || !notebook.IsName(s) || len(s) > 40 {
		return ""
	}
	if len(s) < 2 || s[1] == '_' || s[0] >= 0x80 || strings.ContainsAny(s[1:2], "0123456789") {
		return s
	}
	if len(s) > 5 && strings.Trim(s[1:], "abcdefghijklmnopqrstuvwxyz") == "" { // a word
		return s
	}
	for _, end := range quantityLetters[s[0]] {
		if base := strings.TrimSuffix(unit, end); base != unit && len(base) <= 2 {
			return s[:1] + "_" + s[1:]
		}
	}
	return s
}

// usualSymbols are letter symbols of temperatures that sheets name in words
// alone (IEC 60747-1; common practice).
var usualSymbols = []struct{ words, symbol string }{
	{"storage temperature", "T_STG"}, {"junction temperature", "T_J"}, {"ambient temperature", "T_A"}, {"operating temperature", "T_A"},
	{"lagertemperatur", "T_STG"}, {"sperrschichttemperatur", "T_J"}, {"umgebungstemperatur", "T_A"}, {"存储温度", "T_STG"}, {"储存温度", "T_STG"},
	{"保存温度", "T_STG"}, {"结温", "T_J"}, {"工作温度", "T_A"}, {"工作环境温度", "T_A"}, {"動作温度", "T_A"},
}

// nameOfWords makes a name of the words that name a row without a symbol.
func nameOfWords(group, words, unit string) string {
	s := bracketed().ReplaceAllString(noteMark().ReplaceAllString(words, " "), " ")
	for _, u := range usualSymbols {
		if unit == "°C" && strings.Contains(strings.ToLower(group+" "+s), u.words) {
			return u.symbol
		}
	}
	list := strings.Fields(noName().ReplaceAllString(units.FoldName(s), " "))
	out := ""
	for _, w := range list {
		if len(out)+len(w) > 40 {
			break
		}
		out = strings.TrimPrefix(out+"_"+w, "_")
	}
	if !notebook.IsName(out) {
		return ""
	}
	return out
}

// printedUnits are units as sheets print them and as the language writes them.
var printedUnits = []struct {
	printed *regexp.Regexp
	ours    string
}{
	{regexp.MustCompile(`^([munpµkM]?[VA])_?(dc|DC|d\.c\.)$`), "$1"},
	{regexp.MustCompile(`^([munpµkM]?[VA])_?(rms|RMS|r\.m\.s\.)$`), "$1 rms"},
	{regexp.MustCompile(`^KHz$`), "kHz"},
	{regexp.MustCompile(`^u([AVFHsWg])$`), "µ$1"},
	{regexp.MustCompile(`^([kKMm]?)(?i:ohms?)$`), "${1}Ω"},
	{regexp.MustCompile(`^([numkM]?[A-Za-z]{1,2})/m2$`), "$1/m²"},
	{regexp.MustCompile(`^deg$`), "°"},
	{regexp.MustCompile(`^([kKMGmunpµ]?)(?:HZ|hz)$`), "${1}Hz"},
	{regexp.MustCompile(`^([numpµkM]?)(f|F)arads?$`), "${1}F"},
	{regexp.MustCompile(`^K(Ω|V|W|A)$`), "k$1"},
	{regexp.MustCompile(`^˚C$|^degC$|^deg\.? ?C$|^ºC$`), "°C"},
}

// letterDegree matches degrees Celsius whose sign is a raised letter.
var letterDegree = pattern(`\bo ?C\b`)

// printedUnit brings a unit as printed to one of the language; as it is where
// that is not known.
func printedUnit(u string) string {
	u = letterDegree().ReplaceAllString(strings.TrimSpace(noteMark().ReplaceAllString(u, "")), "°C")
	u = strings.NewReplacer("μ", "µ", "\u2126", "Ω", "℃", "°C", "º", "°", "˚", "°").Replace(u)
	if s := strings.ReplaceAll(u, " ", ""); s != u && !strings.HasSuffix(u, " rms") {
		if _, err := units.ParseLiteral("1 " + s); err == nil {
			u = s
		}
	}
	s := strings.ReplaceAll(u, " ", "")
	for _, p := range printedUnits {
		if p.printed.MatchString(s) {
			return p.printed.ReplaceAllString(s, p.ours)
		}
	}
	return u
}

// doubtfulUnits are units that are read as printed by the language and are hardly
// meant: letters of the wrong size, prefixes without use (common practice).
var doubtfulUnits = []struct {
	printed, unless *regexp.Regexp // the unit; name and words of a row that may have it
	ask             string
}{
	{regexp.MustCompile(`^[munpµ]?S$`), regexp.MustCompile(`(?i)^g|conduct|transfer`), "seconds, or siemens"},
	{regexp.MustCompile(`^C$`), regexp.MustCompile(`(?i)^Q|charge`), "degrees Celsius, or coulombs"},
	{regexp.MustCompile(`^K$`), regexp.MustCompile(`^[TΔ]|(?i)temp`), "thousand, or kelvins"},
	{regexp.MustCompile(`^m$`), regexp.MustCompile(`(?i)distance|length|range|height|altitude|size|距离`), "metres, or is a letter missing"},
	{regexp.MustCompile(`^[tdNTLl]$`), regexp.MustCompile(`^$`), "this unit"},
	{regexp.MustCompile(`^([PEZY][AVFHsWSΩ]|[MT][AVFHsS]|G[AVFHs]|mHz)$`), regexp.MustCompile(`^$`), "this prefix"},
}

// unitQuestion asks about a unit that is hardly meant as printed, "" if none is.
func unitQuestion(unit, name, words string) string {
	for _, d := range doubtfulUnits {
		if d.printed.MatchString(unit) && !d.unless.MatchString(name) && !d.unless.MatchString(words) {
			return "  # printed “" + unit + "”: " + d.ask + "? Write the unit, then delete the # before the line"
		}
	}
	return ""
}
