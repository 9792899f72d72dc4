package notebook

import (
	"cmp"
	"fmt"
	"regexp"
	"strings"
	"unicode/utf8"

	"guardband/units"
)

// This file reads definitions:
//
//	[section] NAME[(pins)] = value [ref NAME = value] [at conditions] [cite]... [unconfirmed]

var sectionWords = []string{"operating", "absmax", "spec"}

// equalsAt is the offset of the first "=" outside quotes that is no part of a
// comparison; -1 for none.
func equalsAt(s string) int {
	for i, c := range unquoted(s) {
		if c == '=' && !(i > 0 && strings.IndexByte("<>!=", s[i-1]) >= 0) && !strings.HasPrefix(s[i+1:], "=") {
			return i
		}
	}
	return -1
}

// definition reads a definition; false means that it cannot be kept.
func (r *reader) definition(e *Entry) bool {
	eq := equalsAt(e.Text.S)
	lhs := e.Text.Slice(0, eq).Trim()
	ok := r.leftSide(e, lhs)
	r.rightSide(e, e.Text.Slice(eq+1, len(e.Text.S)).Trim())
	if e.RHS.Empty() {
		r.errorAt("value-missing", e.Text, eq, eq+1, "missing value after \"=\"", "")
		return false
	}
	return ok
}

// leftSide reads section word, name and pins.
func (r *reader) leftSide(e *Entry, lhs Text) bool {
	s := lhs.S
	for _, w := range sectionWords {
		if strings.HasPrefix(s, w) && len(s) > len(w) && isBlank(s[len(w)]) {
			e.Section = w
			lhs = lhs.Slice(len(w), len(s)).Trim()
			break
		}
	}
	name := lhs
	if k := strings.IndexByte(lhs.S, '('); k >= 0 && !r.spec.paths {
		name = lhs.Slice(0, k)
		r.selectors(e, lhs.Slice(k, len(lhs.S)))
	}
	if k := strings.IndexAny(name.S, " \t"); k >= 0 && name.Trim().S == name.S {
		word := name.S[:k]
		hint := "write one name left of \"=\""
		if r.spec.sections {
			hint = cmp.Or(meant(word, sectionWords), "the section words are operating, absmax and spec")
		}
		r.errorAt("section-unknown", name, 0, k, fmt.Sprintf("%q is not a section word", units.Clip(word)), hint)
		return false
	}
	e.NameText = name.Trim()
	var ok bool
	if r.spec.paths {
		e.Name, ok = r.path(e.NameText)
	} else {
		e.Name, ok = r.name(e.NameText, "the name")
	}
	switch {
	case e.Section != "" && !r.spec.sections:
		r.errorAt("section-here", e.Text, 0, len(e.Section), fmt.Sprintf("%q belongs to the facts of a part",
			e.Section), "in "+r.spec.kind+" write the name alone left of \"=\"")
	case e.Section == "" && r.spec.sections && ok:
		r.errorAt("section-missing", e.NameText, 0, len(e.NameText.S), "a fact starts with its section",
			"write \"spec "+e.Name+" = ...\", or operating, or absmax")
	}
	return ok
}

// path reads the name of a reading: a name, or a path such as U1.V_OUT.
func (r *reader) path(t Text) (string, bool) {
	if strings.HasPrefix(t.S, "net(") && strings.HasSuffix(t.S, ")") {
		return t.S, true
	}
	dot := strings.IndexByte(t.S, '.')
	if dot < 0 {
		return r.name(t, "the name")
	}
	head, ok := r.name(t.Slice(0, dot), "the name")
	return head + units.FoldName(t.S[dot:]), ok
}

// selectors reads the pins in parentheses after a name.
func (r *reader) selectors(e *Entry, t Text) {
	if t.S[len(t.S)-1] != ')' {
		r.errorAt("pins-open", t, 0, 1, "the parenthesis after the name is not closed", "write NAME(PIN, PIN) = ...")
		return
	}
	inner := t.Slice(1, len(t.S)-1)
	for _, u := range inner.List() {
		s := unquote(u.S)
		if strings.ContainsAny(u.S, " \t") && s == u.S {
			r.errorAt("pins-bad", u, 0, len(u.S), "separate pins with commas", "")
			continue
		}
		if k := strings.IndexByte(s, '*'); s == u.S && k >= 0 && k != len(s)-1 {
			r.errorAt("pins-bad", u, k, k+1, "a star is allowed only at the end of a group of pins", "")
			continue
		}
		e.Selectors = append(e.Selectors, units.FoldName(s))
	}
	if inner.Empty() {
		r.errorAt("pins-bad", t, 0, len(t.S), "missing pin in the parentheses", "")
	}
}

// unquote takes off a pair of straight or curly quotes.
func unquote(s string) string {
	switch {
	case len(s) >= 2 && s[0] == '"' && s[len(s)-1] == '"':
		return s[1 : len(s)-1]
	case strings.HasPrefix(s, "“") && strings.HasSuffix(s, "”"):
		return strings.TrimSuffix(strings.TrimPrefix(s, "“"), "”")
	}
	return s
}

// rightSide parts the right-hand side into value, reference point,
// conditions, citations and the mark "unconfirmed".
func (r *reader) rightSide(e *Entry, t Text) {
	marks := findMarks(t.S, true)
	from, kind := 0, valuePart
	for k := 0; k <= len(marks); k++ {
		next := mark{at: len(t.S), end: len(t.S)}
		if k < len(marks) {
			next = marks[k]
		}
		piece := t.Slice(min(from, next.at), next.at).Trim()
		r.part(e, kind, piece)
		from, kind = next.end, next.part
		if kind == citePart && k < len(marks) {
			c, end := r.cite(t, next.at)
			if c != nil {
				e.Cites = append(e.Cites, *c)
			}
			from, kind = end, afterCite
			for k+1 < len(marks) && marks[k+1].at < end {
				k++
			}
		}
	}
}

