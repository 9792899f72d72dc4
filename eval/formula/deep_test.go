package formula

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// TestDeep: nothing that is typed reaches the end of the parser's stack.
func TestDeep(t *testing.T) {
	deep := 100000
	for name, text := range map[string]string{
		"parentheses": strings.Repeat("(", deep) + "1" + strings.Repeat(")", deep),
		"minus":       strings.Repeat("-", deep) + "1",
		"not":         strings.Repeat("not (", deep) + "a" + strings.Repeat(")", deep),
		"lists":       strings.Repeat("[", deep),
		"powers":      strings.Repeat("2^", deep) + "2",
		"calls":       strings.Repeat("abs(", deep),
	} {
		_, errs := Parse(text)
		require.Len(t, errs, 1, name)
		require.Equal(t, "formula-long", errs[0].Code)
		_, errs = Parse(text[:MaxBytes])
		if name == "powers" { // right to left without brackets: 2000 deep is fine
			continue
		}
		require.NotEmpty(t, errs, name)
		require.Equal(t, "formula-deep", errs[0].Code, name)
	}
	chain := strings.Repeat("a^", MaxBytes/2-1) + "a"
	e, errs := Parse(chain)
	require.Empty(t, errs)
	require.NotEmpty(t, e.Root.Canonical(chain))
	sum := strings.Repeat("1+", MaxBytes/2-1) + "1"
	s := newBench(t)
	require.Equal(t, "2048", s.constant(sum).RatString())
}

// TestFreshParser guards the trap that a reused parser keeps offsets: formulas
// of different lengths one after the other read right.
func TestFreshParser(t *testing.T) {
	for range 3 {
		for _, text := range []string{"a", "vdd_max", "a + b * c", "x"} {
			e, errs := Parse(text)
			require.Empty(t, errs)
			require.Equal(t, text, e.Root.Canonical(text))
		}
	}
}
