package sheet

import (
	"context"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

// A fresh reader takes nothing from what earlier runs have kept.
func TestFreshReadsAnew(t *testing.T) {
	s := corpusSheets(t)[0]
	path, dir := pathOf(t, s), t.TempDir()
	ask := func(fresh bool) Finding {
		l := &Reader{eng: shared.eng, store: newStore(dir), slots: make(chan struct{}, 1), docs: map[string]*content{},
			memo: newPageMemo(memoPages)}
		if fresh {
			l.Fresh()
		}
		_, f, err := l.Check(context.Background(), path, []Query{{From: "1", Counted: true, Numbers: []Number{{Text: "0", Value: 0}}}})
		require.NoError(t, err)
		return f[0]
	}
	want := ask(false)
	changed := 0
	require.NoError(t, filepath.WalkDir(dir, func(p string, d os.DirEntry, err error) error {
		if err == nil && d.Name() == pageEntry(1) {
			changed++
			sha := filepath.Base(filepath.Dir(p))
			empty := encodePage(Page{Number: 1})
			return os.WriteFile(p, empty.seal(storeVersion+sha+pageEntry(1)), 0o600)
		}
		return err
	}))
	require.Equal(t, 1, changed)
	require.Equal(t, GradeNoText, ask(false).Grade) // what is kept counts
	require.Equal(t, want, ask(true))
}
