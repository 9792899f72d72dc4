package sheet

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestSheetsAreReproducible(t *testing.T) {
	l := corpusLayouts()
	for _, k := range []int{0, 8, 10} {
		a, err := corpusWrite(corpusDevices()[0], l[k])
		require.NoError(t, err)
		b, err := corpusWrite(corpusDevices()[0], l[k])
		require.NoError(t, err)
		require.Equal(t, a.PDF, b.PDF, l[k].Name)
		require.Len(t, a.Pages, 7)
	}
}
