package notebook

import "strings"

// This file reads the commonest prose there is, a line of plain words between
// two fences, without Markdown: nothing in it could mean anything else.

// plainBytes are the characters that mark nothing wherever they stand.
var plainBytes = func() (t [256]bool) {
	for c := range t {
		t[c] = c >= 0x80 || c >= '0' && c <= '9' || c|0x20 >= 'a' && c|0x20 <= 'z' || strings.IndexByte(" ,.;:()%'\"/?=+", byte(c)) >= 0
	}
	return t
}()

// sentence gives the one line of plain words that a piece consists of, with
// empty lines round it; false where Markdown must read it.
func sentence(s *Source, p piece) (Text, bool) {
	from, to := int(p.start), int(p.end)
	for from < to && (s.text[from] == '\n' || s.text[from] == '\r') {
		from++
	}
	for to > from && (s.text[to-1] == '\n' || s.text[to-1] == '\r' || s.text[to-1] == ' ') {
		to--
	}
	if from == to || s.text[from]|0x20 < 'a' || s.text[from]|0x20 > 'z' {
		return Text{}, false
	}
	for i := from; i < to; i++ {
		if !plainBytes[s.text[i]] {
			return Text{}, false
		}
	}
	t := TextAt(s, from, to)
	return t, !strings.Contains(t.S, "://") && !strings.Contains(t.S, "www.")
}

// sentence makes the nodes of such a line.
func (w *worker) sentence(t Text) *Node {
	n := w.newNode(Paragraph, w.cursor.pos(w.src, t.off))
	n.Children = []*Node{w.textNode(t.off, t.S)}
	return n
}
