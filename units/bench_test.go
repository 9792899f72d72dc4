package units

import (
	"math/big"
	"strconv"
	"strings"
	"testing"
)

// Floors stand beside what they are a floor of: strconv and math/big alone on
// the same numbers, in the same run.

func BenchmarkParseLiteral(b *testing.B) {
	for _, s := range []string{"3.3 V", "4.7 kΩ", "-40 °C", "2.2 uF", "5 nV/√Hz", "65 °C/W", "4k7 ohm", "1 inch",
		"123456789012345678901234567890 V"} {
		b.Run(s, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := ParseLiteral(s); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
	b.Run("floor/strconv 3.3", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			_, _ = strconv.ParseFloat("3.3", 64)
		}
	})
	b.Run("floor/big.Rat.SetString 3.3", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			_, _ = new(big.Rat).SetString("3.3")
		}
	})
	b.Run("floor/big.Rat.SetFrac64 33 10", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			_ = new(big.Rat).SetFrac64(33, 10)
		}
	})
}

// The literals of a large notebook, read one after the other from one text.
func BenchmarkScanNotebook60000(b *testing.B) {
	lines := []string{"3.3 V", "4.7 kΩ", "-40 °C", "2.2 µF", "150 mA", "65 K/W", "10 %", "50 ppm/K", "1.2e-6 A", "100"}
	text := strings.Repeat(strings.Join(lines, "\n")+"\n", 6000)
	b.ReportAllocs()
	for b.Loop() {
		at, n := 0, 0
		for at < len(text) {
			_, end, ok, err := ScanLiteral(text, at, true)
			if err != nil || !ok {
				b.Fatal(err)
			}
			at = end + 1
			n++
		}
		if n != 60000 {
			b.Fatal(n)
		}
	}
}

func BenchmarkParseValue(b *testing.B) {
	for _, s := range []string{"1.9 V to 5.6 V", "3.3 V ± 2 %", "min 2.7 V, typ 3.3 V, max 3.6 V"} {
		b.Run(s, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := ParseValue(s); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkSplitFormula(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Split("V_IN * R_B / (R_T + R_B)"); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkFormat(b *testing.B) {
	volt := Type{Dim: mustDim("V")}
	short, third := big.NewRat(33, 10), big.NewRat(1, 3)
	b.Run("3.3 V", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			Format(short, volt, Style{})
		}
	})
	b.Run("third of a volt", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			Format(third, volt, Style{})
		}
	})
	b.Run("float", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			FormatFloat(1.0/3, volt, Style{})
		}
	})
	b.Run("against", func(b *testing.B) {
		limit := big.NewRat(33000001, 10000000)
		b.ReportAllocs()
		for b.Loop() {
			FormatAgainst(short, limit, volt, Style{})
		}
	})
	b.Run("floor/strconv", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			_ = strconv.FormatFloat(1.0/3, 'g', 6, 64)
		}
	})
	b.Run("floor/big.Rat.FloatString third", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			_ = third.FloatString(6)
		}
	})
}

func BenchmarkArithmetic(b *testing.B) {
	x, y := big.NewRat(33, 10), big.NewRat(102, 100)
	tx, ty := Type{Dim: mustDim("V")}, Type{}
	b.Run("typed exact product", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if _, err := Combine("*", tx, ty, "3.3 V", "1.02"); err != nil {
				b.Fatal(err)
			}
			_ = new(big.Rat).Mul(x, y)
		}
	})
	b.Run("floor/big.Rat product", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			_ = new(big.Rat).Mul(x, y)
		}
	})
}

func BenchmarkBuildTable(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		buildTable()
	}
}

func BenchmarkPreferred(b *testing.B) {
	v := big.NewRat(3578, 1)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := NearestPreferred(v, "E96"); err != nil {
			b.Fatal(err)
		}
	}
}
