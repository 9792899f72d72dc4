package units

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// A column word may follow a unit that is glued to its number; after a bare
// number "min" is the minute.
func TestSplitGluedColumn(t *testing.T) {
	p, err := Split("1.9V min")
	require.Nil(t, err)
	require.Equal(t, Columns, p.Shape)
	require.Equal(t, "1.9V", p.Min.Text("1.9V min"))
	for _, s := range []string{"10 min", "1.5 min", "10. min", "1e3 min"} {
		p, err = Split(s)
		require.Nil(t, err, s)
		require.Equal(t, Single, p.Shape, s)
	}
}
