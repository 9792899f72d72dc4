package notebook

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

// TestBackslashes checks that a path written with backslashes leads to the same
// file as with slashes, inside the folder and not out of it.
func TestBackslashes(t *testing.T) {
	dir := t.TempDir()
	root, err := filepath.EvalSymlinks(dir)
	require.NoError(t, err)
	require.NoError(t, os.MkdirAll(filepath.Join(root, "lib", "parts"), 0o755))
	require.NoError(t, os.WriteFile(filepath.Join(root, "lib", "parts", "a.md"), nil, 0o644))
	b := &Book{Root: root}
	for _, rel := range []string{`lib/parts/a.md`, `lib\parts\a.md`, `lib\parts/../parts\a.md`, `.\lib\parts\a.md`} {
		got, err := b.Resolve(nil, rel)
		require.NoError(t, err, rel)
		require.Equal(t, filepath.Join(root, "lib", "parts", "a.md"), got)
		got, err = b.Document(nil, rel)
		require.NoError(t, err, rel)
		require.Equal(t, filepath.Join(root, "lib", "parts", "a.md"), got)
	}
	for _, rel := range []string{`..\a.md`, `lib\..\..\a.md`} {
		_, err := b.Resolve(nil, rel)
		require.ErrorIs(t, err, ErrOutside, rel)
	}
	require.Equal(t, "lib/parts/a.md", b.nearPath(nil, `lib\parts\b.md`))
}
