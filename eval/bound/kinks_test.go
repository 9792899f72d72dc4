package bound

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// TestTiesAtKinks meets limits exactly where a number bends, at points that no
// float64 hits.
func TestTiesAtKinks(t *testing.T) {
	knots := func(pairs ...string) []Knot {
		var out []Knot
		for i := 0; i < len(pairs); i += 2 {
			out = append(out, Knot{X: rat(pairs[i]), Y: rat(pairs[i+1])})
		}
		return out
	}
	peak := knots("0", "0", "2.1", "3.3", "4.7", "1.1")
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
		{"max of two", func(b *Builder, x []Reg) Reg {
			return b.Binary(OpMax, x[0], b.Binary(OpSub, num(b, "0.3"), b.Binary(OpMul, num(b, "2"), x[0])))
		}, "0.1", "", []Input{between("0", "1")}},
		{"abs", func(b *Builder, x []Reg) Reg {
			return b.Binary(OpAdd, b.Unary(OpAbs, b.Binary(OpSub, x[0], num(b, "0.3"))), x[1])
		}, "0.9", "", []Input{between("0", "1"), between("0.9", "1")}},
		{"abs times another", func(b *Builder, x []Reg) Reg {
			return b.Binary(OpMul, b.Binary(OpSub, num(b, "1.1"), b.Unary(OpAbs, b.Binary(OpSub, x[0], num(b, "0.3")))), x[1])
		}, "", "0.99", []Input{between("0", "1"), between("0.2", "0.9")}},
		{"max over min", func(b *Builder, x []Reg) Reg {
			return b.Binary(OpSub, b.Binary(OpMax, x[0], x[1]), b.Binary(OpMin, x[0], x[1]))
		}, "0", "", []Input{between("0.1", "1"), between("0.3", "2")}},
		{"choice", func(b *Builder, x []Reg) Reg {
			return b.If(b.Binary(OpLess, x[0], num(b, "0.3")), x[0], b.Binary(OpSub, num(b, "0.6"), x[0]))
		}, "", "0.3", []Input{between("0", "1")}},
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
