package eval

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/notebook"
)

// asTypedAlone are the labels that decide nothing: the record shows them where
// they stand. `include` is read by the notebook.
var asTypedAlone = []string{"note", "version", "include", "market", "instrument", "calibrated", "url", "language",
	"board", "entry", "items", "decision",
	"severity", "type", "person"}

// TestEveryLabelIsRead: a label that the language takes is asked for by name
// somewhere in this package or a room of it; one that nobody reads would be passed over in silence.
func TestEveryLabelIsRead(t *testing.T) {
	var files []string
	for _, dir := range []string{"", "checks/", "circuit/"} {
		in, err := filepath.Glob(dir + "*.go")
		require.NoError(t, err)
		files = append(files, in...)
	}
	var source strings.Builder
	for _, f := range files {
		if !strings.HasSuffix(f, "_test.go") {
			data, err := os.ReadFile(f)
			require.NoError(t, err)
			source.Write(data)
		}
	}
	named := map[string]string{notebook.InUse: "notebook.InUse", notebook.AtLeastZero: "notebook.AtLeastZero",
		notebook.Waiver: "notebook.Waiver", notebook.Hazard: "notebook.Hazard"}
	for _, kind := range notebook.Kinds() {
		for _, l := range notebook.Labels(kind) {
			asked := strings.Contains(source.String(), `"`+l+`"`) || named[l] != "" && strings.Contains(source.String(), named[l])
			require.NotEqual(t, slices.Contains(asTypedAlone, l), asked,
				"label %s of %s: nothing in eval reads it and `asTypedAlone` does not list it, or it does though something reads it", l, kind)
		}
	}
}
