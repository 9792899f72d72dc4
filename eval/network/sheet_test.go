package network

import (
	"math/big"
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/eval/bound"
)

// sheet keeps what is known of the inputs of a test's graph.
type sheet struct {
	b     *bound.Builder
	in    []bound.Input
	names []string
}

func newSheet() *sheet { return &sheet{b: bound.NewBuilder()} }

func (s *sheet) Input(i int) bound.Input { return s.in[i] }

func (s *sheet) New(name, about string, unit Unit, in bound.Input) bound.Reg {
	s.in = append(s.in, in)
	s.names = append(s.names, name)
	return s.b.Var(len(s.in) - 1)
}

// rat reads a decimal with an SI prefix: "4.7k", "20m", "3.1u".
func rat(text string) *big.Rat {
	scale := map[byte]string{'p': "1e-12", 'n': "1e-9", 'u': "1e-6", 'm': "1e-3", 'k': "1e3", 'M': "1e6"}
	factor := "1"
	if f, ok := scale[text[len(text)-1]]; ok {
		factor, text = f, text[:len(text)-1]
	}
	a, ok := new(big.Rat).SetString(text)
	f, _ := new(big.Rat).SetString(factor)
	if !ok {
		panic(text)
	}
	return a.Mul(a, f)
}

func (s *sheet) con(text string) bound.Reg { return s.b.Const(rat(text)) }

// span is a stated value: from lo to hi, wide and sure.
func (s *sheet) span(name, lo, hi string) bound.Reg {
	return s.New(name, name, Ratio, bound.Input{Lo: rat(lo), Hi: rat(hi), SureLo: rat(lo), SureHi: rat(hi)})
}

// atMost is a stated maximum of something that is at least 0.
func (s *sheet) atMost(name, hi string) bound.Reg {
	return s.New(name, name, Ratio, bound.Input{Lo: rat("0"), Hi: rat(hi), SureHi: rat(hi)})
}

// tol is a value with a tolerance in per cent.
func (s *sheet) tol(name, v string, percent int64) bound.Reg {
	r := rat(v)
	d := new(big.Rat).Mul(r, big.NewRat(percent, 100))
	in := bound.Input{Lo: new(big.Rat).Sub(r, d), Hi: new(big.Rat).Add(r, d), Centre: r}
	in.SureLo, in.SureHi = in.Lo, in.Hi
	return s.New(name, name, Ratio, in)
}

func (s *sheet) le(a bound.Reg, v string) bound.Reg {
	return s.b.Binary(bound.OpLessEq, a, s.con(v))
}

func (s *sheet) ge(a bound.Reg, v string) bound.Reg {
	return s.b.Binary(bound.OpLessEq, s.con(v), a)
}

// at evaluates a number at a point of the graph's inputs.
func (s *sheet) at(t testing.TB, r bound.Reg, point []*big.Rat) *big.Rat {
	p := s.b.Extract(r)
	_, _, v, _ := bound.At(p, 0, s.pick(p, point))
	return v
}

func (s *sheet) holds(r bound.Reg, point []*big.Rat) (truth, decided bool) {
	p := s.b.Extract(r)
	return bound.Holds(p, 0, s.pick(p, point))
}

func (s *sheet) pick(p *bound.Program, point []*big.Rat) []*big.Rat {
	out := make([]*big.Rat, len(p.Inputs()))
	for k, i := range p.Inputs() {
		if i < len(point) {
			out[k] = point[i]
		}
	}
	return out
}

func requireVerdict(t testing.TB, n *Network, want Verdict, claim bound.Reg, s Scope) Judgement {
	t.Helper()
	j := n.Judge(claim, s)
	if j.Verdict != want && j.Case != nil {
		t.Log(j.Case.Pieces)
	}
	require.Equal(t, want, j.Verdict, j.Why)
	return j
}
