package sheet

import (
	"math"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// token is a number on a page.
type token struct {
	value  float64
	either bool    // the sign may be an operator or a dash, or is ±
	both   bool    // ± stands before it: it bounds in both directions
	unit   measure // attached to the number
	sure   bool    // unit is attached
	row    int     // of the grid
	first  int     // word of the row in which it starts
	last   int     // word in which number and attached unit end
	from   float64 // share of the first word where the number starts
	to     float64 // share of the number's own word where it ends
	r      rect    // of the number, upright
}

// numeral reads a number at the start of s, without sign: digits with an
// optional point and exponent, thousands grouped by commas or apostrophes. A decimal comma is
// not read: what it means depends on the sheet.
func numeral(s string) (value float64, n int, ok bool) {
	digits := func(i int) int {
		for i < len(s) && s[i] >= '0' && s[i] <= '9' {
			i++
		}
		return i
	}
	n = digits(0)
	text := s[:n]
	if n >= 1 && n <= 3 && text != "0" {
		for n+4 <= len(s) && (s[n] == ',' || s[n] == '\'') && digits(n+1) == n+4 {
			text += s[n+1 : n+4]
			n += 4
		}
	}
	if n < len(s) && s[n] == ',' && n+1 < len(s) && s[n+1] >= '0' && s[n+1] <= '9' {
		return 0, digits(n + 1), false
	}
	if n < len(s) && s[n] == '.' {
		if m := digits(n + 1); m > n+1 {
			text += s[n:m]
			n = m
		}
	}
	if text == "" {
		return 0, 0, false
	}
	if m := exponent(s, n); m > n {
		text += s[n:m]
		n = m
	}
	v, err := strconv.ParseFloat(text, 64)
	return v, n, err == nil && !math.IsInf(v, 0)
}

// exponent gives the end of "E-6" or "e3" at n, else n. A letter behind it
// would make it part of a word.
func exponent(s string, n int) int {
	if n >= len(s) || s[n] != 'e' && s[n] != 'E' {
		return n
	}
	m := n + 1
	if m < len(s) && (s[m] == '-' || s[m] == '+') {
		m++
	}
	d := m
	for d < len(s) && s[d] >= '0' && s[d] <= '9' {
		d++
	}
	if d == m || d-m > 3 {
		return n
	}
	return d
}

// tokens finds the numbers in the rows of a page.
func (g *grid) tokens() []token {
	var all []token
	for i := range g.rows {
		all = append(all, g.rowTokens(i)...)
	}
	return all
}

func (g *grid) rowTokens(i int) []token {
	words := g.rows[i].words
	var out []token
	for j := range words {
		out = append(out, wordTokens(words, i, j)...)
		if t, ok := powerToken(words, i, j); ok {
			out = append(out, t)
		}
		if joined, ok := spacedThousands(words, j); ok { // "5 000" may be one number or two
			for _, t := range wordTokens(joined, i, j) {
				t.last += len(words) - len(joined)
				out = append(out, t)
			}
		}
	}
	return out
}

// powerToken reads a power of ten whose exponent is raised, with its factor:
// "10⁻⁷", "5 x 10¹⁰".
func powerToken(words []cellWord, row, j int) (token, bool) {
	if j+1 >= len(words) || !words[j+1].note || words[j].text != "10" {
		return token{}, false
	}
	last, power := j+1, foldString(words[j+1].text)
	if power == "-" && j+2 < len(words) {
		last, power = j+2, power+words[j+2].text
	}
	n, err := strconv.Atoi(power)
	if err != nil || n < -30 || n > 30 {
		return token{}, false
	}
	t := token{value: math.Pow(10, float64(n)), row: row, first: j, last: last, to: 1, r: words[j].r.union(words[last].r)}
	if j > 1 && isTimes(words[j-1].text) {
		if f, err := strconv.ParseFloat(foldString(words[j-2].text), 64); err == nil {
			t.value, t.first = t.value*f, j-2
		}
	}
	t.measure(words, last, "", 0)
	return t, true
}

// spacedThousands joins groups of three digits that follow a number closely.
func spacedThousands(words []cellWord, j int) ([]cellWord, bool) {
	if !leadGroup().MatchString(foldString(words[j].text)) {
		return nil, false
	}
	k, w := j+1, words[j]
	for k < len(words) && len(words[k].text) == 3 && digits(words[k].text) && words[k].r.x0-words[k-1].r.x1 < 0.5*emOf(words[k].size) {
		w.text, w.r = w.text+words[k].text, w.r.union(words[k].r)
		k++
	}
	if k == j+1 {
		return nil, false
	}
	return append(append(words[:j:j], w), words[k:]...), true
}

var leadGroup = pattern(`^[-+]?[1-9][0-9]{0,2}$`)

// wordTokens reads the numbers of one word. A number must not follow a letter,
// a digit or a point: "33" holds no 3, "R3" no 3 and "3.3" no second 3.
func wordTokens(words []cellWord, rowIndex, j int) []token {
	s := foldString(words[j].text)
	var out []token
	prev := rune(' ')
	for at := 0; at < len(s); {
		c := s[at]
		if c < '0' || c > '9' {
			if c == '.' && at+1 < len(s) && s[at+1] >= '0' && s[at+1] <= '9' && prev != '.' && !unicode.IsDigit(prev) &&
				!unicode.IsLetter(prev) {
				// ".5" is read as 0.5, behind dots that lead to it as 5
			} else {
				r, n := utf8.DecodeRuneInString(s[at:])
				prev = r
				at += n
				continue
			}
		}
		text, lead := s[at:], 0
		if c == '.' {
			text, lead = "0"+text, 1
		}
		v, n, ok := numeral(text)
		n -= lead
		if n <= 0 {
			n = 1
		}
		if ok && !unicode.IsLetter(prev) && prev != '_' && !(prev == '.' && at >= 2 && isDigit(s[at-2])) {
			t := token{value: v, row: rowIndex, first: j, last: j}
			t.sign(words, j, s, at)
			t.measure(words, j, s, at+n)
			w := words[j].r
			t.from, t.to = float64(at)/float64(len(s)), float64(at+n)/float64(len(s))
			t.r = rect{w.x0 + t.from*(w.x1-w.x0), w.y0, w.x0 + t.to*(w.x1-w.x0), w.y1}
			out = append(out, t)
		}
		at += n
		prev = rune(s[at-1])
	}
	return out
}

func isDigit(c byte) bool { return c >= '0' && c <= '9' }

// sign reads what stands before the number at byte at of word j.
func (t *token) sign(words []cellWord, j int, s string, at int) {
	before := s[:at]
	alone := false
	if before == "" && j > 0 {
		before, alone = foldString(words[j-1].text), true
		before = before[strings.LastIndexByte(before, '.')+1:]        // behind leader dots
		if before == "" || strings.Trim(before, "+-±/\uFFFD") != "" { // not a sign on its own
			return
		}
	}
	switch {
	case hasUnnamed(before): // it may have been a minus
		t.either = true
	case strings.HasSuffix(before, "±"), strings.HasSuffix(before, "+/-"), strings.HasSuffix(before, "-/+"):
		t.either, t.both = true, true
	case strings.HasSuffix(before, "-"):
		head := strings.TrimSuffix(before, "-")
		operand := head != "" && (isDigit(head[len(head)-1]) || endsInLetter(head) || strings.HasSuffix(head, ")") ||
			strings.HasSuffix(head, "%"))
		switch {
		case alone:
			t.either, t.value = true, -t.value
		case !operand:
			t.value = -t.value
		case endsInLetter(head): // VDD-0.3: an operator, but -0.3 is how a fact may put it
			t.either = true
		}
	}
}

func endsInLetter(s string) bool {
	r := []rune(s)
	return len(r) > 0 && unicode.IsLetter(r[len(r)-1])
}

// measure reads the unit behind the number that ends at byte end of word j.
func (t *token) measure(words []cellWord, j int, s string, end int) {
	rest := s[end:]
	stop := strings.IndexAny(rest, "-~,;<>=±+") // 2.7V-5.5V, 25mA,
	glued := rest
	if stop >= 0 {
		glued = rest[:stop]
	}
	glued = cutEllipsis(glued)
	if strings.Trim(glued, ").]") != "" {
		if m, ok := unitWord(glued); ok {
			t.unit, t.sure = m, true
		}
		if stop < 0 { // "25°" "C", "10µ" "A"
			t.joinNext(words, j, glued)
		}
		return
	}
	if stop >= 0 || j+1 >= len(words) || strings.ContainsAny(rest, ";,") {
		return
	}
	next := words[j+1]
	if next.r.x0-words[j].r.x1 > 1.2*emOf(words[j].size, next.size) {
		return
	}
	text := next.text
	if k := strings.IndexAny(foldString(text), "-~±<>="); k > 0 && foldString(text) == text {
		text = text[:k]
	}
	if m, ok := unitWord(cutEllipsis(text)); ok {
		t.unit, t.sure, t.last = m, true, j+1
	}
	t.joinNext(words, j+1, text)
}

// joinNext tries a unit that a blank has split, as "µ A" or "° C".
func (t *token) joinNext(words []cellWord, j int, head string) {
	if j+1 >= len(words) || words[j+1].r.x0-words[j].r.x1 > 0.5*emOf(words[j].size) || len([]rune(head)) > 2 {
		return
	}
	if m, ok := unitWord(head + words[j+1].text); ok {
		t.unit, t.sure, t.last = m, true, j+1
	}
}

func cutEllipsis(s string) string {
	if i := strings.Index(s, ".."); i >= 0 {
		return s[:i]
	}
	return s
}
