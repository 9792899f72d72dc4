package bound

import (
	"encoding/json"
	"math"
	"math/big"
	"os"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// published holds values printed by others, with their source.
type published map[string]struct {
	ID, Source string
	Expected   map[string]struct{ Value, Tol float64 }
	Data       map[string][]float64
}

func readPublished(t *testing.T) published {
	data, err := os.ReadFile("../../testdata/bound/published.json")
	require.NoError(t, err)
	var list []struct {
		ID, Source string
		Expected   map[string]struct{ Value, Tol float64 }
		Data       map[string][]float64
	}
	require.NoError(t, json.Unmarshal(data, &list))
	out := published{}
	for _, e := range list {
		out[e.ID] = e
	}
	return out
}

func (p published) check(t *testing.T, id, key string, got float64) {
	t.Helper()
	want, ok := p[id].Expected[key]
	require.True(t, ok, "%s %s", id, key)
	require.InDelta(t, want.Value, got, want.Tol, "%s %s: %s", id, key, p[id].Source)
}

// around is a spread input with centre and half width.
func aroundInput(centre, half float64) Input {
	c, h := exactOf(centre), exactOf(half)
	lo, hi := new(big.Rat).Sub(c, h), new(big.Rat).Add(c, h)
	return Input{Lo: lo, Hi: hi, SureLo: lo, SureHi: hi, Centre: c, Spread: true}
}

func plusMinus(centre, half string) Input {
	c, h := rat(centre), rat(half)
	lo, hi := new(big.Rat).Sub(c, h), new(big.Rat).Add(c, h)
	return Input{Lo: lo, Hi: hi, SureLo: lo, SureHi: hi, Centre: c, Spread: true}
}

func build(text string, names []string) *Program {
	b := NewBuilder()
	regs := map[string]Reg{}
	for i, n := range names {
		regs[n] = b.Var(i)
	}
	return b.Extract(readFormula(b, text, regs))
}

func TestToleranceStacks(t *testing.T) {
	p := readPublished(t)
	sum := build("a+b+c", []string{"a", "b", "c"})
	in := []Input{plusMinus("0", "1"), plusMinus("0", "1"), plusMinus("0", "1.5")}
	p.check(t, "TOL-01", "WC", Range(sum, 0, in, Options{}).Hi.Outer)
	p.check(t, "TOL-01", "RSS", RootSumSquare(sum, 0, in, Options{}).Delta)

	ratio := build("a*b/c-1", []string{"a", "b", "c"})
	in = []Input{plusMinus("1", "0.001"), plusMinus("1", "0.001"), plusMinus("1", "0.001")}
	e := Range(ratio, 0, in, Options{})
	p.check(t, "TOL-03", "exact_upper", 100*e.Hi.Outer)
	require.Equal(t, "3001/999000", e.Hi.Exact.RatString(), "1.001·1.001/0.999 - 1")

	bridge := build("b*c/a", []string{"a", "b", "c"})
	in = []Input{plusMinus("50", "0.25"), plusMinus("500", "2.5"), plusMinus("440", "2.2")}
	r := RootSumSquare(bridge, 0, in, Options{})
	p.check(t, "TOL-05", "R4", r.CentreHi)
	p.check(t, "TOL-05", "dR", r.Coefficients[0]*0.25+r.Coefficients[1]*2.5+r.Coefficients[2]*2.2)
	require.False(t, r.TooCurved)

	in = []Input{plusMinus("100", "0.02"), plusMinus("100", "0.02"), plusMinus("230", "0.023")}
	r = RootSumSquare(build("a/b*c", []string{"a", "b", "c"}), 0, in, Options{})
	linear := r.Coefficients[0]*0.02 + r.Coefficients[1]*0.02 + r.Coefficients[2]*0.023
	p.check(t, "TOL-06", "hi", r.CentreHi+linear)
	p.check(t, "TOL-06", "lo", r.CentreLo-linear)
}

func TestDividerCorners(t *testing.T) {
	p := readPublished(t)
	divider := build("v*b/(a+b)", []string{"v", "a", "b"})
	e := Range(divider, 0, []Input{between("5", "5"), plusMinus("10000", "100"), plusMinus("10000", "100")}, Options{})
	p.check(t, "DIV-05", "Vmax", e.Hi.Outer)
	p.check(t, "DIV-05", "Vmin", e.Lo.Outer)
	require.Equal(t, "101/40", e.Hi.Exact.RatString())
	e = Range(divider, 0, []Input{between("12", "12"), plusMinus("100000", "1000"), plusMinus("22000", "22")}, Options{})
	p.check(t, "DIV-06", "Vmax", e.Hi.Outer)
	p.check(t, "DIV-06", "Vmin", e.Lo.Outer)
}

// TestEndGauge is JCGM 100:2008, H.1: half widths are standard uncertainties,
// so the root sum square is the combined one. The product terms make it too
// curved, which the guide shows in H.1.7.
func TestEndGauge(t *testing.T) {
	p := readPublished(t)
	model := build("l+d-l*(a*w+s*q)", []string{"a", "d", "l", "q", "s", "w"})
	root3 := math.Sqrt(3)
	in := []Input{
		aroundInput(0, 1e-6/root3), aroundInput(215, math.Sqrt(5.8*5.8+3.9*3.9+6.7*6.7)), aroundInput(50000623, 25),
		aroundInput(0, 0.05/root3), aroundInput(11.5e-6, 2e-6/root3), {Lo: rat("-0.1"), Hi: rat("-0.1"), Spread: true},
	}
	r := RootSumSquare(model, 0, in, Options{})
	p.check(t, "GUM-01", "uc", r.Delta)
	p.check(t, "GUM-01", "l_nm", r.CentreLo)
	p.check(t, "GUM-01", "u_dtheta", r.Coefficients[3]*0.05/root3)
	p.check(t, "GUM-01", "u_dalpha", r.Coefficients[0]*1e-6/root3)
	require.False(t, r.TooCurved)
	in[5] = aroundInput(-0.1, math.Sqrt(0.2*0.2+0.5*0.5/2))
	wide := RootSumSquare(model, 0, in, Options{})
	require.InDelta(t, r.Delta, wide.Delta, 1e-6, "to first order the temperature offset adds nothing")
	require.True(t, wide.TooCurved, "the second-order term of H.1.7 is 11.7 nm")
}

// TestImpedance is JCGM 100:2008, H.2: the three correlated readings become
// one formula of three independent leaves, so that each is counted once.
func TestImpedance(t *testing.T) {
	p := readPublished(t)
	data := p["GUM-05"].Data
	mean, l := cholesky(data["V"], data["I"], data["phi"])
	b := NewBuilder()
	e := []Reg{b.Var(0), b.Var(1), b.Var(2)}
	reading := func(i int) Reg {
		x := b.Const(exactOf(mean[i]))
		for k := 0; k <= i; k++ {
			x = b.Binary(OpAdd, x, b.Binary(OpMul, b.Const(exactOf(l[i][k])), e[k]))
		}
		return x
	}
	v, i, phi := reading(0), reading(1), reading(2)
	z := b.Binary(OpDiv, v, i)
	r, x := b.Binary(OpMul, z, b.Unary(OpCos, phi)), b.Binary(OpMul, z, b.Unary(OpSin, phi))
	program := b.Extract(r, x, z)
	in := []Input{plusMinus("0", "1"), plusMinus("0", "1"), plusMinus("0", "1")}
	for k, name := range []string{"R", "X", "Z"} {
		c := RootSumSquare(program, k, in, Options{})
		p.check(t, "GUM-05", name, c.CentreLo)
		p.check(t, "GUM-05", "u"+name, c.Delta)
		require.False(t, c.TooCurved)
	}
}

// cholesky gives the means of three series and the factor of the covariance of
// the means.
func cholesky(series ...[]float64) (mean [3]float64, l [3][3]float64) {
	var s [3][3]float64
	n := float64(len(series[0]))
	for i := range 3 {
		for _, v := range series[i] {
			mean[i] += v / n
		}
	}
	for i := range 3 {
		for k := range 3 {
			for m := range series[i] {
				s[i][k] += (series[i][m] - mean[i]) * (series[k][m] - mean[k]) / (n * (n - 1))
			}
		}
	}
	for i := range 3 {
		for k := 0; k <= i; k++ {
			sum := s[i][k]
			for m := range k {
				sum -= l[i][m] * l[k][m]
			}
			if i == k {
				l[i][i] = math.Sqrt(sum)
			} else {
				l[i][k] = sum / l[k][k]
			}
		}
	}
	return mean, l
}

// TestTenResistors is JCGM 100:2008, 5.2.2, note 1: ten resistors calibrated
// against one standard add up, ten independent ones do not.
func TestTenResistors(t *testing.T) {
	p := readPublished(t)
	b := NewBuilder()
	shared, own := b.Const(rat("0")), b.Const(rat("0"))
	var in []Input
	for i := range 10 {
		shared = b.Binary(OpAdd, shared, b.Var(0))
		own = b.Binary(OpAdd, own, b.Var(i))
		in = append(in, plusMinus("1000", "0.1"))
	}
	program := b.Extract(shared, own)
	p.check(t, "GUM-15", "corr", RootSumSquare(program, 0, in, Options{}).Delta)
	p.check(t, "GUM-15", "uncorr", RootSumSquare(program, 1, in, Options{}).Delta)
}

// TestRootSumSquareClaims is conformance case 58 of the notebook's grammar.
func TestRootSumSquareClaims(t *testing.T) {
	p := build("a+b", []string{"a", "b"})
	in := []Input{plusMinus("1", "0.1"), plusMinus("1", "0.1")}
	r := RootSumSquare(p, 0, in, Options{})
	require.InDelta(t, 2.1414, r.Hi, 5e-5)
	require.InDelta(t, 2.2, RootSumSquare(build("a+a", []string{"a"}), 0, in[:1], Options{}).Hi, 1e-12)
	in[1] = typMax("1", "1.1")
	require.Equal(t, []int{1}, RootSumSquare(p, 0, in, Options{}).Missing)
	in[1] = between("1", "1.1")
	in[1].Spread = false
	r = RootSumSquare(p, 0, in, Options{})
	require.InDelta(t, 2.2, r.Hi, 1e-9, "the environment counts in full")
	require.InDelta(t, 1.9, r.Lo, 1e-9)
}

// sample is what a number took at points drawn as MonteCarlo draws them, sorted.
type sample []float64

// drawn samples a number (JCGM 101:2008, clause 7).
func drawn(p *Program, root int, in []Input, mc Sampling) sample {
	c := p.cut(p.roots[root], false)
	x, r := wideBox(in), make([]ival, len(c.code))
	draws := newSampler(in, c.from, mc)
	var out sample
	for k := range mc.N {
		if k%chunk == 0 {
			draws.start(k / chunk)
		}
		draws.draw(x)
		c.run(x, r)
		v := r[c.root()]
		out = append(out, v.lo/2+v.hi/2)
	}
	slices.Sort(out)
	return out
}

func (s sample) mean() float64 {
	sum := 0.0
	for _, v := range s {
		sum += v
	}
	return sum / float64(len(s))
}

func (s sample) deviation() float64 {
	mean, sum := s.mean(), 0.0
	for _, v := range s {
		sum += (v - mean) * (v - mean)
	}
	return math.Sqrt(sum / float64(len(s)-1))
}

func (s sample) quantile(q float64) float64 { return s[int(math.Ceil(q*float64(len(s))))-1] }

// shortest is the shortest interval that holds the share q of the sample.
func (s sample) shortest(q float64) (lo, hi float64) {
	n := int(math.Ceil(q * float64(len(s))))
	lo, hi = s[0], s[n-1]
	for i := range len(s) - n {
		if s[i+n]-s[i+1] < hi-lo {
			lo, hi = s[i+1], s[i+n]
		}
	}
	return lo, hi
}

func seedOf(b byte) [32]byte { return [32]byte{b} }

// TestAdditiveModels are JCGM 101:2008, 9.2.2 to 9.2.4.
func TestAdditiveModels(t *testing.T) {
	p := readPublished(t)
	sum := build("a+b+c+d", []string{"a", "b", "c", "d"})
	four := []Input{plusMinus("0", "6"), plusMinus("0", "6"), plusMinus("0", "6"), plusMinus("0", "6")}
	m := drawn(sum, 0, four, Sampling{N: 500_000, Seed: seedOf(1), Normal: 6})
	p.check(t, "MC-01", "u", m.deviation())
	require.InDelta(t, 3.92, m.quantile(0.975), 0.03)

	root3 := math.Sqrt(3)
	in := []Input{aroundInput(0, root3), aroundInput(0, root3), aroundInput(0, root3), aroundInput(0, 10*root3)}
	m = drawn(sum, 0, in, Sampling{N: 500_000, Seed: seedOf(2)})
	p.check(t, "MC-03", "u", math.Sqrt(103)) // printed rounded; the sample is held to the root itself
	require.InDelta(t, math.Sqrt(103), m.deviation(), 0.03)
	p.check(t, "MC-03", "MCM", m.quantile(0.975))
}

// TestMassCalibration is JCGM 101:2008, 9.3 (in mg and kg/m³).
func TestMassCalibration(t *testing.T) {
	p := readPublished(t)
	names := []string{"a", "d", "m", "r", "w"}
	model := build("(m+d)*(1+(a-1.2)*(1/w-1/r))-100000", names)
	in := []Input{between("1.10", "1.30"), plusMinus("1.234", "0.12"), plusMinus("100000", "0.3"), between("7950", "8050"), between("7000", "9000")}
	m := drawn(model, 0, in, Sampling{N: 500_000, Seed: seedOf(3), Shape: []float64{0, 6, 6, 0, 0}})
	p.check(t, "MC-05", "u", m.deviation())
	lo, hi := m.shortest(0.95)
	p.check(t, "MC-05", "lo", lo)
	p.check(t, "MC-05", "hi", hi)
	require.InDelta(t, 1.234, m.mean(), 0.001)
}

// TestComparisonLoss is JCGM 101:2008, 9.4: first order says 0 at 0 and must
// be flagged.
func TestComparisonLoss(t *testing.T) {
	p := readPublished(t)
	loss := build("x^2+y^2", []string{"x", "y"})
	for key, x1 := range map[string]string{"0": "0", "1": "0.010", "5": "0.050"} {
		in := []Input{plusMinus(x1, "0.03"), plusMinus("0", "0.03")}
		m := drawn(loss, 0, in, Sampling{N: 600_000, Seed: seedOf(4), Normal: 6})
		if key == "5" { // printed 2551 is itself sampled; x1² + 2u² is 2550
			require.InDelta(t, 2550, 1e6*m.mean(), 2)
		} else {
			p.check(t, "MC-06", "y"+key, 1e6*m.mean())
		}
		p.check(t, "MC-06", "u"+key, 1e6*m.deviation())
		require.True(t, RootSumSquare(loss, 0, in, Options{}).TooCurved)
	}
}

// TestBinomialBounds checks the bounds against their definition, the binomial
// tail summed exactly, and against closed forms.
func TestBinomialBounds(t *testing.T) {
	tail := func(p *big.Rat, k, n int) float64 { // P(X >= k)
		sum, q := new(big.Rat), new(big.Rat).Sub(big.NewRat(1, 1), p)
		for i := k; i <= n; i++ {
			term := new(big.Rat).SetInt(new(big.Int).Binomial(int64(n), int64(i)))
			a, _ := ratPowInt(p, i)
			b, _ := ratPowInt(q, n-i)
			sum.Add(sum, term.Mul(term, new(big.Rat).Mul(a, b)))
		}
		f, _ := sum.Float64()
		return f
	}
	for _, c := range [][2]int{{1, 1}, {3, 10}, {9, 10}, {59, 59}, {95, 100}, {99, 120}} {
		k, n := c[0], c[1]
		require.InDelta(t, 0.05, tail(exactOf(binomialLower(k, n, confidence)), k, n), 1e-9)
		if k < n {
			require.InDelta(t, 0.95, tail(exactOf(binomialUpper(k, n, confidence)), k+1, n), 1e-9)
		}
	}
	require.InDelta(t, math.Pow(0.05, 1.0/59), binomialLower(59, 59, confidence), 1e-12)
	require.Equal(t, 0.0, binomialLower(0, 10, confidence))
	require.Equal(t, 1.0, binomialUpper(10, 10, confidence))
	require.InDelta(t, 0.99, binomialLower(990_300, 1_000_000, confidence), 2e-4)
}

// TestMonteCarlo checks counts against the known share and that the
// environment is taken at its worst.
func TestMonteCarlo(t *testing.T) {
	b := NewBuilder()
	claim := b.Binary(OpLessEq, b.Binary(OpAdd, b.Var(0), b.Var(1)), b.Const(rat("1")))
	p := b.Extract(claim)
	in := []Input{between("0", "1"), between("0", "1")} // half of the square
	seen := Sampling{N: 100_000, Seed: seedOf(2), Yield: rat("0.49")}
	s := MonteCarlo(p, 0, in, seen)
	require.Equal(t, 100_000, s.Holds+s.Fails+s.Unknown)
	require.Less(t, s.Lower, 0.5)
	require.Greater(t, s.Upper, 0.5)
	require.Equal(t, Proven, s.Outcome)
	require.Equal(t, s, MonteCarlo(p, 0, in, seen))
	require.Equal(t, Broken, MonteCarlo(p, 0, in, Sampling{N: 10_000, Seed: seedOf(5), Yield: rat("0.6")}).Outcome)
	require.Equal(t, Undecided, MonteCarlo(p, 0, in, Sampling{N: 100, Seed: seedOf(5), Yield: rat("0.5")}).Outcome)

	square := 0.0 // of a hundred standard deviations: about 100, give or take 14
	for seed := range byte(100) {
		n := MonteCarlo(p, 0, in, Sampling{N: 40_000, Seed: seedOf(seed)}).Holds
		square += float64(n-20_000) * float64(n-20_000) / 10_000
	}
	require.InDelta(t, 100, square, 50)

	in[1].Spread = false // anywhere in 0..1: only x = 0 would do
	s = MonteCarlo(p, 0, in, Sampling{N: 1000, Seed: seedOf(6)})
	require.Equal(t, 1000, s.Fails)
	in[1] = typMax("0", "1")
	require.Equal(t, []int{1}, MonteCarlo(p, 0, in, Sampling{N: 10}).Missing)
}

// TestStatisticsOfAnything: no formula stops the statistics, and the sign of a
// low end agrees with its enclosure.
func TestStatisticsOfAnything(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := NewBuilder()
		var x []Reg
		var in []Input
		for i := range rapid.IntRange(1, 3).Draw(t, "inputs") {
			x = append(x, b.Var(i))
			in = append(in, randomInput(t))
			in[i].Spread = rapid.Bool().Draw(t, "spread")
		}
		number := formula(t, b, x, 3)
		p := b.Extract(number, b.Binary(OpLess, number, b.Const(rat("0.5"))))
		in = pick(in, p.Inputs())
		got := RootSumSquare(p, 0, in, Options{Boxes: 400})
		if got.Missing == nil && got.Undefined == nil && got.LoSure && got.LoSign < 0 {
			require.LessOrEqual(t, got.Lo, 0.0)
		}
		MonteCarlo(p, 1, in, Sampling{N: 40, Yield: rat("0.5")})
	})
}
