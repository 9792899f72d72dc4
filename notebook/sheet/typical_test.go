package sheet

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// TestTypical: a number is typical where all that its page says of it is so.
func TestTypical(t *testing.T) {
	for _, c := range []struct {
		lines   []string
		typical bool
	}{
		{[]string{"The thermal resistance is typically 190 K/W."}, true},
		{[]string{"Thermal resistance 190 K/W (typ.)"}, true},
		{[]string{"Thermal resistance 190 K/W typical"}, true},
		{[]string{"Thermal resistance 190 K/W"}, false},
		{[]string{"A typical board, thermal resistance 190 K/W"}, false},
		{[]string{"Typical 150 K/W, at most 190 K/W"}, false},
		{[]string{"typically 190 K/W", "no more than 190 K/W"}, false},
		{[]string{"Parameter    Symbol    Min    Typ    Max    Unit", "Junction to ambient    RJA    -    190    -    K/W"}, true},
		{[]string{"Parameter    Symbol    Min    Typ    Max    Unit", "Junction to ambient    RJA    -    150    190    K/W"}, false},
		{[]string{"Parameter    Symbol    Value    Unit", "Junction to ambient    RJA    190    K/W"}, false},
		{[]string{"Parameter    Symbol    Value    Unit", "Typical resistance    RJA    190    K/W"}, true},
	} {
		w := newWanted(Number{Text: "190", Value: 190, Unit: "K/W"})
		require.Equal(t, c.typical, typical(w, nil, []*view{newView(typed(c.lines...))}), "%q", c.lines)
	}
}
