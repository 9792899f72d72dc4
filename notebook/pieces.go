package notebook

import (
	"runtime"
	"sync"
	"sync/atomic"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/text"
	"github.com/yuin/goldmark/util"
)

// This file reads the pieces of a notebook side by side, in batches whose
// bounds and order are those of the file, so that the number of goroutines
// changes nothing.

// batchBytes is how much of the file one batch has, or a little more.
const batchBytes = 32 << 10

// batch is a run of pieces and what was read of them.
type batch struct {
	pieces []piece
	nodes  []*Node
	blocks []*Block
	heads  []*Node
	count  int          // complaints raised
	diags  []Diagnostic // and those kept
}

// batches parts the pieces of a notebook.
func batches(pieces []piece) []batch {
	var out []batch
	from, size := 0, int32(0)
	for i, p := range pieces {
		if size += p.end - p.start; size >= batchBytes || i == len(pieces)-1 {
			out = append(out, batch{pieces: pieces[from : i+1]})
			from, size = i+1, 0
		}
	}
	return out
}

// markdown reads the file and fills the notebook.
func (r *reader) markdown() {
	if r.onBlock != nil { // who is told of blocks is told of each once, in order
		r.take(r.readAll(wholeFile(r.src), newMarkBudget()))
		return
	}
	budget, pieces := newMarkBudget(), cut(r.src)
	all := r.readAll(pieces, budget)
	if len(pieces) > 1 && budget.overspent() { // which paragraphs are refused must not depend on who read first
		all = r.readAll(wholeFile(r.src), newMarkBudget())
	}
	r.take(all)
}

// readAll reads all pieces.
func (r *reader) readAll(pieces []piece, budget *markBudget) []batch {
	all := batches(pieces)
	refs := references(r.src, pieces)
	workers := min(runtime.GOMAXPROCS(0), len(all))
	var next atomic.Int64
	work := func() {
		w := r.worker(budget, refs)
		for i := int(next.Add(1)) - 1; i < len(all); i = int(next.Add(1)) - 1 {
			if len(pieces) > 1 && budget.overspent() {
				return // all is read anew, whole
			}
			w.read(&all[i])
		}
	}
	var fault atomic.Pointer[any]
	var wg sync.WaitGroup
	for range workers - 1 {
		wg.Go(func() {
			defer func() {
				if x := recover(); x != nil {
					fault.CompareAndSwap(nil, &x)
				}
			}()
			work()
		})
	}
	work()
	wg.Wait()
	if x := fault.Load(); x != nil {
		panic(*x)
	}
	return all
}

// take puts together what was read.
func (r *reader) take(all []batch) {
	heads := headingIDs{}
	nodes, blocks := 0, 0
	for i := range all {
		nodes += len(all[i].nodes)
		blocks += len(all[i].blocks)
	}
	r.book.Content, r.book.Blocks = make([]*Node, 0, nodes), make([]*Block, 0, blocks)
	for i := range all {
		b := &all[i]
		r.book.Content = append(r.book.Content, b.nodes...)
		r.book.Blocks = append(r.book.Blocks, b.blocks...)
		for _, h := range b.heads {
			h.trait().ID = heads.next(h)
		}
		r.diags.list = append(r.diags.list, b.diags...)
		r.count += b.count
	}
	r.diags.list = r.diags.list[:min(len(r.diags.list), MaxDiagnostics)]
}

// worker reads batches on one goroutine.
type worker struct {
	*converter
	md parser.Parser
	pc parser.Context
}

func (r *reader) worker(budget *markBudget, refs []parser.Reference) *worker {
	own := newReader(r.src)
	own.onBlock = r.onBlock
	if r.ahead != nil {
		own.tell = r.ahead()
	}
	c := &converter{reader: own, data: r.src.Data, closing: map[ast.Node]int{}}
	pc := parser.NewContext()
	pc.Set(readerKey, own)
	pc.Set(notesKey, map[string]bool{})
	pc.Set(marksKey, budget)
	pc.Set(closingKey, c.closing)
	for _, ref := range refs {
		pc.AddReference(ref)
	}
	return &worker{c, newParser(), pc}
}

func (w *worker) read(b *batch) {
	w.blocks, w.heads, w.count, w.diags.list = nil, nil, 0, nil
	b.nodes = make([]*Node, 0, 2*len(b.pieces))
	for _, p := range b.pieces {
		if p.fenced {
			b.nodes = append(b.nodes, w.fencePiece(p))
			continue
		}
		if util.IsBlank(w.data[p.start:p.end]) {
			continue
		}
		if t, ok := sentence(w.src, p); ok {
			b.nodes = append(b.nodes, w.sentence(t))
			continue
		}
		for n := parsePiece(w.md, w.pc, w.data, p).FirstChild(); n != nil; n = n.NextSibling() {
			b.nodes = w.node(b.nodes, n)
		}
		clear(w.closing)
	}
	b.blocks, b.heads, b.count, b.diags = w.blocks, w.heads, w.count, w.diags.list
}

// parsePiece lets goldmark read what stands between two fences, at its place
// in the file.
func parsePiece(md parser.Parser, pc parser.Context, data []byte, p piece) ast.Node {
	rd := text.NewReader(data[:p.end])
	rd.SetPosition(-1, text.NewSegment(int(p.start), int(p.start)))
	rd.AdvanceLine()
	return md.Parse(rd, parser.WithContext(pc))
}

// references finds the reference links of all pieces: one piece may use what
// another defines. The first definition of a name counts.
func references(src *Source, pieces []piece) []parser.Reference {
	if len(pieces) < 2 {
		return nil
	}
	var pc parser.Context
	var md parser.Parser
	for _, p := range pieces {
		if p.fenced || !mayDefine(src.Data[p.start:p.end]) {
			continue
		}
		if pc == nil { // complaints are made when the piece is read in its turn
			md, pc = newParser(), parser.NewContext()
			pc.Set(readerKey, newReader(src))
			pc.Set(notesKey, map[string]bool{})
			pc.Set(marksKey, newMarkBudget())
			pc.Set(closingKey, map[ast.Node]int{})
		}
		parsePiece(md, pc, src.Data, p)
	}
	if pc == nil {
		return nil
	}
	return pc.References()
}
