package sheet

import (
	"os"
	"path/filepath"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/notebook/sheet/internal/corpus"
)

// engineCache keeps the compiled engine between test runs; it holds no text.
func engineCache() string { return filepath.Join(os.TempDir(), "guardband-engine-test") }

// library gives a library with an empty store and a warm engine.
func library(t testing.TB) *Library {
	t.Helper()
	l := Open(t.TempDir())
	l.eng = newEngine(engineCache())
	t.Cleanup(func() { require.NoError(t, l.Close()) })
	return l
}

var made = struct {
	sync.Mutex
	sheets map[string]corpus.Sheet
}{sheets: map[string]corpus.Sheet{}}

// sheetOf writes one sheet of the corpus, once per run.
func sheetOf(t testing.TB, d corpus.Device, l corpus.Layout) corpus.Sheet {
	t.Helper()
	made.Lock()
	defer made.Unlock()
	key := d.Name + l.Name
	if s, ok := made.sheets[key]; ok {
		return s
	}
	s, err := corpus.Write(d, l)
	require.NoError(t, err)
	made.sheets[key] = s
	return s
}

// put writes bytes to a file of the test.
func put(t testing.TB, name string, data []byte) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	require.NoError(t, os.WriteFile(path, data, 0o600))
	return path
}

func layoutNamed(t testing.TB, name string) corpus.Layout {
	for _, l := range corpus.Layouts() {
		if l.Name == name {
			return l
		}
	}
	require.Fail(t, "no layout "+name)
	return corpus.Layout{}
}
