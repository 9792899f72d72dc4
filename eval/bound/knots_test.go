package bound

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// TestTiesAtKnots meets limits exactly where a table bends, at points that no
// float64 hits.
func TestTiesAtKnots(t *testing.T) {
	knots := func(pairs ...string) []Knot {
		var out []Knot
		for i := 0; i < len(pairs); i += 2 {
			out = append(out, Knot{X: rat(pairs[i]), Y: rat(pairs[i+1])})
		}
		return out
	}
	peak := knots("0", "0", "2.1", "3.3", "4.7", "1.1")
	valley := knots("0", "3.3", "1.3", "1.7", "2.3", "1.1", "4.7", "3.9")
	for _, c := range []struct {
		name         string
		number       func(b *Builder, x []Reg) Reg
		least, limit string // the number is limit at its end, and never past it
		in           []Input
	}{
		{"knot", func(b *Builder, x []Reg) Reg { return b.Table(x[0], peak) }, "", "3.3", []Input{between("0", "4.7")}},
		{"knot beside another input", func(b *Builder, x []Reg) Reg {
			return b.Binary(OpAdd, b.Table(x[0], peak), x[1])
		}, "", "3.4", []Input{between("0.3", "4.7"), between("-0.7", "0.1")}},
		{"valley", func(b *Builder, x []Reg) Reg {
			return b.Binary(OpMul, b.Table(x[0], valley), x[1])
		}, "0.77", "", []Input{between("0.2", "4.6"), between("0.7", "0.9")}},
	} {
		b := NewBuilder()
		var x []Reg
		for i := range c.in {
			x = append(x, b.Var(i))
		}
		n := c.number(b, x)
		less, limit := b.Binary, c.limit
		if limit == "" {
			less, limit = func(op Op, x, y Reg) Reg { return b.Binary(op, y, x) }, c.least
		}
		p := b.Extract(less(OpLessEq, n, num(b, limit)), less(OpLess, n, num(b, limit)))
		d := Decide(p, 0, c.in, Options{})
		require.Equal(t, Proven, d.Outcome, "%s: %+v", c.name, d)
		require.Less(t, d.Boxes, 16000, c.name)
		d = Decide(p, 1, c.in, Options{})
		require.Equal(t, Broken, d.Outcome, "%s: %+v", c.name, d)
	}
}
