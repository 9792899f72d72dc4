package corpus

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestSheetsAreReproducible(t *testing.T) {
	l := Layouts()
	for _, k := range []int{0, 8, 10} {
		a, err := Write(Devices()[0], l[k])
		require.NoError(t, err)
		b, err := Write(Devices()[0], l[k])
		require.NoError(t, err)
		require.Equal(t, a.PDF, b.PDF, l[k].Name)
		require.Len(t, a.Pages, 7)
	}
}

func TestDevWrite(t *testing.T) {
	dir := os.Getenv("DEVOUT")
	if dir == "" {
		return
	}
	for _, d := range Devices() {
		for _, l := range Layouts() {
			s, err := Write(d, l)
			require.NoError(t, err)
			require.NoError(t, os.WriteFile(filepath.Join(dir, s.Name+".pdf"), s.PDF, 0o644))
		}
	}
}
