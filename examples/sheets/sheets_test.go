package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

const largest = 120 << 10 // bytes of one sheet

func TestCommittedSheetsAreTheGeneratedOnes(t *testing.T) {
	total := 0
	for _, s := range All() {
		t.Run(s.Code, func(t *testing.T) {
			data, err := Render(s)
			require.NoError(t, err)
			require.Less(t, len(data), largest)
			committed, err := os.ReadFile(filepath.Join("..", filepath.FromSlash(s.File)))
			require.NoError(t, err)
			require.True(t, bytes.Equal(committed, data), "%s is not what the program writes; run: go run ./examples/sheets", s.File)
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

func TestArguments(t *testing.T) {
	require.ErrorContains(t, run([]string{"nonsense"}, &bytes.Buffer{}), "nonsense")
	require.Equal(t, "2d711642b726b04401627ca9fbac32f5c8530fb1903cc4db02258717921a4881  a/b.pdf\n", digestLine("a/b.pdf", []byte("x")))
}
