package notebook

import (
	"bytes"
	"sort"
	"strings"
	"unicode/utf8"
)

// Source is one file as read: its bytes (UTF-8, BOM removed) and line starts.
type Source struct {
	Path   string // as shown in messages: relative to the working folder where that is shorter
	Abs    string // absolute; "" for standard input
	Data   []byte // not to be changed: all texts are pieces of it
	SHA256 string // of the bytes on disk
	text   string // Data as a string
	lines  []int  // byte offset of each line start
}

// NewSource takes off a byte-order mark and indexes the lines of data, which
// must not be changed afterwards. It does not read files.
func NewSource(path, abs string, data []byte) *Source {
	data = bytes.TrimPrefix(data, []byte(byteOrderMark))
	text := string(data)
	s := &Source{Path: path, Abs: abs, Data: data, text: text, lines: make([]int, 1, strings.Count(text, "\n")+1)}
	for at := 0; ; {
		i := strings.IndexByte(text[at:], '\n')
		if i < 0 {
			return s
		}
		at += i + 1
		s.lines = append(s.lines, at)
	}
}

// byteOrderMark is U+FEFF in UTF-8, which some editors write first.
const byteOrderMark = "\xef\xbb\xbf"

// Pos is a place in a file. Line and Col count from 1; Col counts runes.
// The zero Pos means "nowhere".
type Pos struct {
	File   string `json:"file"`
	Line   int    `json:"line"`
	Col    int    `json:"column"`
	Offset int    `json:"-"`
}

// Pos converts a byte offset.
func (s *Source) Pos(off int) Pos {
	off = max(0, min(off, len(s.text)))
	n := s.lineOf(off)
	return Pos{File: s.Path, Line: n + 1, Col: utf8.RuneCountInString(s.text[s.lines[n]:off]) + 1, Offset: off}
}

// lineOf is the index (from 0) of the line that holds a byte offset.
func (s *Source) lineOf(off int) int { return sort.SearchInts(s.lines, off+1) - 1 }

// Lines is the number of lines; a text that ends in a line end has a last,
// empty one.
func (s *Source) Lines() int { return len(s.lines) }

// Line gives the text of line n (from 1) without its line end.
func (s *Source) Line(n int) string {
	if n < 1 || n > len(s.lines) {
		return ""
	}
	end := len(s.text)
	if n < len(s.lines) {
		end = s.lines[n]
	}
	return strings.TrimRight(s.text[s.lines[n-1]:end], "\r\n")
}

// Text is a piece of an entry: its characters after comments are cut and
// continuation lines are joined with one blank, and where each came from.
type Text struct {
	S    string
	Src  *Source
	off  int       // where S starts in Src
	more []segment // further lines, rising by at; nil for a text of one line
}

// segment says that the bytes of Text.S from at on come from Src at off.
type segment struct{ at, off int }

// Pos is the place of byte i of the text; i may be len(S).
func (t Text) Pos(i int) Pos {
	if t.Src == nil {
		return Pos{}
	}
	return t.Src.Pos(t.Offset(i))
}

// Offset is the byte offset in the file of byte i of the text.
func (t Text) Offset(i int) int {
	k := sort.Search(len(t.more), func(k int) bool { return t.more[k].at > i }) - 1
	if k < 0 {
		return t.off + i
	}
	return t.more[k].off + i - t.more[k].at
}

// Slice is bytes i to j of the text, with their places.
func (t Text) Slice(i, j int) Text {
	u := Text{S: t.S[i:j], Src: t.Src, off: t.Offset(i)}
	for _, sg := range t.more {
		if sg.at > i && sg.at < j {
			u.more = append(u.more, segment{sg.at - i, sg.off})
		}
	}
	return u
}

// Trim is the text without blanks at its ends.
func (t Text) Trim() Text {
	i := len(t.S) - len(strings.TrimLeft(t.S, blanks))
	return t.Slice(i, max(i, len(strings.TrimRight(t.S, blanks))))
}

// Empty says that there is nothing but blanks.
func (t Text) Empty() bool { return strings.Trim(t.S, blanks) == "" }

// List splits a text at its commas, quotes and brackets respected; blanks
// round an item are trimmed and empty items left out.
func (t Text) List() []Text {
	var out []Text
	for _, u := range splitAt(t, ',') {
		if !u.Empty() {
			out = append(out, u.Trim())
		}
	}
	return out
}

// TextAt makes a text of bytes from off to end of one line of a source.
func TextAt(s *Source, off, end int) Text {
	return Text{S: s.text[off:end], Src: s, off: off}
}

// TextOn makes a text that stands for a line of a source, from 1, and is not
// spelled there: what is worked out from a line of an exported list. All of it
// is placed at the beginning of that line.
func TextOn(s *Source, line int, text string) Text {
	return Text{S: text, Src: s, off: s.lines[max(0, min(line, len(s.lines))-1)]}
}

// RowOf is the row that places a part as an exported list has it on a line.
func RowOf(s *Source, line int, p *Placement) *Entry {
	at := TextOn(s, line, s.Line(line))
	p.RefText, p.PartText = at, at
	return &Entry{Kind: Row, Lines: [2]int32{int32(line), int32(line)}, first: int32(at.off), Text: at, Value: at,
		Placement: p}
}

const blanks = " \t"

func isBlank(c byte) bool { return c == ' ' || c == '\t' }
