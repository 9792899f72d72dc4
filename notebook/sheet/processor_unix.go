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
