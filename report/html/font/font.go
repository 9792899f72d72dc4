// Package font holds the mathematical font that the HTML record embeds, so
// that brackets and roots stretch on every machine. math.woff is a subset of
// DejaVu Math TeX Gyre (see LICENCE.txt), made and checked by the test of
// this package: go test ./report/html/font -update.
package font

import (
	_ "embed"
	"strings"
)

// Family is the name under which pages declare the font.
const Family = "Guardband Math"

// Math is the font as WOFF 1.0.
//
//go:embed math.woff
var Math []byte

// Runes are the characters the font has: Latin, Greek, the signs that
// formulas are written with, and the mathematical italics that browsers put in
// place of single letters.
func Runes() []rune {
	var out []rune
	add := func(from, to rune) {
		for r := from; r <= to; r++ {
			out = append(out, r)
		}
	}
	add(' ', '~')
	add('\u00a0', '\u00ff')
	add('Α', 'ω')
	add('𝐴', '𝑧')
	add('𝛢', '𝜛')
	for _, s := range strings.Fields("− · × ⋅ ÷ ± ∓ ≤ ≥ < > ≠ ≈ ≡ √ ∞ ∑ ∏ ∫ ∈ ∉ ∥ ∠ ∝ Δ ∂ ℎ ′ ″ … – — ‖ ∣ ⌊ ⌋ ⌈ ⌉ → ⇒ ↔ ℓ ⌀ ₀ ₁ ₂ ₃ ₄ ₅ ₆ ₇ ₈ ₉ ⁻ ⁰ ⁴ ⁵ ⁶ ⁷ ⁸ ⁹ ∧ ∨ ¬") {
		out = append(out, []rune(s)...)
	}
	return append(out, '\u2009', '\u202f', '\u2061', '\u2062', '\u2063')
}
