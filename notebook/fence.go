package notebook

import (
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/yuin/goldmark/ast"

	"guardband/units"
)

// fence converts a fenced code block: a Block of a fence of ours, code of any
// other.
func (c *converter) fence(n *ast.FencedCodeBlock) *Node {
	start := c.start(n)
	info := TextAt(c.src, start, start)
	if n.Info != nil {
		info = TextAt(c.src, n.Info.Segment.Start, n.Info.Segment.Stop)
	}
	lines := make([]rawLine, 0, n.Lines().Len())
	for i := range n.Lines().Len() {
		seg := n.Lines().At(i)
		lines = append(lines, newRawLine(c.src.text, seg.Start, seg.Stop, seg.Padding))
	}
	word, rest := splitInfo(info.S)
	spec := specOf(word)
	if spec == nil {
		c.nearMiss(info, word)
		c.overrun(fenceRun(c.src.text[start:]), n.Lines())
		m := &Node{Kind: Code, Pos: c.pos(n)}
		m.Info, m.Text = info.S, blockText(c.src.text, lines)
		return m
	}
	b := &Block{Kind: spec.kind, Src: c.src, Pos: c.place(info.off)}
	before := c.count
	if c.hidden {
		c.warnAt("block-hidden", info, 0, len(word),
			fmt.Sprintf("HTML above hides this %s block on the rendered page; it is judged all the same", word),
			"close that element before the block")
	}
	if _, closed := c.closing[n]; !closed {
		c.errorAt("fence-open", info, 0, len(word), fmt.Sprintf("this %s block is not closed", word),
			"end it with a line of "+quote(c.src.text[start:start+3])+" at the same indentation")
	}
	c.blockID(b, spec, info, word, rest)
	c.readBlock(spec, b, lines, c.count > before)
	c.blocks = append(c.blocks, b)
	m := &Node{Kind: BlockNode, Pos: b.Pos}
	m.Block = b
	return m
}

// readBlock reads the entries of a block; bad says that its fence is
// complained of.
func (r *reader) readBlock(spec *blockSpec, b *Block, lines []rawLine, bad bool) {
	kept := len(r.diags.list)
	r.spec, r.block = spec, b
	b.Lines = blockText(r.src.text, lines)
	r.entries(lines)
	if r.onBlock != nil {
		r.onBlock(b, lines, !bad && !slices.ContainsFunc(r.diags.list[kept:], isError) && r.count <= MaxDiagnostics)
	}
}

func isError(d Diagnostic) bool { return d.Severity == Err }

// splitInfo parts an info string after its first word. Tabs, no-break blanks
// and "{" end a word too.
func splitInfo(info string) (word, rest string) {
	for i, r := range info {
		if r == '{' || unicode.IsSpace(r) {
			return info[:i], info[i:]
		}
	}
	return info, ""
}

// nearMiss warns of a fence word that is one slip away from one of ours.
func (c *converter) nearMiss(info Text, word string) {
	if bare, _, _ := strings.Cut(strings.TrimLeft(info.S, "{. "), " "); word == "" && specOf(strings.Trim(bare, "}")) != nil {
		c.warnAt("fence-word", info, 0, len(info.S), "this block is not read: its word is in braces", "write it without braces")
		return
	}
	if len(word) < 3 || len(word) > 12 || languages[strings.ToLower(word)] {
		return
	}
	for _, s := range blockSpecs {
		if oneEdit(word, s.kind) {
			c.warnAt("fence-word", info, 0, len(word), quote(word)+
				" is not a Guardband block; the fence is left as it is", "did you mean "+quote(s.kind)+"?")
			return
		}
	}
}

// blockID reads what follows the fence word.
func (c *converter) blockID(b *Block, spec *blockSpec, info Text, word, rest string) {
	b.IDText = info.Slice(0, len(word))
	start := len(info.S) - len(strings.TrimLeftFunc(rest, unicode.IsSpace))
	end := len(info.S)
	if k := strings.IndexFunc(info.S[start:], func(r rune) bool { return r == '{' || unicode.IsSpace(r) }); k >= 0 {
		end = start + k
	}
	id := info.Slice(start, end)
	if extra := strings.TrimFunc(info.S[end:], unicode.IsSpace); extra != "" {
		at := strings.Index(info.S[end:], extra) + end
		c.errorAt("fence-info", info, at, at+len(extra), "nothing may follow "+afterWhat(spec, word), "take out "+quote(extra))
	}
	switch {
	case spec.id == noID && id.S != "":
		c.errorAt("fence-info", id, 0, len(id.S), fmt.Sprintf("a %s block takes no ID", word), "take out "+quote(id.S))
	case spec.id == noID:
	case id.S == "":
		c.errorAt("id-missing", info, 0, len(word), fmt.Sprintf("a %s block needs an ID", word), fmt.Sprintf("write %q", word+" "+exampleID(spec)))
	default:
		b.IDText = id
		b.ID = c.checkID(spec, id)
	}
}

func afterWhat(spec *blockSpec, word string) string {
	if spec.id == noID {
		return "the word " + quote(word)
	}
	return "the ID"
}

func exampleID(spec *blockSpec) string {
	switch spec.kind {
	case "budget":
		return "V3V3"
	case "claim":
		return "supply-inside"
	case "part":
		return "LDO30"
	}
	return "first"
}

// checkID checks an ID by its kind's rule and gives its folded form. A wrong
// ID is complained of and kept, so that what refers to it is still found.
func (c *converter) checkID(spec *blockSpec, id Text) string {
	switch spec.id {
	case nameID:
		if s, ok := c.name(id, "the ID"); ok {
			return s
		}
	case dashID:
		if n := dashLen(id.S); n < len(id.S) {
			r, w := utf8.DecodeRuneInString(id.S[n:])
			c.errorAt("id-bad", id, n, n+w, "the ID has "+quote(string(r)), "an ID starts with a letter and has letters, digits, \"_\" and \"-\"")
		} else if spec.kind == "source" && notSources[id.S] {
			c.errorAt("id-bad", id, 0, len(id.S), quote(id.S)+" cannot name a source: brackets use the word otherwise", "")
		}
	}
	return units.FoldName(id.S)
}

// dashLen is the length in bytes of the ID with hyphens at the start of s.
func dashLen(s string) int {
	for i, r := range s {
		if i == 0 && !isNameStart(r) {
			return 0
		}
		if !isNameRune(r) && r != '-' {
			return i
		}
	}
	return len(s)
}

// blockText is the lines as written, without what a list or quote puts
// before them.
func blockText(text string, lines []rawLine) string {
	if len(lines) == 0 {
		return ""
	}
	first, last := lines[0], lines[len(lines)-1]
	size := 0
	for _, l := range lines {
		size += l.pad + l.end - l.off + 1
	}
	// One piece of the file where nothing stands between the lines.
	if last.end+1 <= len(text) && last.end+1-first.off == size && first.pad == 0 {
		return text[first.off : last.end+1]
	}
	var b strings.Builder
	b.Grow(size)
	for _, l := range lines {
		b.WriteString("                "[:min(16, l.pad)])
		b.WriteString(text[l.off:l.end])
		b.WriteByte('\n')
	}
	return b.String()
}
