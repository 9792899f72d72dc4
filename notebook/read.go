package notebook

import (
	"bytes"
	"fmt"
	"regexp"
	"strings"
	"unicode/utf8"
)

// reader carries the state of reading one notebook.
type reader struct {
	src       *Source
	diags     *Diagnostics
	count     int // complaints so far
	spec      *blockSpec
	block     *Block
	book      *Notebook
	following [][]rawLine                                 // indented attributes of the entry being read
	seen      map[labelKey]*Entry                         // attributes of the block being read
	onBlock   func(b *Block, lines []rawLine, clean bool) // is told of every block, its lines, and whether it has no errors; may be nil
	last      Pos                                         // that place was asked for
}

// Read reads one notebook. Includes are not followed, and nothing is
// evaluated. What could be read is returned beside the complaints; a file that
// is no text gives complaints alone.
func Read(src *Source) (*Notebook, *Diagnostics) {
	r := newReader(src)
	r.read()
	return r.book, r.diags
}

func newReader(src *Source) *reader {
	return &reader{src: src, diags: &Diagnostics{}, seen: map[labelKey]*Entry{}, book: &Notebook{Src: src}}
}

func (r *reader) read() {
	src := r.src
	if r.acceptable() {
		r.markdown()
	}
	if over := r.count - MaxDiagnostics; over > 0 {
		r.diags.Add(Diagnostic{Code: "too-many", Severity: Err, Pos: Pos{File: src.Path, Line: 1, Col: 1}, Source: src.Line(1),
			Message: fmt.Sprintf("%d more complaints in this notebook were left out", over), Hint: "mend the first ones and run again"})
	}
}

// acceptable refuses what is no notebook: too large, no UTF-8, binary.
func (r *reader) acceptable() bool {
	s := r.src
	if len(s.Data) > MaxBytes {
		r.diags.Add(tooLarge(s.Path, int64(len(s.Data))))
		return false
	}
	if bytes.HasPrefix(s.Data, []byte("\xff\xfe")) || bytes.HasPrefix(s.Data, []byte("\xfe\xff")) {
		r.refuse("text-encoding", 0, "the file is UTF-16", "save it as UTF-8")
		return false
	}
	if s.Lines() > MaxLines {
		r.diags.Add(tooLong(s.Path, s.Lines()))
		return false
	}
	ok := true
	if i := strings.IndexByte(s.text, 0); i >= 0 {
		r.refuse("text-nul", i, "NUL byte: not a text file", "a notebook is Markdown in UTF-8")
		ok = false
	}
	if i := invalidUTF8(s.text); i >= 0 {
		r.refuse("text-encoding", i, fmt.Sprintf("byte 0x%02X here is not UTF-8", s.Data[i]), "save the file as UTF-8")
		ok = false
	}
	if i := loneCR(s.text); i >= 0 {
		r.refuse("text-cr", i, "a carriage return without a line feed", "use line ends of LF or CR LF")
		ok = false
	}
	for _, mark := range []string{"\u202a", "\u202b", "\u202d", "\u202e", "\u2066", "\u2067", "\u2068"} {
		if i := strings.Index(s.text, mark); i >= 0 {
			r.refuse("text-hidden", i, fmt.Sprintf("a hidden mark (U+%04X) turns the direction of the text",
				[]rune(mark)[0]), "delete it; numbers would show otherwise than they are read")
			ok = false
		}
	}
	if at := hiddenFence.FindStringSubmatchIndex(s.text); at != nil {
		r.refuse("text-hidden", at[2], "a hidden mark keeps the fence behind it from being read", "delete it")
		ok = false
	}
	return ok
}

// hiddenFence is a mark without width before a fence: the block shows in an editor and is none.
var hiddenFence = regexp.MustCompile("(?m)^[ \t>\u00a0]*([\u00ad\u200b-\u200f\u2060-\u2064\ufeff])[^\\pL\\pN\n]*(?:`{3}|~{3})")

func (r *reader) refuse(code string, off int, message, hint string) {
	r.errorAt(code, TextAt(r.src, off, off), 0, 0, message, hint)
}

func tooLarge(path string, size int64) Diagnostic {
	return Diagnostic{Code: "file-large", Severity: Err, Pos: Pos{File: path, Line: 1, Col: 1},
		Message: fmt.Sprintf("the notebook has %.1f MiB; at most %d MiB are read", float64(size)/(1<<20), MaxBytes>>20),
		Hint:    "split it and use include:"}
}

func tooLong(path string, lines int) Diagnostic {
	return Diagnostic{Code: "file-long", Severity: Err, Pos: Pos{File: path, Line: 1, Col: 1},
		Message: fmt.Sprintf("the design has %d lines up to here; at most %d are read", lines, MaxLines),
		Hint:    "check it as several designs"}
}

// invalidUTF8 is the offset of the first byte that is no UTF-8; -1 for none.
func invalidUTF8(s string) int {
	if utf8.ValidString(s) {
		return -1
	}
	for i := 0; i < len(s); {
		c, w := utf8.DecodeRuneInString(s[i:])
		if c == utf8.RuneError && w == 1 {
			return i
		}
		i += w
	}
	return -1
}

// loneCR is the offset of the first carriage return that no line feed
// follows; -1 for none.
func loneCR(s string) int {
	for at := 0; ; {
		i := strings.IndexByte(s[at:], '\r')
		if i < 0 {
			return -1
		}
		at += i + 1
		if at == len(s) || s[at] != '\n' {
			return at - 1
		}
	}
}

func (r *reader) errorAt(code string, t Text, i, j int, message, hint string, rel ...Related) {
	r.at(Err, code, t, i, j, message, hint, rel...)
}

func (r *reader) warnAt(code string, t Text, i, j int, message, hint string, rel ...Related) {
	r.at(Warn, code, t, i, j, message, hint, rel...)
}

// at keeps a complaint unless the file has raised too many; a file of nothing
// but mistakes must not take memory without bound.
func (r *reader) at(sev Severity, code string, t Text, i, j int, message, hint string, rel ...Related) {
	if r.count++; r.count > MaxDiagnostics {
		return
	}
	r.diags.At(sev, code, t, i, j, message, hint, rel...)
}
