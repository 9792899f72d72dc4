package main

import (
	"bytes"
	"math/bits"
	"os"
	"runtime"
	"syscall"
)

const adviceHugePages = 14 // MADV_HUGEPAGE, include/uapi/asm-generic/mman-common.h

// hugePages asks the kernel to back the heap that is to come, size bytes of it,
// with huge pages. On machines where a page fault is dear, as under most
// virtual ones, it halves the time of a large notebook. It takes no memory: a
// piece of address space is marked through a slice that nothing writes to, and
// given back to the heap at once. Where the kernel does not know huge pages,
// or address space is rationed, nothing happens. Collections that come by
// themselves must be off, or the slice would set off one more.
func hugePages(size int64) {
	if rationed() {
		return
	}
	room := make([]byte, size)
	err := syscall.Madvise(room, adviceHugePages)
	room = nil
	if err == nil {
		runtime.GC() // the heap is still small; the piece becomes free for use
	}
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
