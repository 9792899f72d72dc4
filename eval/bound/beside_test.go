package bound

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// A statement that is false at a point where it has a value is broken, however
// many other points have none.
func TestFalseBesideUndefined(t *testing.T) {
	rising := []Knot{{rat("1"), rat("1")}, {rat("2"), rat("3")}}
	peak := []Knot{{rat("1"), rat("1")}, {rat("2"), rat("3")}, {rat("3"), rat("1")}}
	table := func(knots []Knot, op Op, limit string) func(*Builder, []Reg) Reg {
		return func(b *Builder, x []Reg) Reg { return b.Binary(op, b.Table(x[0], knots), num(b, limit)) }
	}
	one := func(op Op, limit string) func(*Builder, []Reg) Reg {
		return func(b *Builder, x []Reg) Reg { return b.Binary(OpLessEq, b.Unary(op, x[0]), num(b, limit)) }
	}
	roots := func(limit string) func(*Builder, []Reg) Reg {
		return func(b *Builder, x []Reg) Reg {
			return b.Binary(OpLess, b.Binary(OpAdd, b.Unary(OpSqrt, x[0]), b.Unary(OpSqrt, x[1])), num(b, limit))
		}
	}
	for _, c := range []conformance{
		{name: "table", in: []Input{between("0", "2")}, build: table(rising, OpLessEq, "2"), want: Broken, point: []string{"2"}},
		{name: "table at its last knot", in: []Input{between("0", "2")}, build: table(rising, OpLess, "3"), want: Broken, point: []string{"2"}},
		{name: "table at a knot inside", in: []Input{between("0", "9")}, build: table(peak, OpLess, "3"), want: Broken, point: []string{"2"}},
		{name: "table that holds where it has a value", in: []Input{between("0", "2")}, build: table(rising, OpLessEq, "3"), want: Undecided},
		{name: "root", in: []Input{between("-1", "1")}, build: one(OpSqrt, "0.9"), want: Broken},
		{name: "root that holds where it has a value", in: []Input{between("-1", "1")}, build: one(OpSqrt, "1"), want: Undecided},
		{name: "logarithm", in: []Input{between("-1", "1")}, build: one(OpLn, "-0.1"), want: Broken},
		{name: "two roots", in: []Input{between("-1", "4"), between("-1", "1")}, build: roots("3"), want: Broken, point: []string{"4", "1"}},
		{name: "two roots that hold", in: []Input{between("-1", "4"), between("-1", "1")}, build: roots("3.01"), want: Undecided},
		{name: "not in the sure set", in: []Input{{Lo: rat("0"), Hi: rat("2"), SureLo: rat("1"), SureHi: rat("1.2")}},
			build: table(rising, OpLessEq, "2"), want: Undecided},
	} {
		t.Run(c.name, func(t *testing.T) {
			d := Decide(c.program(), 0, c.in, Options{})
			require.Equal(t, c.want, d.Outcome)
			for i, want := range c.point {
				require.Zero(t, rat(want).Cmp(d.Point[i]), "%v", d.Point)
			}
			require.Less(t, d.Boxes, 5000)
		})
	}
}
