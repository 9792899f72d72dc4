package notebook

import (
	"fmt"
	"maps"
	"slices"
	"strings"
)

// This file reads groups of rows and what all rows have in common.

// rowGroup reads a label whose rows stand indented below it.
func (r *reader) rowGroup(e *Entry, l *label, colon int, lines []rawLine, common int) {
	first := lines[0]
	first.off = first.start + colon + 1
	head := newRawLine(r.src.text, first.off, first.end, 0)
	e.Text = TextAt(r.src, lines[0].start, lines[0].start+colon+1)
	e.Kind = RowGroup
	r.block.Entries = append(r.block.Entries, e)
	if !head.blank() && r.src.text[head.start] != '#' {
		if l.rows == pinRows || l.rows == needRows {
			text := r.join(lines, common, l.prose)
			if v := text.Slice(colon+1, len(text.S)).Trim(); v.S == "none" || strings.HasPrefix(v.S, "none ") {
				e.Kind, e.Text, e.Value = Attribute, text, v // "application: none [p.3]": the sheet has no such section
				e.Value = r.tail(e, e.Value, l.formula)
				return
			}
			r.errorAt("rows-here", TextAt(r.src, head.start, head.end), 0, head.end-head.start,
				fmt.Sprintf("put rows on indented lines below %q", l.name+":"), "indent them; `"+l.name+": none` where the sheet has none")
			return
		}
		e.Kind = Attribute
		e.Text = r.join(lines, common, l.prose)
		e.Value = e.Text.Slice(colon+1, len(e.Text.S)).Trim()
		return
	}
	r.rowLines(e, l, lines[1:], common)
	if len(e.Rows) == 0 && len(lines) == 1 {
		r.errorAt("rows-none", e.Text, 0, len(e.Text.S), fmt.Sprintf("no rows below %q", l.name+":"), "indent the rows")
	}
}

// rowLines reads the rows of a group; deeper lines continue a row.
func (r *reader) rowLines(e *Entry, l *label, lines []rawLine, common int) {
	for i := 0; i < len(lines); {
		if lines[i].blank() || lines[i].comment(r.src.text, common, false) {
			i++
			continue
		}
		base := lines[i].indent
		j := i + 1
		last := j
		for ; j < len(lines); j++ {
			if n := lines[j]; n.blank() || n.comment(r.src.text, common, false) {
				continue
			} else if n.indent <= base {
				break
			}
			last = j + 1
		}
		row := &Entry{}
		row.Kind, row.Label, row.Text = Row, l.name, r.join(lines[i:last], common, l.prose)
		row.Lines = r.linesOf(lines[i:last])
		if r.row(row, l.rows) {
			e.Rows = append(e.Rows, row)
		}
		i = last
	}
}

// row reads one row of any kind; false means that it cannot be kept.
func (r *reader) row(e *Entry, rule rowRule) bool {
	if rule == pathRows {
		e.Value = e.Text
		return true
	}
	t := r.tail(e, e.Text, false)
	if t.Empty() {
		r.errorAt("row-empty", e.Text, 0, len(e.Text.S), "empty row", "")
		return false
	}
	switch rule {
	case pinRows:
		return r.pinRow(e, t)
	case needRows:
		return r.needRow(e, t)
	case circuitRows:
		return r.circuitRow(e, t)
	case budgetRows:
		return r.budgetRow(e, t)
	case stateRows:
		return r.stateRow(e, t)
	}
	return false
}

// stateRow reads "NAME: REF STATE, REF STATE, NET = VALUE" under states:. Arg is
// the state, Value the list, Conds the values it gives.
func (r *reader) stateRow(e *Entry, t Text) bool {
	k := strings.IndexByte(t.S, ':')
	if k < 0 {
		r.errorAt("row-state", t, 0, len(t.S), "a state is followed by a colon and what is in it", "write transmit: U1 awake, U8 transmit")
		return false
	}
	e.ArgText = t.Slice(0, k).Trim()
	e.Arg, e.Value = e.ArgText.S, t.Slice(k+1, len(t.S)).Trim()
	for _, u := range e.Value.List() {
		if _, at, _ := operatorAt(u.S); at < 0 {
			continue
		}
		switch c, ok := r.condition(u); {
		case ok && c.Op != "=":
			r.errorAt("state-form", u, 0, len(u.S), "a state gives a net its value with \"=\"", "write V_BAT = -16 V to 0 V")
		case ok:
			e.Conds = append(e.Conds, c)
		}
	}
	return true
}

// word takes the first run without blanks off a text, quotes respected.
func word(t Text) (first, rest Text) {
	t = t.Trim()
	i := 0
	for i < len(t.S) && !isBlank(t.S[i]) {
		if k := quoteEnd(t.S, i); k > i {
			i = k
		} else {
			i++
		}
	}
	return t.Slice(0, i), t.Slice(i, len(t.S)).Trim()
}

