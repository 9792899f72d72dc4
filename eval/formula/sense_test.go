package formula

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// Frequencies and angular frequencies (ISO 80000-3: ω = 2π·f), torque and
// energy share a dimension and are not compared.
func TestSense(t *testing.T) {
	s := newBench(t, "W = 6.2 rad/s", "F = 1 Hz", "N = 60 rpm", "D = 360 °/s", "T = 1 s", "R = 1 kΩ", "C = 1 µF", "L = 1 mH", "G = 1 mS",
		"M = 2 N·m", "E = 3 J", "K = 1")
	for text, code := range map[string]string{
		"W >= 5 Hz": "type-sense", "W >= 5 rad/s": "", "W / (2 * pi) <= 1 Hz": "", "2 * pi * F <= 7 rad/s": "", "6.283 * F <= 7 rad/s": "",
		"F * 2 * pi <= 7 rad/s": "", "1.1 * F <= W": "type-sense", "W + F <= 9 Hz": "type-sense", "max(W, F) <= 9 Hz": "type-sense",
		"W <= 10 / T": "", "F <= 10 / T": "", "D <= N": "type-sense", "N <= F": "", "pi / 2 * F <= 2 Hz": "", "W <= 10 krad/s": "",
		"1 / (R * C) >= 900 Hz": "type-sense", "1 / R / C >= 900 Hz": "type-sense", "R / L >= 900 Hz": "type-sense", "G / C >= 900 Hz": "type-sense",
		"1 / sqrt(L * C) >= 900 Hz": "type-sense", "1 / (R * C) >= 900 rad/s": "", "1 / (2 * pi * R * C) >= 100 Hz": "",
		"1 / (R * C) / (2 * pi) >= 100 Hz": "", "K / (R * C) >= 900 Hz": "", "1.44 / (R * C) >= 900 Hz": "", "1 / (1.1 * R * C) >= 900 Hz": "",
		"1 / (2 * pi * sqrt(L * C)) >= 900 Hz": "", "R * C <= 2 ms": "", "M <= E": "type-sense", "M <= 3 N·m": "",
		"M * 2 * pi <= 20 J": "", "M * 3 rad <= 20 J": "", "M * 3 <= 20 J": "type-sense",
		"E <= 1 Wh": "", "M <= 3 N*m": "",
	} {
		_, errs := s.criterion(text, nil)
		got, _, _ := strings.Cut(codes(errs), "@")
		require.Equal(t, code, got, text)
	}
}
