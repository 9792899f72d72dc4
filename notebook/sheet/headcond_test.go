package sheet

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// TestHeadConditions reads what stands above a table.
func TestHeadConditions(t *testing.T) {
	head := "Parameter    Symbol    Conditions    Min    Typ    Max    Unit"
	rows := []string{"Output voltage    VOUT    -    2.94    3.00    3.06    V", "Dropout voltage    VDO    VIN = 2.8 V    -    110    210    mV"}
	for _, c := range []struct {
		above []string
		want  [2]string
	}{
		{[]string{"VIN from VOUT + 0.3 V to 5.5 V, TJ from -40 °C to 125 °C, unless stated otherwise."},
			[2]string{"TJ from -40 °C to 125 °C; VIN from VOUT + 0.3 V to 5.5 V", "TJ from -40 °C to 125 °C; VIN = 2.8 V"}},
		{[]string{"VIN = 5 V, TA = 25 °C (unless otherwise noted)"}, [2]string{"TA = 25 °C; VIN = 5 V", "TA = 25 °C; VIN = 2.8 V"}},
		{[]string{"Unless otherwise noted all figures hold at VIN = 5 V."}, [2]string{"", "VIN = 2.8 V"}}, // not understood: nothing is said
		{[]string{"A regulator with VIN = 5 V is shown."}, [2]string{"", "VIN = 2.8 V"}},
		{nil, [2]string{"", "VIN = 2.8 V"}},
	} {
		v := newView(typed(append(append(append([]string{}, c.above...), head), rows...)...))
		require.Len(t, v.tables(), 1)
		for i := range 2 {
			got := ""
			for _, h := range headsOf([]tableRow{{v, v.tables()[0], &v.tables()[0].Rows[i]}}) {
				if got != "" {
					got += "; "
				}
				got += h.Text
			}
			require.Equal(t, c.want[i], got, "%q row %d", c.above, i)
		}
	}
}
