package sheet

import (
	"os"
	"path/filepath"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"
)

// engineCache keeps the compiled engine between test runs; it holds no text.
func engineCache() string { return filepath.Join(os.TempDir(), "guardband-engine-test") }

// library gives a library with an empty store and a warm engine.
func library(t testing.TB) *Reader {
	t.Helper()
	l := Open(t.TempDir())
	l.eng = newEngine(engineCache())
	t.Cleanup(func() { require.NoError(t, l.Close()) })
	return l
}

// shared is one library for all sheets of the corpus, so that each page is
// read once per run; its store is gone when the tests end.
var shared *Reader

func TestMain(m *testing.M) {
	dir, err := os.MkdirTemp("", "guardband-sheet-test")
	if err != nil {
		panic(err)
	}
	shared = Open(dir)
	shared.eng = newEngine(engineCache())
	code := m.Run()
	if err := shared.Close(); err != nil && code == 0 {
		code = 1
	}
	_ = os.RemoveAll(dir)
	os.Exit(code)
}

// corpusSheets gives the sheets of every layout, of two devices each when
// testing is to be short; every device is set in some layout.
func corpusSheets(t testing.TB) []corpusSheet {
	var out []corpusSheet
	devices := corpusDevices()
	for i, lay := range corpusLayouts() {
		for k, d := range devices {
			if testing.Short() && k != i%len(devices) && k != (i+1)%len(devices) {
				continue
			}
			out = append(out, sheetOf(t, d, lay))
		}
	}
	return out
}

// pathOf writes a sheet to disk, once per run.
func pathOf(t testing.TB, s corpusSheet) string {
	t.Helper()
	path := filepath.Join(shared.store.dir, "..", s.Name+".pdf")
	if _, err := os.Stat(path); err != nil {
		require.NoError(t, os.WriteFile(path, s.PDF, 0o600))
	}
	return path
}

var made = struct {
	sync.Mutex
	sheets map[string]corpusSheet
}{sheets: map[string]corpusSheet{}}

// sheetOf writes one sheet of the corpus, once per run.
func sheetOf(t testing.TB, d corpusDevice, l corpusLayout) corpusSheet {
	t.Helper()
	made.Lock()
	defer made.Unlock()
	key := d.Name + l.Name
	if s, ok := made.sheets[key]; ok {
		return s
	}
	s, err := corpusWrite(d, l)
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

func layoutNamed(t testing.TB, name string) corpusLayout {
	for _, l := range corpusLayouts() {
		if l.Name == name {
			return l
		}
	}
	require.Fail(t, "no layout "+name)
	return corpusLayout{}
}
