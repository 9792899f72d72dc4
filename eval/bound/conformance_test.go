package bound

import (
	"math/big"
	"testing"

	"github.com/stretchr/testify/require"
)

func rat(s string) *big.Rat {
	r, ok := new(big.Rat).SetString(s)
	if !ok {
		panic(s)
	}
	return r
}

// between is an input with equal wide and sure sets.
func between(lo, hi string) Input {
	l, h := rat(lo), rat(hi)
	return Input{Lo: l, Hi: h, SureLo: l, SureHi: h, Spread: true}
}

// typical is an input known by a typical value only.
func typical(v string) Input { return Input{SureLo: rat(v), SureHi: rat(v), Spread: true} }

// typMax is an input with a typical value and a maximum.
func typMax(typ, hi string) Input {
	return Input{Hi: rat(hi), SureLo: rat(typ), SureHi: rat(hi), Spread: true}
}

type conformance struct {
	name  string
	in    []Input
	build func(b *Builder, x []Reg) Reg
	want  Outcome
	cause Cause
	lacks []int
	point []string
}

func num(b *Builder, s string) Reg { return b.Const(rat(s)) }

func cases() []conformance {
	point2 := []Input{between("0.1", "0.1"), between("0.2", "0.2")}
	return []conformance{
		{name: "1 tie in decimals", in: point2, want: Proven, build: func(b *Builder, x []Reg) Reg {
			return b.Binary(OpLessEq, b.Binary(OpAdd, x[0], x[1]), num(b, "0.3"))
		}},
		{name: "1 strict tie", in: point2, want: Broken, point: []string{"0.1", "0.2"}, build: func(b *Builder, x []Reg) Reg {
			return b.Binary(OpLess, b.Binary(OpAdd, x[0], x[1]), num(b, "0.3"))
		}},
		{name: "3 equality with spread", in: []Input{between("3.234", "3.366")}, want: Broken, build: func(b *Builder, x []Reg) Reg {
			return b.Binary(OpEqual, x[0], num(b, "3.3"))
		}},
		{name: "3 equality of itself", in: []Input{between("3.234", "3.366")}, want: Proven, build: func(b *Builder, x []Reg) Reg {
			return b.Binary(OpEqual, b.Binary(OpSub, x[0], x[0]), num(b, "0"))
		}},
		{name: "14 abs", in: []Input{between("-0.002", "0.002")}, want: Proven, build: func(b *Builder, x []Reg) Reg {
			return b.Binary(OpLessEq, b.Unary(OpAbs, x[0]), num(b, "0.002"))
		}},
		{name: "28 typical only", in: []Input{typical("0.13")}, want: Undecided, cause: CauseWide, lacks: []int{0},
			build: func(b *Builder, x []Reg) Reg {
				return b.Binary(OpLessEq, x[0], num(b, "0.25"))
			}},
		{name: "30 typ and max", in: []Input{typMax("1e-6", "5e-6"), between("3", "3.6")}, want: Proven, build: func(b *Builder, x []Reg) Reg {
			return b.Binary(OpLessEq, b.Binary(OpMul, x[1], x[0]), num(b, "18e-6"))
		}},
		{name: "31 no min", in: []Input{typMax("1e-6", "5e-6")}, want: Undecided, cause: CauseWide, lacks: []int{0},
			build: func(b *Builder, x []Reg) Reg {
				return b.Binary(OpLessEq, num(b, "0"), x[0])
			}},
		{name: "32 broken at max", in: []Input{typMax("1e-6", "5e-6")}, want: Broken, point: []string{"5e-6"}, build: func(b *Builder, x []Reg) Reg {
			return b.Binary(OpLessEq, x[0], num(b, "3e-6"))
		}},
		{name: "33 either way", in: []Input{between("0", "2")}, want: Proven, build: func(b *Builder, x []Reg) Reg {
			return b.Binary(OpOr, b.Binary(OpLessEq, x[0], num(b, "1")), b.Binary(OpLessEq, num(b, "1"), x[0]))
		}},
		{name: "34 broken", in: []Input{between("0", "2")}, want: Broken, point: []string{"2"}, build: func(b *Builder, x []Reg) Reg {
			return b.Binary(OpLessEq, x[0], num(b, "1"))
		}},
		{name: "34 not", in: []Input{between("0", "2")}, want: Broken, point: []string{"0"}, build: func(b *Builder, x []Reg) Reg {
			return b.Unary(OpNot, b.Binary(OpLessEq, x[0], num(b, "1")))
		}},
		{name: "35 or", in: []Input{between("1", "2"), typical("1")}, want: Proven, build: func(b *Builder, x []Reg) Reg {
			return b.Binary(OpOr, b.Binary(OpLessEq, x[0], num(b, "3")), b.Binary(OpLessEq, x[1], num(b, "2")))
		}},
		{name: "36 and", in: []Input{between("1", "2"), typical("1")}, want: Undecided, cause: CauseWide,
			lacks: []int{1}, build: func(b *Builder, x []Reg) Reg {
				return b.Binary(OpAnd, b.Binary(OpLessEq, x[0], num(b, "3")), b.Binary(OpLessEq, x[1], num(b, "2")))
			}},
		{name: "37 and broken", in: []Input{between("1", "2"), typical("1")}, want: Broken, point: []string{"2", "1"},
			build: func(b *Builder, x []Reg) Reg {
				return b.Binary(OpAnd, b.Binary(OpLessEq, x[1], num(b, "2")), b.Binary(OpLessEq, x[0], num(b, "1.5")))
			}},
		{name: "47 le", in: []Input{between("1", "2"), between("2", "3")}, want: Proven, build: func(b *Builder, x []Reg) Reg {
			return b.Binary(OpLessEq, x[0], x[1])
		}},
		{name: "47 lt", in: []Input{between("1", "2"), between("2", "3")}, want: Broken, point: []string{"2", "2"},
			build: func(b *Builder, x []Reg) Reg {
				return b.Binary(OpLess, x[0], x[1])
			}},
		{name: "47 itself lt", in: []Input{between("1", "2")}, want: Broken, build: func(b *Builder, x []Reg) Reg {
			return b.Binary(OpLess, x[0], x[0])
		}},
		{name: "47 itself le", in: []Input{between("1", "2")}, want: Proven, build: func(b *Builder, x []Reg) Reg {
			return b.Binary(OpLessEq, x[0], x[0])
		}},
		{name: "55 repeated input", in: []Input{between("3.0", "3.6"), between("99e3", "101e3"), between("46530",
			"47470")}, want: Proven, build: func(b *Builder, x []Reg) Reg {
			d := b.Binary(OpDiv, b.Binary(OpMul, x[0], x[2]), b.Binary(OpAdd, x[1], x[2]))
			return b.Binary(OpLessEq, d, num(b, "1.17"))
		}},
		{name: "56 parabola", in: []Input{between("0", "1")}, want: Proven, build: func(b *Builder, x []Reg) Reg {
			return b.Binary(OpLessEq, b.Binary(OpMul, x[0], b.Binary(OpSub, num(b, "1"), x[0])), num(b, "0.25"))
		}},
		{name: "56 strict", in: []Input{between("0", "1")}, want: Broken, point: []string{"0.5"}, build: func(b *Builder, x []Reg) Reg {
			return b.Binary(OpLess, b.Binary(OpMul, x[0], b.Binary(OpSub, num(b, "1"), x[0])), num(b, "0.25"))
		}},
		{name: "39 undefined", in: []Input{between("-1", "2")}, want: Undecided, cause: CauseUndefined, build: func(b *Builder, x []Reg) Reg {
			return b.Binary(OpLess, num(b, "-2"), b.Binary(OpMul, x[0], b.Binary(OpDiv, x[0], x[0])))
		}},
		{name: "39 undefined but broken", in: []Input{between("-1", "2")}, want: Broken, build: func(b *Builder, x []Reg) Reg {
			return b.Binary(OpLessEq, b.Binary(OpDiv, num(b, "1"), x[0]), num(b, "5"))
		}},
		{name: "broken whatever the input without a sure set",
			in: []Input{between("1", "2"), {Lo: rat("0"), Hi: rat("1")}}, want: Broken, point: []string{"2", ""},
			build: func(b *Builder, x []Reg) Reg {
				return b.Binary(OpLessEq, b.Binary(OpAdd, x[0], x[1]), num(b, "1.5"))
			}},
		{name: "depends on the input without a sure set", in: []Input{between("1", "2"), {Lo: rat("0"), Hi: rat("1")}},
			want: Undecided, cause: CauseWide, lacks: []int{1}, build: func(b *Builder, x []Reg) Reg {
				return b.Binary(OpLessEq, b.Binary(OpAdd, x[0], x[1]), num(b, "2.5"))
			}},
		{name: "two lacking together", in: []Input{typical("1"), typical("1")}, want: Undecided, cause: CauseWide,
			lacks: []int{0, 1}, build: func(b *Builder, x []Reg) Reg {
				return b.Binary(OpLessEq, b.Binary(OpAdd, x[0], x[1]), num(b, "3"))
			}},
		{name: "root defined by a tie", in: []Input{between("0.1", "1"), between("0.2", "1")}, want: Proven, build: func(b *Builder, x []Reg) Reg {
			s := b.Unary(OpSqrt, b.Binary(OpSub, b.Binary(OpAdd, x[0], x[1]), num(b, "0.3")))
			return b.Binary(OpLessEq, s, num(b, "2"))
		}},
	}
}

func (c conformance) program() *Program {
	b := NewBuilder()
	x := make([]Reg, len(c.in))
	for i := range x {
		x[i] = b.Var(i)
	}
	return b.Extract(c.build(b, x))
}

func TestConformance(t *testing.T) {
	for _, c := range cases() {
		t.Run(c.name, func(t *testing.T) {
			p := c.program()
			in := make([]Input, 0)
			for _, i := range p.Inputs() {
				in = append(in, c.in[i])
			}
			d := Decide(p, 0, in, Options{})
			require.Equal(t, c.want, d.Outcome, "%+v", d)
			require.Equal(t, c.cause, d.Cause, "%+v", d)
			if c.lacks != nil {
				require.Equal(t, c.lacks, d.Lacking)
			}
			for i, want := range c.point {
				if want == "" {
					require.Nil(t, d.Point[i])
					continue
				}
				require.Equal(t, rat(want).RatString(), d.Point[i].RatString())
			}
			require.Less(t, d.Boxes, 2000)
		})
	}
}
