// Package sheets draws the invented data sheets of the examples. The parts,
// makers, codes and figures in them exist nowhere else.
//
//	go test ./examples/sheets -update            writes every PDF under examples
//	go test ./examples/sheets -run Committed -v   prints the SHA-256 of every PDF
package sheets

import (
	"bytes"
	"crypto/sha256"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "write the PDFs")

const largest = 120 << 10 // bytes of one sheet

func TestCommittedSheetsAreTheGeneratedOnes(t *testing.T) {
	total := 0
	for _, s := range All() {
		t.Run(s.Code, func(t *testing.T) {
			data, err := Render(s)
			require.NoError(t, err)
			require.Less(t, len(data), largest)
			path := filepath.Join("..", filepath.FromSlash(s.File))
			if *update {
				require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o755))
				require.NoError(t, os.WriteFile(path, data, 0o644))
			}
			committed, err := os.ReadFile(path)
			require.NoError(t, err)
			require.True(t, bytes.Equal(committed, data), "%s is not what is drawn; run: go test ./examples/sheets -update", s.File)
			t.Logf("%x  %s", sha256.Sum256(data), s.File)
			total += len(data)
		})
	}
	require.Less(t, total, 4<<20)
}

func TestNoStrayFileAmongTheSheets(t *testing.T) {
	known := map[string]bool{}
	for _, s := range All() {
		require.False(t, known[s.File], "%s twice", s.File)
		known[s.File] = true
	}
	for _, design := range []string{"weirkeeper", "granary", "guide"} {
		files, err := filepath.Glob(filepath.Join("..", design, "sheets", "*"))
		require.NoError(t, err)
		for _, f := range files {
			require.True(t, known[strings.TrimPrefix(filepath.ToSlash(f), "../")], "%s belongs to no sheet", f)
		}
	}
}
