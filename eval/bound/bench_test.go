package bound

import (
	"testing"
)

// simpleClaim is (vin - vout)·iout + vin·iq <= 0.9·pmax with five inputs.
func simpleClaim(b *Builder) (Reg, Reg) {
	vin, vout, iout, iq, pmax := b.Var(0), b.Var(1), b.Var(2), b.Var(3), b.Var(4)
	p := b.Binary(OpAdd, b.Binary(OpMul, b.Binary(OpSub, vin, vout), iout), b.Binary(OpMul, vin, iq))
	limit := b.Binary(OpMul, b.Const(rat("0.9")), pmax)
	return b.Binary(OpLessEq, p, limit), b.Binary(OpSub, limit, p)
}

func simpleInputs(pmax string) []Input {
	return []Input{between("4.75", "5.25"), between("3.234", "3.366"), between("0.1", "0.15"), between("1e-6", "5e-6"), between(pmax, pmax)}
}

func BenchmarkDecideProven(b *testing.B) { benchmarkDecide(b, "0.4", Proven) }
func BenchmarkDecideTight(b *testing.B)  { benchmarkDecide(b, "0.33604", Proven) }
func BenchmarkDecideBroken(b *testing.B) { benchmarkDecide(b, "0.3", Broken) }

func benchmarkDecide(b *testing.B, pmax string, want Outcome) {
	g := NewBuilder()
	claim, _ := simpleClaim(g)
	p := g.Extract(claim)
	in := simpleInputs(pmax)
	b.ReportAllocs()
	for b.Loop() {
		if d := Decide(p, 0, in, Options{}); d.Outcome != want {
			b.Fatalf("%+v", d)
		}
	}
}

func BenchmarkExtract(b *testing.B) {
	g := NewBuilder()
	claim, slack := simpleClaim(g)
	b.ReportAllocs()
	for b.Loop() {
		g.Extract(claim, slack)
	}
}

func BenchmarkRange(b *testing.B) {
	g := NewBuilder()
	_, slack := simpleClaim(g)
	p := g.Extract(slack)
	in := simpleInputs("0.4")
	b.ReportAllocs()
	for b.Loop() {
		Range(p, 0, in, Options{})
	}
}

func slackProgram() (*Program, []Input) {
	g := NewBuilder()
	_, slack := simpleClaim(g)
	return g.Extract(slack), simpleInputs("0.4")
}

func BenchmarkIntervalTape(b *testing.B) {
	p, in := slackProgram()
	x, r := wideBox(in), make([]ival, len(p.code))
	b.ReportAllocs()
	for b.Loop() {
		p.run(x, r)
	}
}

func BenchmarkGradientTape(b *testing.B) {
	p, in := slackProgram()
	x, r, adj, g := wideBox(in), make([]ival, len(p.code)), make([]ival, len(p.code)), make([]ival, len(in))
	b.ReportAllocs()
	for b.Loop() {
		p.run(x, r)
		p.gradient(p.roots[0], r, adj, g)
	}
}
