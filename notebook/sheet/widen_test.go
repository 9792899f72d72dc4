package sheet

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// A number that is not there widens the picture to the end of the row, where
// the true one stands.
func TestMissingNumberShowsTheWholeRow(t *testing.T) {
	v := newView(typed("Parameter    Symbol    Min    Typ    Max    Unit", "Dropout voltage    VDO    -    110    250    mV"))
	k := checker{head: &header{Pages: 1}}
	for missing, wide := range map[float64]bool{230: true, 110: false} {
		q := Query{Quote: "Dropout voltage", Numbers: []Number{{Text: "x", Value: missing, Unit: "mV", Column: "typ"}}}
		f, err := k.judge(q, Finding{Page: 1}, []*view{v}, false)
		require.NoError(t, err)
		words := v.page.Lines[1].Words
		right := 0.0
		for _, b := range f.Boxes {
			right = max(right, b.X1)
		}
		require.Equal(t, wide, right >= words[len(words)-1].Box.X1, "%v mV", missing)
	}
}
