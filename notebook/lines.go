package notebook

import (
	"iter"
	"strings"
)

// This file turns the lines of a block into logical entries: indentation,
// comments and continuation lines.

// rawLine is one line of a block without its line end. pad counts blanks that
// stand before it but not in the file (a tab partly eaten by a list).
type rawLine struct {
	off, end, pad int
	indent        int // columns before the first character; tabs go to the next multiple of four
	start         int // offset of the first character that is no blank; end for a blank line
}

func newRawLine(text string, off, end, pad int) rawLine {
	if end > off && text[end-1] == '\n' {
		end--
	}
	if end > off && text[end-1] == '\r' {
		end--
	}
	l := rawLine{off: off, end: end, pad: pad, indent: pad, start: off}
	for ; l.start < end; l.start++ {
		if text[l.start] == '\t' {
			l.indent += 4 - l.indent%4
		} else if text[l.start] == ' ' {
			l.indent++
		} else {
			return l
		}
	}
	return l
}

func (l rawLine) blank() bool { return l.start == l.end }

// comment says that the whole line is a comment. Inside prose, "#12" on an
// indented line is text.
func (l rawLine) comment(text string, common int, prose bool) bool {
	if l.blank() || text[l.start] != '#' {
		return false
	}
	return !prose || l.indent == common || l.start+1 == l.end || isBlank(text[l.start+1])
}

// entries reads all lines of the current block.
func (r *reader) entries(lines []rawLine) {
	common := commonIndent(lines)
	clear(r.seen)
	for i := 0; i < len(lines); {
		l := lines[i]
		if l.blank() || l.comment(r.src.text, common, false) {
			i++
			continue
		}
		if l.indent > common {
			r.errorAt("line-indent", TextAt(r.src, l.start, l.end), 0, l.end-l.start,
				"this line is indented, but there is no entry above it to continue", "start it at the left edge of the block")
		}
		j := i + 1
		last := j
		for ; j < len(lines); j++ {
			if n := lines[j]; n.blank() || n.comment(r.src.text, common, false) {
				continue
			} else if n.indent <= common {
				break
			}
			last = j + 1
		}
		r.entry(lines[i:last], common)
		i = last
	}
	r.finishBlock()
}

// commonIndent is what all lines of a block are indented by; -1 where all are
// blank.
func commonIndent(lines []rawLine) int {
	common := -1
	for _, l := range lines {
		if !l.blank() && (common < 0 || l.indent < common) {
			common = l.indent
		}
	}
	return common
}

// quoteEnd is the offset behind the closing mark of the quote that opens at
// s[i]; -1 where it is not closed, and i where none opens there.
func quoteEnd(s string, i int) int {
	for _, q := range [2][2]string{{`"`, `"`}, {"“", "”"}} {
		if rest, opens := strings.CutPrefix(s[i:], q[0]); opens {
			if k := strings.Index(rest, q[1]); k >= 0 {
				return i + len(q[0]) + k + len(q[1])
			}
			return -1
		}
	}
	return i
}

// unquoted are the bytes of s outside closed quotes, each with its place.
func unquoted(s string) iter.Seq2[int, byte] {
	return func(yield func(int, byte) bool) {
		for i := 0; i < len(s); i++ {
			if k := quoteEnd(s, i); k > i {
				i = k - 1
			} else if !yield(i, s[i]) {
				return
			}
		}
	}
}

// joiner builds the text of an entry from its lines.
type joiner struct {
	r       *reader
	prose   bool
	depth   int // open brackets
	inQuote byte
}

// join cuts comments, trims each line and joins them with one blank.
func (r *reader) join(lines []rawLine, common int, prose bool) Text {
	j := joiner{r: r, prose: prose}
	text := r.src.text
	end := j.cut(lines[0].start, lines[0].end)
	t := TextAt(r.src, lines[0].start, end)
	if len(lines) == 1 {
		return t
	}
	var b strings.Builder
	b.WriteString(t.S)
	for _, l := range lines[1:] {
		if l.blank() || l.comment(text, common, prose) {
			continue
		}
		end := j.cut(l.start, l.end)
		if end == l.start {
			continue
		}
		b.WriteByte(' ')
		t.more = append(t.more, segment{b.Len(), l.start})
		b.WriteString(text[l.start:end])
	}
	t.S = b.String()
	return t
}

// cut gives the end of a line without its comment and trailing blanks.
// Quotes and brackets may go on over several lines of one entry.
func (j *joiner) cut(start, end int) int {
	text := j.r.src.text
	if !j.prose {
		if stop := j.commentAt(text[start:end]); stop >= 0 {
			end = start + stop
		}
	}
	for end > start && isBlank(text[end-1]) {
		end--
	}
	return end
}

// commentAt is the offset of the "#" that begins a comment in a line; -1 for
// none.
func (j *joiner) commentAt(s string) int {
	for i := 0; i < len(s); i++ {
		c := s[i]
		if j.inQuote != 0 {
			if c == j.inQuote && (c == '"' || strings.HasPrefix(s[i:], "”")) {
				j.inQuote = 0
			}
			continue
		}
		switch c {
		case '"':
			j.inQuote = '"'
		case 0xE2:
			if strings.HasPrefix(s[i:], "“") {
				j.inQuote = 0xE2
				i += 2
			}
		case '(', '[':
			j.depth++
		case ')', ']':
			j.depth--
		case '#':
			if j.depth <= 0 && (i == 0 || isBlank(s[i-1])) {
				return i
			}
		}
	}
	return -1
}

// splitAt splits a text at a byte outside quotes and brackets.
func splitAt(t Text, sep byte) []Text {
	var out []Text
	from, depth := 0, 0
	for i, c := range unquoted(t.S) {
		switch {
		case c == '(' || c == '[' || c == '{':
			depth++
		case c == ')' || c == ']' || c == '}':
			depth = max(0, depth-1)
		case c == sep && depth == 0:
			out = append(out, t.Slice(from, i))
			from = i + 1
		}
	}
	return append(out, t.Slice(from, len(t.S)))
}