// part stores one piece of a right-hand side.
func (r *reader) part(e *Entry, kind partKind, piece Text) {
	switch kind {
	case valuePart:
		e.RHS = piece
		if k := equalsAt(piece.S); k >= 0 {
			r.errorAt("def-parted", piece, k, k+1, "a second \"=\" in one definition",
				"a line that is indented continues the one above; start each definition at the left edge")
		}
	case condPart:
		if e.Conds != nil {
			r.errorAt("cond-twice", piece, 0, len(piece.S), "duplicate \"at\"", "separate conditions with semicolons")
		}
		e.Conds = append(e.Conds, r.conditions(piece, nil)...)
	case refPart:
		r.refPoint(e, piece)
	case unconfirmedPart:
		e.Unconfirmed = true
		fallthrough
	case afterCite:
		if !piece.Empty() {
			r.errorAt("cite-after", piece, 0, len(piece.S), "unexpected text after the citation",
				"the value comes first, then \"at\" and conditions, then citations")
		}
	}
}

func (r *reader) refPoint(e *Entry, piece Text) {
	eq := strings.IndexByte(piece.S, '=')
	if name, ok := r.name(piece.Slice(0, eq).Trim(), "the name after \"ref\""); ok {
		e.RefName, e.RefValue = name, piece.Slice(eq+1, len(piece.S)).Trim()
		if e.RefValue.Empty() {
			r.errorAt("value-missing", piece, 0, len(piece.S), "the reference point has no value", "write ref T = 20 °C")
		}
	}
}

// conditions reads "name = value; name <= value; "flag""; of a placement the
// roles of its pins too.
func (r *reader) conditions(t Text, of *Placement) []Cond {
	var out []Cond
	for _, u := range splitAt(t, ';') {
		u = u.Trim()
		if u.S == "" {
			if t.S == "" {
				r.errorAt("cond-missing", t, 0, 0, "missing condition after \"at\"", "write at I_OUT = 1 mA")
			}
			continue
		}
		if of != nil && r.role(of, u) {
			continue
		}
		if c, ok := r.condition(u); ok {
			out = append(out, c)
		}
	}
	return out
}

// plainSymbols are symbols of conditions as some sheets print them, without the
// underscore of the others.
var plainSymbols = map[string]string{"TA": "T_A", "TJ": "T_J", "VGS": "V_GS", "VDS": "V_DS", "VCE": "V_CE", "ID": "I_D", "IC": "I_C",
	"IB": "I_B", "IF": "I_F", "IOL": "I_OL", "IOH": "I_OH"}

func (r *reader) condition(u Text) (Cond, bool) {
	c := Cond{Text: u}
	if flag := unquote(u.S); flag != u.S {
		c.Flag = flag
		return c, true
	}
	op, at, width := operatorAt(u.S)
	if at < 0 {
		r.errorAt("cond-name", u, 0, len(u.S), "a condition needs a name", "write "+condExample(u.S)+
			", or quote what is not a quantity: at \"no load\"")
		return c, false
	}
	left := u.Slice(0, at).Trim()
	if first, _ := utf8.DecodeRuneInString(left.S); left.S != "" && (first >= '0' && first <= '9' || first == '-' || first == '±') {
		r.errorAt("cond-name", u, 0, len(left.S), "a condition starts with a name", "write the range right of it: I_OUT = 1 mA to 150 mA")
		return c, false
	}
	name, ok := "", false
	if r.spec.paths {
		name, ok = r.path(left)
	} else {
		name, ok = r.name(left, "the name of the condition")
	}
	if !ok {
		return c, false
	}
	c.Name, c.NameText, c.Op = name, left, op
	if full, ok := plainSymbols[name]; ok {
		c.Name = full
	}
	c.Value = u.Slice(at+width, len(u.S)).Trim()
	switch {
	case op == "<" || op == ">" || op == "==" || op == "!=":
		r.errorAt("cond-op", u, at, at+width, fmt.Sprintf("a condition takes =, <= or >=, not %s", op), "")
		return c, false
	case c.Value.Empty():
		r.errorAt("value-missing", u, at, at+width, "the condition has no value", "")
		return c, false
	}
	if k := equalsAt(c.Value.S); k >= 0 {
		r.errorAt("cond-parted", c.Value, k, k+1, "a second condition begins before this", "separate conditions with semicolons")
		return c, false
	}
	return c, true
}

func condExample(s string) string {
	if strings.Contains(s, "°") || strings.HasSuffix(s, "degC") {
		return "T_A = " + s
	}
	if strings.HasSuffix(s, "A") {
		return "I_OUT = " + s
	}
	return "NAME = " + s
}

var relation = regexp.MustCompile(`[=<>!]=|[=<>≤≥]`)

// operatorAt finds the first relation in a condition, with ≤ and ≥ folded.
func operatorAt(s string) (op string, at, width int) {
	m := relation.FindStringIndex(s)
	if m == nil {
		return "", -1, 0
	}
	op = s[m[0]:m[1]]
	if folded := map[string]string{"≤": "<=", "≥": ">="}[op]; folded != "" {
		op = folded
	}
	return op, m[0], m[1] - m[0]
}
