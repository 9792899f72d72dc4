//go:build !amd64

package bound

func hasWide() bool { return false }

// wide would leave the rounding of rows to the processor; this one cannot.
func (b *ivalBatch) wide(*instr, int32, int) bool { return false }
