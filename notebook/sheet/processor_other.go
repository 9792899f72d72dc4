//go:build !unix

package sheet

import "time"

var began = time.Now()

// processorTime is the time that passes, where no other is told.
func processorTime() time.Duration { return time.Since(began) }
