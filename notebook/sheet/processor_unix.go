//go:build unix

package sheet

import (
	"syscall"
	"time"
)

// processorTime is what this process has had of the processor.
func processorTime() time.Duration {
	var u syscall.Rusage
	if syscall.Getrusage(syscall.RUSAGE_SELF, &u) != nil {
		return 1 << 62
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

// reserve gives n bytes of addresses that hold zeros and take memory once
// written; nil if there are none.
func reserve(n int) []byte {
	b, err := syscall.Mmap(-1, 0, n, syscall.PROT_READ|syscall.PROT_WRITE, syscall.MAP_ANON|syscall.MAP_PRIVATE)
	if err != nil {
		return nil
	}
	return b
}

func unreserve(b []byte) { _ = syscall.Munmap(b) }
