package main

import (
	"os"
	"runtime"
	"runtime/debug"
)

// Bounds of reserve, in bytes of notebook and of heap.
const (
	reserveFrom     = 256 << 10 // of notebook; below this nothing is gained
	reserveMost     = 2 << 30   // of heap
	collectionMost  = 1 << 30   // of heap; collections beyond keep the memory of a huge design in bounds
	heapPerInput    = 64        // measured: bytes of heap for one of a notebook of claims
	leastHeap       = 4 << 20   // that is collected at 100 percent, in proportion at others (runtime/debug, "A Guide to the Go Garbage Collector")
	ordinaryPercent = 400       // a run is short and most of its records are kept to the end
)

// reserve makes the heap ready for a notebook of size bytes and says whether
// that is large enough to gain by it.
func reserve(size int64) bool {
	if size < reserveFrom {
		return false
	}
	percent := debug.SetGCPercent(-1)
	hugePages(min(heapPerInput*size, reserveMost))
	debug.SetGCPercent(percent)
	if os.Getenv("GOGC") == "" {
		putOff(min(heapPerInput*size, collectionMost), percent)
	}
	return true
}

// putOff lets the heap grow by size bytes more before it is collected for the
// first time, and by percent between collections from then on. Nearly all of a
// notebook is kept to the end, so that early collections find nothing to free.
func putOff(size int64, percent int) {
	first := new([16]byte) // free at once: the first collection finds it
	runtime.AddCleanup(first, func(percent int) { debug.SetGCPercent(percent) }, percent)
	debug.SetGCPercent(percent + int(100*size/leastHeap))
}
