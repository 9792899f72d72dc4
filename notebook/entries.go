package notebook

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"guardband/units"
)

// This file tells the kinds of entry apart and reads attributes.

// entry reads one entry: its first line and what continues it.
func (r *reader) entry(lines []rawLine, common int) {
	first := r.src.text[lines[0].start:lines[0].end]
	e := &Entry{}
	e.first = int32(lines[0].start)
	e.Lines = r.linesOf(lines)
	if size := lines[len(lines)-1].end - lines[0].start; size > MaxEntry && !r.hasRowLabel(first) {
		r.errorAt("entry-long", TextAt(r.src, lines[0].start, lines[0].end), 0, 0,
			fmt.Sprintf("an entry of %d bytes; at most %d are read", size, MaxEntry), "")
		return
	}
	head, colon := labelHead(first)
	if colon >= 0 {
		if l, arg := r.findLabel(head); l != nil {
			r.attribute(e, l, arg, colon, lines, common)
			return
		}
		if r.spec.rows == noRows || !rowHead(head) {
			r.unknownLabel(lines[0], head)
			return
		}
	}
	if len(r.spec.follows) > 0 {
		lines = r.takeFollowing(lines, common)
	}
	e.Text = r.join(lines, common, false)
	switch {
	case r.spec.rows != noRows:
		e.Kind = Row
		if r.row(e, r.spec.rows) {
			r.block.Entries = append(r.block.Entries, e)
		}
	case r.spec.defs && equalsAt(e.Text.S) >= 0:
		e.Kind = Definition
		if r.definition(e) {
			r.block.Entries = append(r.block.Entries, e)
		}
	default:
		r.unknownEntry(e.Text)
	}
	r.flushFollowing(common)
}

// linesOf are the numbers of the first line and the last.
func (r *reader) linesOf(lines []rawLine) [2]int32 {
	return [2]int32{int32(r.src.lineOf(lines[0].off)) + 1, int32(r.src.lineOf(lines[len(lines)-1].off)) + 1}
}

func (r *reader) hasRowLabel(first string) bool {
	head, colon := labelHead(first)
	if colon < 0 {
		return false
	}
	l, _ := r.findLabel(head)
	return l != nil && l.rows != noRows
}

// labelHead is what stands before the first colon with a blank or nothing
// behind it, and where that colon is; -1 where the line opens no attribute.
func labelHead(s string) (string, int) {
	for i := 0; i < len(s); i++ {
		switch s[i] {
		case '=', '"', '[', '?':
			return "", -1
		case ':':
			if i+1 == len(s) || isBlank(s[i+1]) {
				return strings.TrimRight(s[:i], " \t"), i
			}
		}
	}
	return "", -1
}

// rowHead says that the text before a colon belongs to a row: it has cells, or
// ends in the words "in use".
func rowHead(head string) bool {
	return strings.Contains(head, "  ") || strings.ContainsRune(head, '\t') || strings.HasSuffix(head, " in use")
}

// findLabel finds the label that a head names, and the argument after it.
func (r *reader) findLabel(head string) (*label, string) {
	if l := r.spec.label(head); l != nil {
		return l, ""
	}
	k := strings.LastIndexAny(head, " \t")
	if k < 0 {
		return nil, ""
	}
	if l := r.spec.label(strings.TrimRight(head[:k], " \t")); l != nil && l.arg != noArg {
		return l, head[k+1:]
	}
	if strings.Contains(head, "  ") || strings.ContainsRune(head, '\t') {
		if l := r.spec.label(strings.Join(strings.Fields(head), " ")); l != nil {
			return l, ""
		}
	}
	return nil, ""
}

func (r *reader) unknownLabel(l rawLine, head string) {
	t := TextAt(r.src, l.start, l.start+len(head))
	first, _, _ := strings.Cut(head, " ")
	hint := cmp.Or(meant(head, r.spec.labelNames()), meant(first, r.spec.labelNames()))
	switch {
	case hint != "":
	case strings.HasPrefix(head, "review") || head == "participants":
		hint = "name people in a `review` block: `participants: A. Tarn (author), K. Sedge (reviewer)`"
	case r.spec.defs:
		hint = "a definition is written with \"=\"; the labels of a " + r.spec.kind + " block are " + strings.Join(r.spec.labelNames(), ", ")
	default:
		hint = "the labels of a " + r.spec.kind + " block are " + strings.Join(r.spec.labelNames(), ", ")
	}
	r.errorAt("label-unknown", t, 0, len(head), fmt.Sprintf("a %s block has no label %q", r.spec.kind, units.Clip(head)), hint)
}

