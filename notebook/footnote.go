package notebook

import (
	"fmt"
	"strings"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/extension"
	east "github.com/yuin/goldmark/extension/ast"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/text"
	"github.com/yuin/goldmark/util"

	"guardband/units"
)

// This file watches over footnotes: goldmark drops notes that nobody refers
// to, with all that stands in them, and leaves references to missing notes as
// text, both in silence.

var notesKey = parser.NewContextKey() // map[string]bool: labels of the notes

// footnoteOptions are goldmark's footnotes with our watch.
func footnoteOptions() []parser.Option {
	return []parser.Option{
		parser.WithBlockParsers(util.Prioritized(noteParser{extension.NewFootnoteBlockParser()}, 999)),
		parser.WithInlineParsers(util.Prioritized(extension.NewFootnoteParser(), 101)),
		parser.WithASTTransformers(util.Prioritized(unusedNotes{}, 998), util.Prioritized(extension.NewFootnoteASTTransformer(), 999)),
	}
}

// noteParser notes the labels. It refuses notes beyond a number: each
// reference is looked for among all notes in turn.
type noteParser struct{ parser.BlockParser }

func (p noteParser) Open(parent ast.Node, rd text.Reader, pc parser.Context) (ast.Node, parser.State) {
	node, state := p.BlockParser.Open(parent, rd, pc)
	note, ok := node.(*east.Footnote)
	if !ok {
		return node, state
	}
	labels := pc.Get(notesKey).(map[string]bool)
	labels[string(note.Ref)] = true
	if len(labels) == MaxFootnotes+1 {
		r := pc.Get(readerKey).(*reader)
		_, seg := rd.Position()
		r.errorAt("footnote-many", TextAt(r.src, seg.Start, seg.Start), 0, 0, fmt.Sprintf("more than %d footnotes", MaxFootnotes), "")
	}
	if len(labels) > MaxFootnotes {
		return nil, parser.NoChildren
	}
	return node, state
}

// unusedNotes warns of notes without a reference before they are dropped.
type unusedNotes struct{}

func (unusedNotes) Transform(doc *ast.Document, rd text.Reader, pc parser.Context) {
	if len(pc.Get(notesKey).(map[string]bool)) == 0 {
		return
	}
	r := pc.Get(readerKey).(*reader)
	_ = ast.Walk(doc, func(n ast.Node, enter bool) (ast.WalkStatus, error) {
		if note, ok := n.(*east.Footnote); ok {
			if enter && note.Index < 0 {
				r.unusedNote(note)
			}
			return ast.WalkSkipChildren, nil
		}
		if n.Type() == ast.TypeInline {
			return ast.WalkSkipChildren, nil
		}
		return ast.WalkContinue, nil
	})
}

// unusedNote complains of a note that is left out; of one that holds a block
// of ours as an error.
func (r *reader) unusedNote(note *east.Footnote) {
	start := max(0, note.Pos())
	width := len("[^]") + len(note.Ref)
	t := TextAt(r.src, start, min(len(r.src.text), start+width))
	sev, more := Warn, ""
	_ = ast.Walk(note, func(n ast.Node, enter bool) (ast.WalkStatus, error) {
		if f, ok := n.(*ast.FencedCodeBlock); ok && f.Info != nil {
			if word, _ := splitInfo(string(f.Info.Segment.Value(r.src.Data))); specOf(word) != nil {
				sev, more = Err, ", and the "+word+" block in it with it"
			}
		}
		return ast.WalkContinue, nil
	})
	r.at(sev, "footnote-unused", t, 0, len(t.S), "nothing refers to this footnote; it is left out"+more, "write "+
		quote(units.Clip(t.S))+" where it belongs")
}

// missingNote warns of a reference to a note that is not there.
func (r *reader) missingNote(line []byte, seg text.Segment, pc parser.Context) {
	end := strings.IndexByte(string(line[:min(len(line), 80)]), ']')
	if end < 3 || pc.Get(notesKey).(map[string]bool)[string(line[2:end])] || strings.ContainsAny(string(line[2:end]), " \t[") {
		return
	}
	t := TextAt(r.src, seg.Start, seg.Start+end+1)
	r.warnAt("footnote-missing", t, 0, len(t.S), "unknown footnote "+quote(string(line[2:end])), "write it as "+
		quote(t.S+": ...")+" at the start of a line")
}