// cells splits a row at its gaps: two blanks or more, a tab, or where a
// continuation line begins. A comma at the end of a cell joins it to the next.
func cells(t Text) []Text {
	var out []Text
	joints := t.more
	from := 0
	add := func(end int) {
		u := t.Slice(from, end).Trim()
		if u.S == "" {
			return
		}
		out = append(out, u)
	}
	for i := 0; i < len(t.S); i++ {
		if k := quoteEnd(t.S, i); k > i {
			i = k - 1
			continue
		}
		if !isBlank(t.S[i]) {
			continue
		}
		j := i
		for j < len(t.S) && isBlank(t.S[j]) {
			j++
		}
		for len(joints) > 0 && joints[0].at < j {
			joints = joints[1:]
		}
		gap := j-i > 1 || t.S[i] == '\t' || len(joints) > 0 && joints[0].at == j
		if gap && i > 0 && t.S[i-1] != ',' && (j >= len(t.S) || t.S[j] != ',') {
			add(i)
			from = j
		}
		i = j - 1
	}
	add(len(t.S))
	return out
}

// options splits at commas outside quotes and brackets; a comma before min,
// typ or max goes on with the same quantity.
func (r *reader) options(t Text) []Text {
	var out []Text
	for _, u := range splitAt(t, ',') {
		u = u.Trim()
		first, _, _ := strings.Cut(u.S, " ")
		if n := len(out); n > 0 && slices.Contains(columnWords, first) && startsColumn(out[n-1].S) {
			prev := out[n-1]
			start := t.indexOf(prev)
			out[n-1] = t.Slice(start, t.indexOf(u)+len(u.S))
			continue
		}
		out = append(out, u)
	}
	r.decimalCommas(t)
	kept := out[:0]
	for i, u := range out {
		if u.S == "" && (i > 0 || len(out) > 1) {
			r.errorAt("option-empty", t, 0, len(t.S), "empty option: nothing between two commas, or after the last", "")
			continue
		}
		kept = append(kept, u)
	}
	return kept
}

// indexOf is where in t a piece of it begins.
func (t Text) indexOf(u Text) int {
	off := u.Offset(0)
	for i := 0; i <= len(t.S); i++ {
		if t.Offset(i) == off {
			return i
		}
	}
	return 0
}

// startsColumn says that an option has a min, typ or max column, so that
// another column may follow its comma.
func startsColumn(s string) bool {
	return slices.ContainsFunc(strings.Fields(s), func(w string) bool { return slices.Contains(columnWords, w) })
}

// decimalCommas complains of commas between digits.
func (r *reader) decimalCommas(t Text) {
	for i := 1; i+1 < len(t.S); i++ {
		if t.S[i] == ',' && isDigit(t.S[i-1]) && isDigit(t.S[i+1]) {
			r.errorAt("decimal-comma", t, i, i+1, "use a point, not a comma, as decimal separator", "write a point, or a space after the comma")
		}
	}
}

func isDigit(c byte) bool { return c >= '0' && c <= '9' }

// longest finds the longest run of words at the start of t that a table
// knows; ok is false where there is none.
func longest[V any](t Text, table map[string]V) (v V, rest Text, ok bool) {
	end := 0
	for n := 0; n < 3 && end < len(t.S); n++ {
		k := end
		for k < len(t.S) && isBlank(t.S[k]) {
			k++
		}
		for k < len(t.S) && !isBlank(t.S[k]) && t.S[k] != ',' {
			k++
		}
		if x, found := table[strings.Join(strings.Fields(t.S[:k]), " ")]; found {
			v, rest, ok = x, t.Slice(k, len(t.S)).Trim(), true
		}
		end = k
	}
	return v, rest, ok
}

// tableWords are the words of a table.
func tableWords[V any](table map[string]V) []string { return slices.Collect(maps.Keys(table)) }

// takeFollowing parts off the indented lines that open an attribute of their
// own ("settles:" under a reading); flushFollowing reads them afterwards.
func (r *reader) takeFollowing(lines []rawLine, common int) []rawLine {
	for i := 1; i < len(lines); i++ {
		head, colon := labelHead(r.src.text[lines[i].start:lines[i].end])
		if colon < 0 {
			continue
		}
		if slices.Contains(r.spec.follows, head) {
			r.following = append(r.following, lines[i:])
			return lines[:i]
		}
	}
	return lines
}

func (r *reader) flushFollowing(common int) {
	if len(r.following) == 0 {
		return
	}
	lines := r.following[0]
	r.following = nil
	for i := 0; i < len(lines); {
		j := i + 1
		for ; j < len(lines); j++ {
			if _, colon := labelHead(r.src.text[lines[j].start:lines[j].end]); colon >= 0 {
				break
			}
		}
		if !lines[i].blank() && !lines[i].comment(r.src.text, common, false) {
			r.entry(lines[i:j], common)
		}
		i = j
	}
}
