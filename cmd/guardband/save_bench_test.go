package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime/debug"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/eval"
	"guardband/eval/record"
	"guardband/report/html"
)

// One saved block of the demo, from the file to its verdicts and to the page
// that watch shows, with everything else kept since the last save.
func BenchmarkSaveToVerdict(b *testing.B) { benchmarkSave(b, eval.Options{}, nil) }

func BenchmarkSaveToPage(b *testing.B) {
	benchmarkSave(b, eval.Options{Typeset: true, Pictures: "cited"}, func(r *record.Record) error {
		return html.Write(io.Discard, r, html.Options{Events: "events"})
	})
}

func benchmarkSave(b *testing.B, opt eval.Options, then func(*record.Record) error) {
	defer debug.SetGCPercent(debug.SetGCPercent(400)) // as in main
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
		r, err := a.compile(note, opt)
		require.NoError(b, err)
		require.NotZero(b, r.Summary.Passed)
		if then != nil {
			require.NoError(b, then(r))
		}
	}
	save(0)
	save(1)
	i := 0
	for b.Loop() {
		i++
		save(i)
	}
}
