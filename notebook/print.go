package notebook

import (
	"bufio"
	"fmt"
	"io"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/width"
)

// PrintOptions say how complaints are printed.
type PrintOptions struct {
	Max   int  // how many are shown; 0 = 20, negative = all
	Color bool // ANSI colours (ECMA-48); the words carry the meaning
}

const (
	defaultShown = 20
	tabStop      = 4
	snippetCells = 100 // cells of a line that are shown
	marginCells  = 4
)

// Print writes complaints for a terminal: place, severity, message and code,
// the line with the piece meant underlined, hint and related places. It says
// how many of how many were shown where some were left out.
func Print(w io.Writer, list []Diagnostic, opt PrintOptions) {
	limit := opt.Max
	if limit == 0 {
		limit = defaultShown
	}
	if limit < 0 || limit > len(list) {
		limit = len(list)
	}
	out := bufio.NewWriter(w)
	defer out.Flush()
	p := printer{out, opt.Color}
	for _, d := range list[:limit] {
		p.one(d)
	}
	if limit < len(list) {
		fmt.Fprintf(out, "%d of %d shown\n", limit, len(list))
	}
}

type printer struct {
	w     *bufio.Writer
	color bool
}

func (p printer) paint(code, s string) string {
	if !p.color {
		return s
	}
	return "\x1b[" + code + "m" + s + "\x1b[0m"
}

func (p printer) one(d Diagnostic) {
	hue := "31"
	if d.Severity == Warn {
		hue = "33"
	}
	fmt.Fprintf(p.w, "%s%s: %s [%s]\n", place(d.Pos), p.paint("1;"+hue, string(d.Severity)), Clean(d.Message), d.Code)
	if d.Source != "" {
		line, under := snippet(d.Source, d.Col, d.EndCol)
		fmt.Fprintf(p.w, "    %s\n    %s\n", line, p.paint(hue, under))
	}
	if d.Hint != "" {
		fmt.Fprintf(p.w, "    %s %s\n", p.paint("1", "hint:"), Clean(d.Hint))
	}
	for _, r := range d.Related {
		fmt.Fprintf(p.w, "    %s%s\n", place(r.Pos), Clean(r.Message))
	}
}

func place(p Pos) string {
	switch {
	case p.Line == 0 && p.File == "":
		return ""
	case p.Line == 0:
		return Clean(p.File) + ": "
	}
	return fmt.Sprintf("%s:%d:%d: ", Clean(p.File), p.Line, p.Col)
}

// Clean keeps text from a notebook, or the name of a file, from steering the
// terminal: control characters and marks of direction are replaced.
func Clean(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || unicode.Is(unicode.Bidi_Control, r) {
			return '\uFFFD'
		}
		return r
	}, s)
}

// cells is how many columns of a terminal a rune takes.
func runeCells(r rune) int {
	switch {
	case r < utf8.RuneSelf:
		return 1
	case unicode.In(r, unicode.Mn, unicode.Me, unicode.Cf):
		return 0
	}
	switch width.LookupRune(r).Kind() {
	case width.EastAsianWide, width.EastAsianFullwidth:
		return 2
	}
	return 1
}

// snippet gives the line as shown and the marks below it. Tabs become blanks,
// and of a long line the part round the place is shown. col counts runes from
// 1; end is the column behind the piece, 0 for one rune.
func snippet(line string, col, end int) (shown, under string) {
	if end <= col {
		end = col + 1
	}
	type cell struct {
		s    string
		at   int // first column of the terminal
		wide int
	}
	var cs []cell
	at := 0
	for _, r := range line {
		c := cell{at: at}
		switch {
		case r == '\t':
			c.wide = tabStop - at%tabStop
			c.s = strings.Repeat(" ", c.wide)
		default:
			c.s, c.wide = Clean(string(r)), runeCells(r)
		}
		at += c.wide
		cs = append(cs, c)
	}
	from, to := at, at+1
	if col-1 < len(cs) {
		from = cs[col-1].at
		last := cs[min(end-2, len(cs)-1)]
		to = max(from+1, last.at+last.wide)
	}
	low, high := 0, at
	if at > snippetCells {
		low = max(0, min(from-snippetCells/2, at-snippetCells))
		high = low + snippetCells
	}
	var b strings.Builder
	shift := -1
	for _, c := range cs {
		if c.at >= low && c.at+c.wide <= high {
			if shift < 0 {
				shift = c.at
				if low > 0 {
					b.WriteString("…")
					shift--
				}
			}
			b.WriteString(c.s)
		}
	}
	shift = max(shift, 0)
	if low > 0 && shift == 0 {
		shift = low
	}
	if high < at {
		b.WriteString("…")
		to = min(to, high)
	}
	return b.String(), strings.Repeat(" ", max(0, from-shift)) + strings.Repeat("^", max(1, to-from))
}
