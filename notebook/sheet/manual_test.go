package sheet

import (
	"context"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

// TestManualsAreNoDataSheets drafts from what manuals the machine has: texts
// about software, in which no part is to be found.
func TestManualsAreNoDataSheets(t *testing.T) {
	if testing.Short() {
		t.Skip("takes seconds")
	}
	for _, path := range manuals(t) {
		d, err := shared.Draft(context.Background(), path)
		require.NoError(t, err, path)
		t.Logf("%-28s pages %4d  ratings %d  operating %d  spec %d  pins %d  orders %d  packages %d",
			filepath.Base(path), d.Survey.Info.Pages, len(d.Ratings), len(d.Operating), len(d.Spec), len(d.Pins),
			len(d.Orders), len(d.Packages))
		require.Empty(t, d.Ratings, path)
		require.Empty(t, d.Operating, path)
		require.Empty(t, d.Orders, path)
		require.Empty(t, d.Pins, path)
		require.Empty(t, d.Packages, path)
	}
}
