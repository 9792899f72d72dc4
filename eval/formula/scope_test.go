package formula

import (
	"fmt"
	"math/big"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/eval/bound"
	"guardband/units"
)

// bench is a small Scope for tests: values given as literals or as
// "lo to hi", limits as "set lo to hi", parts as groups of values.
type bench struct {
	t      *testing.T
	b      *bound.Builder
	inputs []bound.Input
	vals   map[string]Value
	notes  map[bound.Reg]string
}

func newBench(t *testing.T, defs ...string) *bench {
	s := &bench{t: t, b: bound.NewBuilder(), vals: map[string]Value{}, notes: map[bound.Reg]string{}}
	for _, d := range defs {
		name, rhs, ok := strings.Cut(d, " = ")
		require.True(t, ok, d)
		s.vals[name] = s.value(rhs)
	}
	return s
}

func (s *bench) quantity(text string) units.Quantity {
	q, err := units.ParseLiteral(text)
	if err != nil {
		s.t.Fatalf("%s: %v", text, err)
	}
	return q
}

func (s *bench) value(rhs string) Value {
	if rest, ok := strings.CutPrefix(rhs, "set "); ok {
		return s.limits(rest)
	}
	if rest, ok := strings.CutPrefix(rhs, "text "); ok {
		return TextValue(rest)
	}
	if rest, ok := strings.CutPrefix(rhs, "parts "); ok {
		return s.parts(rest)
	}
	lo, hi, isRange := strings.Cut(rhs, " to ")
	if !isRange {
		q := s.quantity(rhs)
		return Value{Class: Number, Type: q.Type, Reg: s.b.Const(q.SI), Unit: &q.Unit, Fixed: true, Given: true}
	}
	l, h := s.quantity(lo), s.quantity(hi)
	v := Value{Class: Number, Type: h.Type, Reg: s.NewVar(l.SI, h.SI, ""), Unit: &h.Unit, Given: true}
	v.Lo, v.Hi = s.fixed(lo), s.fixed(hi)
	return v
}

func (s *bench) fixed(text string) *Value {
	v := s.value(text)
	return &v
}

// limits reads "2 V to 3 V", "min 2 V", "max 3 V", "free".
func (s *bench) limits(text string) Value {
	v := Value{Class: Set, Given: true, Fixed: true}
	if lo, hi, ok := strings.Cut(text, " to "); ok {
		v.Lo, v.Hi = s.fixed(lo), s.fixed(hi)
	} else if lo, ok := strings.CutPrefix(text, "min "); ok {
		v.Lo = s.fixed(lo)
	} else if hi, ok := strings.CutPrefix(text, "max "); ok {
		v.Hi = s.fixed(hi)
	}
	return v
}

// parts reads "Y1 48 Ω, Y2 50 Ω": a list of parts with a field R each.
func (s *bench) parts(text string) Value {
	list := &Thing{}
	for _, item := range strings.Split(text, ", ") {
		name, r, _ := strings.Cut(item, " ")
		p := s.part(name, map[string]Value{"R": s.value(r)})
		list.Items = append(list.Items, p)
	}
	return Value{Class: List, Thing: list}
}

func (s *bench) part(name string, fields map[string]Value) Value {
	return Value{Class: Number, Given: true, Thing: &Thing{Str: name, Fields: func(f string) (Value, *Error) {
		if v, ok := fields[f]; ok {
			return v, nil
		}
		return Value{}, &Error{Code: "name-unknown", Msg: name + " has no " + f}
	}}}
}

func (s *bench) Lookup(p *Path, off, end int) (Value, *Error) {
	if v, ok := s.vals[p.Text()]; ok {
		return v, nil
	}
	if p.Column != "" {
		if v, ok := s.vals[strings.TrimSuffix(p.Text(), "."+p.Column)]; ok {
			if p.Column == "min" && v.Lo != nil {
				return *v.Lo, nil
			}
			if p.Column == "max" && v.Hi != nil {
				return *v.Hi, nil
			}
			return Value{}, &Error{Code: "column-missing", Msg: "no " + p.Column + " of " + p.Text()}
		}
	}
	return Value{}, &Error{Off: off, End: end, Code: "name-unknown", Msg: "there is no `" + p.Text() + "`"}
}

func (s *bench) Fresh(v Value) (Value, *Error) {
	if v.Lo != nil && v.Hi != nil {
		lo, _ := s.b.ConstOf(v.Lo.Reg)
		hi, _ := s.b.ConstOf(v.Hi.Reg)
		v.Reg = s.NewVar(lo, hi, "")
	}
	return v, nil
}

func (s *bench) Nominal(r bound.Reg) (*big.Rat, bool) {
	if c, ok := s.b.ConstOf(r); ok {
		return c, true
	}
	p := s.b.Extract(r)
	at := make([]*big.Rat, len(p.Inputs()))
	for i, in := range p.Inputs() {
		at[i] = new(big.Rat).Add(s.inputs[in].Lo, s.inputs[in].Hi)
		at[i].Mul(at[i], big.NewRat(1, 2))
	}
	_, _, exact, _ := bound.At(p, 0, at)
	return exact, exact != nil
}

func (s *bench) NewVar(lo, hi *big.Rat, name string) bound.Reg {
	s.inputs = append(s.inputs, bound.Input{Lo: lo, Hi: hi, SureLo: lo, SureHi: hi})
	return s.b.Var(len(s.inputs) - 1)
}

func (s *bench) Note(r bound.Reg, n *Node, src, valid string) {
	if s.t != nil { // benchmarks keep no notes
		s.notes[r] = n.Canonical(src) + "|" + valid
	}
}

// decide proves or breaks a predicate.
func (s *bench) decide(r bound.Reg) bound.Outcome {
	p := s.b.Extract(r)
	in := make([]bound.Input, len(p.Inputs()))
	for i, k := range p.Inputs() {
		in[i] = s.inputs[k]
	}
	return bound.Decide(p, 0, in, bound.Options{}).Outcome
}

// least is the smallest value a number reaches, to float precision.
func (s *bench) least(r bound.Reg) float64 {
	p := s.b.Extract(r)
	in := make([]bound.Input, len(p.Inputs()))
	for i, k := range p.Inputs() {
		in[i] = s.inputs[k]
	}
	return bound.Range(p, 0, in, bound.Options{}).Lo.Outer
}

func (s *bench) criterion(text string, m *Margin) (Compiled, []*Error) {
	e, errs := Parse(text)
	if len(errs) > 0 {
		return Compiled{}, errs
	}
	return NewLanguage(nil).Criterion(e, s, s.b, m)
}

func (s *bench) check(text string) (Value, []*Error) {
	e, errs := Parse(text)
	if len(errs) > 0 {
		return Value{}, errs
	}
	return NewLanguage(nil).Check(e, s, s.b)
}

// constant is the exact value of a formula without spread.
func (s *bench) constant(text string) *big.Rat {
	s.t.Helper()
	v, errs := s.check(text)
	require.Empty(s.t, errs, text)
	r, ok := s.b.ConstOf(v.Reg)
	require.True(s.t, ok, "%s is no exact constant", text)
	return r
}

func verdict(o bound.Outcome) string {
	return [...]string{"open", "passed", "failed"}[o]
}

// codes lists errors as "code@off:end", for comparison with a table.
func codes(errs []*Error) string {
	var out []string
	for _, e := range errs {
		out = append(out, fmt.Sprintf("%s@%d:%d", e.Code, e.Off, e.End))
	}
	return strings.Join(out, " ")
}