// unknownEntry complains of a line that is no attribute, definition or row.
func (r *reader) unknownEntry(t Text) {
	if k := strings.IndexByte(t.S, ':'); k > 0 {
		if l := r.spec.label(t.S[:k]); l != nil {
			r.errorAt("label-blank", t, k, k+1, "missing space after the colon", fmt.Sprintf("write %q", l.name+": "+units.Clip(t.S[k+1:])))
			return
		}
	}
	first, _, _ := strings.Cut(t.S, " ")
	hint := meant(first, r.spec.labelNames())
	if l := r.spec.label(first); l != nil {
		hint = fmt.Sprintf("write %q", first+": ...")
	}
	what := "neither an attribute (label: text)"
	switch {
	case r.spec.defs:
		what += " nor a definition (NAME = value)"
		if r.spec.sections && hint == "" {
			hint = "indent rows under pins: or application:"
		}
	default:
		what = "no attribute (label: text)"
	}
	if hint == "" {
		hint = "indent it if it continues the line above; the labels of a " + r.spec.kind + " block are " + strings.Join(r.spec.labelNames(), ", ")
	}
	r.errorAt("entry-unknown", t, 0, len(t.S), "this line is "+what, hint)
}

// attribute reads "label ARG: value" and keeps it.
func (r *reader) attribute(e *Entry, l *label, arg string, colon int, lines []rawLine, common int) {
	e.Kind, e.Label = Attribute, l.name
	from := lines[0].start
	if arg != "" {
		end := from + len(strings.TrimRight(r.src.text[from:from+colon], " \t"))
		e.Arg, e.ArgText = units.FoldName(arg), TextAt(r.src, end-len(arg), end)
	}
	r.checkArg(e, l, TextAt(r.src, from, from+colon))
	r.checkRepeat(e, l, TextAt(r.src, from, from+colon))
	if l.rows != noRows {
		r.rowGroup(e, l, colon, lines, common)
		return
	}
	e.Text = r.join(lines, common, l.prose)
	e.Value = e.Text.Slice(min(colon+1, len(e.Text.S)), len(e.Text.S)).Trim()
	switch {
	case l.noCites:
	case l.prose:
		r.proseCites(e)
	default:
		e.Value = r.tail(e, e.Value, l.formula)
	}
	if l.conds {
		e.Conds = r.conditions(e.Value, nil)
	}
	r.checkDates(e.Value, l.dates)
	if e.Value.Empty() {
		r.errorAt("value-missing", e.Text, 0, colon+1, fmt.Sprintf("%q has no value", e.Label), "")
		return
	}
	r.block.Entries = append(r.block.Entries, e)
}

func (r *reader) checkArg(e *Entry, l *label, head Text) {
	switch {
	case l.arg == needArg && e.Arg == "":
		r.errorAt("label-word", head, 0, len(head.S), fmt.Sprintf("missing word between %q and its colon", l.name),
			fmt.Sprintf("write %q", l.name+" "+exampleArg(l.name)+": ..."))
	case l.name == "field" && !IsName(e.Arg):
		r.name(e.ArgText, "the field")
	}
}

func exampleArg(label string) string {
	switch label {
	case "skip", Waiver:
		return "supply-range.U1.VDD"
	case "field":
		return "volts"
	case "requirement":
		return "REQ-06"
	}
	return "A1"
}

// labelKey tells attributes of one block apart.
type labelKey struct{ label, arg string }

// checkRepeat complains of a label that may stand once and stands again, and
// of one argument used twice.
func (r *reader) checkRepeat(e *Entry, l *label, head Text) {
	if l.repeat && e.Arg == "" {
		return
	}
	key := labelKey{e.Label, e.Arg}
	if first := r.seen[key]; first != nil {
		r.errorAt("label-twice", head, 0, len(head.S), fmt.Sprintf("duplicate label %q in this block", units.Clip(head.S)), "keep one of the two",
			Related{Pos: r.src.Pos(int(first.first)), Message: "first here"})
		return
	}
	r.seen[key] = e
}

// finishBlock checks what concerns the block as a whole.
func (r *reader) finishBlock() {
	sourced := func(e *Entry) bool { return e.Label == "source" && e.Kind == Attribute }
	if slices.ContainsFunc(r.block.Entries, sourced) || r.spec.label("source") == nil {
		return
	}
	for _, e := range r.block.Entries {
		r.needSource(e)
		for _, row := range e.Rows {
			r.needSource(row)
		}
	}
}

// needSource complains of citations without a source in a block without one.
func (r *reader) needSource(e *Entry) {
	for _, c := range e.Cites {
		if c.Source == "" && c.Assumed == "" {
			r.errorAt("cite-source", c.Text, 0, len(c.Text.S),
				"the citation names no source, and the block has no source: line", "write [ID "+strings.TrimLeft(c.Text.S, "[")+" or add source: ID")
		}
	}
}
