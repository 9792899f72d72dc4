package notebook

import (
	"bytes"

	"github.com/yuin/goldmark/util"
)

// This file parts a notebook where Markdown surely parts it: at the fences
// that begin at the left edge. Such a fence closes every list, quote and
// paragraph, so that what stands before, in and behind it can be read apart,
// side by side, and its own lines need no Markdown at all. Where a rule of
// Markdown could reach over such a fence (raw HTML, a fence that may or may
// not stand in a list, footnotes) nothing is cut from there on.

// piece is a part of the file: a fence, or what stands between two.
type piece struct {
	start, end int32 // bytes of the file
	fenced     bool

	// of a fence
	closed             bool
	infoStart, infoEnd int32 // its info string; equal for none
	body, bodyEnd      int32 // its lines
}

// wholeFile is a notebook in one piece.
func wholeFile(s *Source) []piece { return []piece{{end: int32(len(s.Data))}} }

// cutter walks over the lines of a notebook.
type cutter struct {
	data   []byte
	lines  []int // starts
	pieces []piece
	gap    int32 // where the piece being gathered starts
}

// cut gives the pieces of a notebook in the order of the file.
func cut(s *Source) []piece {
	fences := bytes.Count(s.Data, []byte("\n```")) / 2
	c := &cutter{data: s.Data, lines: s.lines, pieces: make([]piece, 0, 2*fences+1)}
	for i := 0; i < len(c.lines); {
		next, ok := c.step(i)
		if !ok {
			break
		}
		i = next
	}
	c.flush(int32(len(c.data)))
	for _, p := range c.pieces {
		if !p.fenced && mayDefine(c.data[p.start:p.end]) && bytes.Contains(c.data[p.start:p.end], []byte("[^")) { // footnotes are numbered over the whole file
			return wholeFile(s)
		}
	}
	return c.pieces
}

// mayDefine says that a text may define what others refer to: reference links
// or footnotes.
func mayDefine(text []byte) bool { return bytes.Contains(text, []byte("]:")) }

// line gives the bytes of a line with its line end.
func (c *cutter) line(i int) []byte {
	if i+1 < len(c.lines) {
		return c.data[c.lines[i]:c.lines[i+1]]
	}
	return c.data[c.lines[i]:]
}

// flush ends the gap being gathered at an offset.
func (c *cutter) flush(end int32) {
	if end > c.gap {
		c.pieces = append(c.pieces, piece{start: c.gap, end: end})
	}
	c.gap = end
}

// step takes line i, or the whole fence that begins there, and gives the line
// to go on with; false where the rest of the file must stay in one piece.
func (c *cutter) step(i int) (next int, ok bool) {
	line := c.line(i)
	k := 0
	for k < len(line) && k < 4 && line[k] == ' ' {
		k++
	}
	if k == len(line) || k == 4 {
		return i + 1, true
	}
	switch line[k] {
	case '`', '~':
		p, isFence := c.opens(i, k)
		switch {
		case !isFence:
			return i + 1, true
		case k > 0: // in a list it ends with the list, else not
			return 0, false
		}
		c.flush(p.start)
		next = c.body(&p, i+1)
		c.pieces = append(c.pieces, p)
		c.gap = p.end
		return next, true
	case '<':
		return c.html(i, k)
	}
	return i + 1, true
}

// opens reads the opening line of a fence whose first mark is byte k of it.
func (c *cutter) opens(i, k int) (piece, bool) {
	line, at := c.line(i), c.lines[i]
	n := k
	for n < len(line) && line[n] == line[k] {
		n++
	}
	if n-k < 3 {
		return piece{}, false
	}
	p := piece{start: int32(at), fenced: true, infoStart: int32(at + n), infoEnd: int32(at + n)}
	if n < len(line)-1 {
		rest := line[n:]
		left, right := util.TrimLeftSpaceLength(rest), util.TrimRightSpaceLength(rest)
		if left < len(rest)-right {
			if line[k] == '`' && bytes.IndexByte(rest, '`') >= 0 {
				return piece{}, false
			}
			p.infoStart, p.infoEnd = int32(at+n+left), int32(at+len(line)-right)
		}
	}
	return p, true
}

// body finds the end of a fence from its first line on and gives the line
// behind it.
func (c *cutter) body(p *piece, i int) (next int) {
	size := int32(len(c.data))
	mark, length := c.data[p.start], 0
	for at := int(p.start); at < len(c.data) && c.data[at] == mark; at++ {
		length++
	}
	p.body, p.bodyEnd, p.end = size, size, size
	if i < len(c.lines) {
		p.body = int32(c.lines[i])
	}
	for ; i < len(c.lines); i++ {
		if line := c.line(i); closes(line, mark, length) {
			p.bodyEnd, p.closed = int32(c.lines[i]), true
			p.end = p.bodyEnd + int32(len(line))
			return i + 1
		}
	}
	return i
}

// closes says that a line closes a fence of so many marks.
func closes(line []byte, mark byte, length int) bool {
	k := 0
	for k < len(line) && k < 4 && line[k] == ' ' {
		k++
	}
	n := k
	for n < len(line) && line[n] == mark {
		n++
	}
	return k < 4 && n-k >= length && util.IsBlank(line[n:])
}

// html passes over raw HTML at the start of a line: a comment up to its end, a
// tag up to the next empty line. Other kinds, and fences directly below a tag,
// are left to Markdown with all that follows.
func (c *cutter) html(i, k int) (next int, ok bool) {
	line := c.line(i)
	rest := line[k+1:]
	switch {
	case bytes.HasPrefix(rest, []byte("!--")):
		if k > 0 {
			return 0, false
		}
		for ; i < len(c.lines); i++ {
			if bytes.Contains(c.line(i), []byte("-->")) {
				return i + 1, true
			}
		}
		return 0, false
	case len(rest) == 0 || rest[0] != '/' && !util.IsAlphaNumeric(rest[0]):
		return i + 1, len(rest) == 0 || rest[0] != '!' && rest[0] != '?'
	case verbatimTag(rest):
		return 0, false
	}
	for i++; i < len(c.lines); i++ {
		line := bytes.TrimLeft(c.line(i), " \t")
		if util.IsBlank(line) {
			return i, true
		}
		if line[0] == '`' || line[0] == '~' || bytes.HasPrefix(line, []byte("<!")) || bytes.HasPrefix(line, []byte("<?")) || line[0] == '<' && verbatimTag(line[1:]) {
			return 0, false
		}
	}
	return i, true
}

// verbatimTag says that a tag goes on over empty lines until it is closed.
func verbatimTag(tag []byte) bool {
	for _, name := range []string{"script", "pre", "style", "textarea"} {
		if len(tag) >= len(name) && bytes.EqualFold(tag[:len(name)], []byte(name)) {
			return true
		}
	}
	return false
}
