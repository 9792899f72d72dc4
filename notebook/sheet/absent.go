package sheet

import (
	"math"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// A number that is printed in another unit, another column or with a decimal
// comma may be the one meant. A number of which the cited pages show no digit
// was mistyped or stands elsewhere.

// figure is a run of digits as a page prints it.
type figure struct {
	value  float64
	scaled bool // "x 10" follows: the power of ten stands in other type
}

// figures are the numbers of a page whatever their unit, sign and column:
// "2,2" both as 2.2 and as a list, "1 500" also as one number, "4k7" as 4.7.
func (v *view) figures() []figure {
	if v.counted {
		return v.digits
	}
	v.counted = true
	for _, l := range v.page.Lines {
		v.digits = append(v.digits, lineFigures(foldString(l.Text))...)
	}
	return v.digits
}

var groupGap = strings.NewReplacer("\u00a0", " ", "\u2009", " ", "\u202f", " ", "'", " ", "’", " ")

// lineFigures reads one line.
func lineFigures(s string) []figure {
	s = groupGap.Replace(s)
	var out []figure
	prev := ' '
	for at := 0; at < len(s); {
		r, n := utf8.DecodeRuneInString(s[at:])
		if !isDigit(s[at]) {
			if r != '.' || at+1 == len(s) || !isDigit(s[at+1]) || unicode.IsDigit(prev) {
				prev, at = r, at+n
				continue
			}
		}
		end := figureEnd(s, at)
		if !unicode.IsLetter(prev) && prev != '_' {
			out = append(out, readFigure(s[at:end], s[end:])...)
		}
		at, prev = end, rune(s[end-1])
	}
	return out
}

// figureEnd is where digits, points, commas and gaps before three digits end.
func figureEnd(s string, at int) int {
	digits := func(i int) int {
		for i < len(s) && isDigit(s[i]) {
			i++
		}
		return i
	}
	end := digits(at)
	for end+1 < len(s) && isDigit(s[end+1]) {
		next := digits(end + 1)
		if s[end] != '.' && s[end] != ',' && (s[end] != ' ' || next-end != 4) {
			break
		}
		end = next
	}
	return max(end, at+1)
}

// readFigure gives what a run of digits may mean; rest follows it on the line.
func readFigure(s, rest string) []figure {
	scaled := false
	if t := strings.TrimLeft(rest, " "); t != "" {
		r, n := utf8.DecodeRuneInString(t)
		scaled = strings.ContainsRune("x×*·", r) && strings.HasPrefix(strings.TrimLeft(t[n:], " "), "10")
	}
	if n := exponent(rest, 0); n > 0 && strings.Count(s, ",") == 0 {
		s += rest[:n]
	}
	var out []figure
	add := func(text string) {
		if v, err := strconv.ParseFloat(text, 64); err == nil && !math.IsInf(v, 0) {
			out = append(out, figure{v, scaled})
		}
	}
	if grouped().MatchString(s) {
		add(strings.NewReplacer(",", "", " ", "").Replace(s))
	}
	if strings.Contains(s, ",") { // a decimal comma, or a list
		add(strings.ReplaceAll(strings.ReplaceAll(strings.ReplaceAll(s, ".", ""), " ", ""), ",", "."))
	}
	if strings.ContainsAny(s, ", ") {
		for _, p := range strings.FieldsFunc(s, func(r rune) bool { return r == ',' || r == ' ' }) {
			add(p)
		}
	}
	if m := markedCode().FindStringSubmatch(rest); m != nil && !strings.ContainsAny(s, "., ") { // 4k7, as IEC 60062 marks
		add(s + "." + m[1])
	}
	return out
}

var grouped = pattern(`^\d*([ ,]\d{3})*(\.\d+)?([eE][-+]?\d+)?$`)

var markedCode = pattern(`^[RVkKMGmunpµμΩ](\d{1,3})\b`)

// absent says that no page shows the digits of a number in any unit: neither
// its value nor one that differs by a usual prefix or by the unit.
func absent(w wanted, views []*view) bool {
	values := []float64{w.Value}
	if w.known && w.m.kind != "" {
		for _, m := range atoms {
			if m.kind == w.m.kind {
				values = append(values, w.Value*w.m.factor/m.factor)
			}
		}
	}
	share := w.Unit == "" || w.Unit == "%"
	for _, v := range views {
		for _, f := range v.figures() {
			for _, x := range values {
				if sameDigits(x, f, share) {
					return false
				}
			}
		}
	}
	return true
}

// sameDigits compares two numbers but for sign and prefix.
func sameDigits(x float64, f figure, share bool) bool {
	if x == 0 || f.value == 0 {
		return x == f.value
	}
	power := math.Log10(math.Abs(x / f.value))
	k := math.Round(power)
	if math.Abs(power-k) > 1e-9 {
		return false
	}
	n := int(k)
	return f.scaled || n%3 == 0 && n >= -15 && n <= 15 || share && (n == 2 || n == -2)
}
