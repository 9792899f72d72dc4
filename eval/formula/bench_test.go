package formula

import (
	"testing"

	"github.com/expr-lang/expr/parser"

	"guardband/eval/bound"
)

// claimText is a claim with five literals; floorText is the same with bare
// numbers, as far as expr's parser alone can read it.
const (
	claimText = "3.0 V * 47 kΩ / (100 kΩ + 47 kΩ) <= 1.17 V"
	floorText = "3.0 * 47e3 / (100e3 + 47e3) <= 1.17"
	namesText = "V_CELL * R_BOT / (R_TOP + R_BOT) <= V_LIMIT"
)

// BenchmarkFloorParse is the floor: expr's parser on bare numbers.
func BenchmarkFloorParse(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := parser.Parse(floorText); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkFloorMasked is expr's parser on what we hand it.
func BenchmarkFloorMasked(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := parser.Parse("一 * 三 / ( 丆 + 万 ) <= 丌 "); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkParse(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, errs := Parse(claimText); len(errs) > 0 {
			b.Fatal(errs[0])
		}
	}
}

// BenchmarkParseAndLower parses a claim of five literals, checks its units
// and lowers it.
func BenchmarkParseAndLower(b *testing.B) {
	l := NewLanguage(nil)
	s := &bench{b: bound.NewBuilder(), vals: map[string]Value{}, notes: map[bound.Reg]string{}}
	n := 0
	b.ReportAllocs()
	for b.Loop() {
		if n++; n%1000 == 0 { // a notebook's worth of formulas per graph
			s.b = bound.NewBuilder()
		}
		e, errs := Parse(claimText)
		if len(errs) > 0 {
			b.Fatal(errs[0])
		}
		if _, errs := l.Criterion(e, s, s.b, nil); len(errs) > 0 {
			b.Fatal(errs[0])
		}
	}
}

// BenchmarkLowerNames checks and lowers a parsed claim over named inputs.
func BenchmarkLowerNames(b *testing.B) {
	l := NewLanguage(nil)
	s := &bench{b: bound.NewBuilder(), vals: map[string]Value{}}
	for i, name := range []string{"V_CELL", "R_BOT", "R_TOP", "V_LIMIT"} {
		s.vals[name] = Value{Class: Number, Reg: s.b.Var(i), Given: true}
	}
	e, _ := Parse(namesText)
	b.ReportAllocs()
	for b.Loop() {
		if _, errs := l.Criterion(e, s, s.b, nil); len(errs) > 0 {
			b.Fatal(errs[0])
		}
	}
}

func BenchmarkParseNames(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, errs := Parse(namesText); len(errs) > 0 {
			b.Fatal(errs[0])
		}
	}
}
