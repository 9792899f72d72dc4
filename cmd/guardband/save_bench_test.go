package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/eval"
)

// BenchmarkSave is one saved block of the demo, from the file to its verdicts,
// with everything else as it was kept since the last save.
func BenchmarkSave(b *testing.B) {
	dir := b.TempDir()
	require.NoError(b, os.CopyFS(dir, os.DirFS("../../examples/weirkeeper")))
	note := filepath.Join(dir, "board.md")
	text, err := os.ReadFile(note)
	require.NoError(b, err)
	const line = "V_CUT  = 3.40 V"
	require.Contains(b, string(text), line)
	a := &app{ctx: context.Background(), in: strings.NewReader(""), out: io.Discard, errOut: io.Discard}
	a.rootCommand()
	defer a.close()
	save := func(i int) {
		changed := bytes.Replace(text, []byte(line), fmt.Appendf(nil, "V_CUT  = 3.%d V", 40+i%5), 1)
		require.NoError(b, os.WriteFile(note, changed, 0o600))
		r, err := a.compile(note, eval.Options{})
		require.NoError(b, err)
		require.NotZero(b, r.Summary.Passed)
	}
	save(0)
	save(1)
	i := 0
	for b.Loop() {
		i++
		save(i)
	}
}
