package notebook

import (
	"runtime"
	"slices"
	"sync"

	"github.com/yuin/goldmark/ast"
)

// This file reads the entries of blocks beside the prose: what stands in one
// fence depends on no other. Diagnostics are put back in the order of the
// file, so that the number of goroutines changes nothing.

// blockJob is one block whose entries are still to be read.
type blockJob struct {
	spec  *blockSpec
	block *Block
	node  *ast.FencedCodeBlock
	bad   bool         // its fence is complained of
	after int          // how many complaints of the prose come before its own
	count int          // complaints it raised
	found []Diagnostic // and those kept
}

// blockBatch is how many blocks are handed over at a time.
const blockBatch = 64

// blockReaders reads blocks as they are met.
type blockReaders struct {
	main    *reader
	jobs    [][]blockJob // in the order of the file
	queue   chan []blockJob
	wg      sync.WaitGroup
	started int
	mu      sync.Mutex
	fault   any // of a goroutine, raised again where it is waited for
}

// add hands a block over.
func (q *blockReaders) add(j blockJob) {
	last := len(q.jobs) - 1
	if last < 0 || len(q.jobs[last]) == blockBatch {
		if last >= 0 && q.main.onBlock == nil {
			q.send(q.jobs[last])
		}
		q.jobs = append(q.jobs, make([]blockJob, 0, blockBatch))
		last++
	}
	q.jobs[last] = append(q.jobs[last], j)
}

// send passes a full batch to a goroutine, starting one while there are fewer
// than processors.
func (q *blockReaders) send(batch []blockJob) {
	if q.queue == nil {
		q.queue = make(chan []blockJob, 1024)
	}
	if q.started < max(1, runtime.GOMAXPROCS(0)-1) {
		q.started++
		q.wg.Go(q.work)
	}
	q.queue <- batch
}

func (q *blockReaders) work() {
	defer func() {
		if x := recover(); x != nil {
			q.mu.Lock()
			defer q.mu.Unlock()
			q.fault = x
			for range q.queue { // whoever sends must not wait
			}
		}
	}()
	r := q.reader()
	for batch := range q.queue {
		r.readBlocks(batch)
	}
}

// reader makes a reader of blocks for one goroutine.
func (q *blockReaders) reader() *reader {
	r := newReader(q.main.src)
	r.onBlock = q.main.onBlock
	if q.main.ahead != nil {
		r.tell = q.main.ahead()
	}
	return r
}

// finish reads what is left and puts all complaints in order.
func (q *blockReaders) finish() {
	r := q.reader()
	left := q.jobs
	if q.queue != nil {
		close(q.queue)
		for batch := range q.queue { // beside the others, in rising order
			r.readBlocks(batch)
		}
		left = left[len(left)-1:]
	}
	for _, batch := range left {
		r.readBlocks(batch)
	}
	q.wg.Wait()
	if q.fault != nil {
		panic(q.fault)
	}
	q.merge()
}

// readBlocks reads blocks one after another. A reader is given blocks in the
// order of the file, so what it drops past its bound is past that of the file.
func (r *reader) readBlocks(batch []blockJob) {
	for i := range batch {
		j := &batch[i]
		before, kept := r.count, len(r.diags.list)
		r.spec, r.block = j.spec, j.block
		lines := r.raw[:0]
		for k := range j.node.Lines().Len() {
			seg := j.node.Lines().At(k)
			lines = append(lines, newRawLine(r.src.text, seg.Start, seg.Stop, seg.Padding))
		}
		r.raw = lines
		j.block.Lines = blockText(r.src.text, lines)
		r.entries(lines)
		j.count, j.found = r.count-before, r.diags.list[kept:len(r.diags.list):len(r.diags.list)]
		if r.tell != nil {
			j.block.Ahead = r.tell(j.block)
		}
		if r.onBlock != nil {
			r.onBlock(j.block, lines, !j.bad && !slices.ContainsFunc(j.found, isError) && r.count <= MaxDiagnostics)
		}
	}
}

// merge puts the complaints of blocks among those of the prose.
func (q *blockReaders) merge() {
	r := q.main
	raised := 0
	for _, batch := range q.jobs {
		for i := range batch {
			raised += batch[i].count
		}
	}
	if raised == 0 {
		return
	}
	prose := r.diags.list
	var list []Diagnostic
	at := 0
	for _, batch := range q.jobs {
		for i := range batch {
			j := &batch[i]
			list = append(append(list, prose[at:j.after]...), j.found...)
			at = j.after
		}
	}
	list = append(list, prose[at:]...)
	r.count += raised
	r.diags.list = list[:min(len(list), MaxDiagnostics)]
}

func isError(d Diagnostic) bool { return d.Severity == Err }
