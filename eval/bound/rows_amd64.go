package bound

import "golang.org/x/sys/cpu"

// hasWide tells whether the processor rounds rows of boxes outwards by itself.
func hasWide() bool { return cpu.X86.HasAVX512F }

//go:noescape
func addRows512(lo, hi, xl, xh, yl, yh *float64, n int)

//go:noescape
func subRows512(lo, hi, xl, xh, yl, yh *float64, n int)

//go:noescape
func mulRows512(lo, hi, xl, xh, yl, yh *float64, n int) (odd uint64)

//go:noescape
func divRows512(lo, hi, xl, xh, yl, yh *float64, n int) (odd uint64)

// wide applies an operation to the first n lanes, rounded up to eights, of
// boxes of which every lane has a value. It reports whether it could: not where
// 0 meets an infinity, a divisor may be 0 (a spare lane past n counts), or the
// processor cannot.
func (b *ivalBatch) wide(in *instr, at int32, n int) bool {
	if !b.wideRows {
		return false
	}
	x, y := int(in.a)*lanes, int(in.b)*lanes
	lo, hi := &b.lo[int(at)*lanes], &b.hi[int(at)*lanes]
	xl, xh, yl, yh := &b.lo[x], &b.hi[x], &b.lo[y], &b.hi[y]
	n = (n + 7) &^ 7
	switch in.op {
	case OpAdd:
		addRows512(lo, hi, xl, xh, yl, yh, n)
	case OpSub:
		subRows512(lo, hi, xl, xh, yl, yh, n)
	case OpMul:
		return mulRows512(lo, hi, xl, xh, yl, yh, n) == 0
	case OpDiv:
		return divRows512(lo, hi, xl, xh, yl, yh, n) == 0
	default:
		return false
	}
	return true
}
