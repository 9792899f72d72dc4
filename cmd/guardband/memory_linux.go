package main

import (
	"bytes"
	"math/bits"
	"os"
	"runtime"
	"syscall"
)

// Bounds of reserve, in bytes of notebook.
const (
	reserveFrom  = 256 << 10 // below this nothing is gained
	reserveMost  = 2 << 30   // of heap
	heapPerInput = 64        // measured: bytes of heap for one of a notebook of claims
)

const adviceHugePages = 14 // MADV_HUGEPAGE, include/uapi/asm-generic/mman-common.h

// reserve asks the kernel to back the heap that a notebook of size bytes will
// need with huge pages. On machines where a page fault is dear, as under most
// virtual ones, it halves the time of a large notebook. It takes no memory: a
// piece of address space is marked through a slice that nothing writes to, and
// given back to the heap at once. Where the kernel does not know huge pages,
// or address space is rationed, nothing happens and it says so.
func reserve(size int64) bool {
	if size < reserveFrom || rationed() {
		return false
	}
	room := make([]byte, min(heapPerInput*size, reserveMost))
	err := syscall.Madvise(room, adviceHugePages)
	room = nil
	if err != nil {
		return false
	}
	runtime.GC() // the heap is still small; the piece becomes free for use
	return true
}

// rationed says that address space counts, used or not.
func rationed() bool {
	if bits.UintSize < 64 {
		return true
	}
	var limit syscall.Rlimit
	if err := syscall.Getrlimit(syscall.RLIMIT_AS, &limit); err != nil || limit.Cur != ^uint64(0) {
		return true
	}
	mode, err := os.ReadFile("/proc/sys/vm/overcommit_memory")
	return err != nil || bytes.HasPrefix(mode, []byte("2"))
}
