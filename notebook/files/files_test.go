package files

import (
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"testing"

	"github.com/stretchr/testify/require"
)

func text(s string) func(io.Writer) error {
	return func(w io.Writer) error { _, err := io.WriteString(w, s); return err }
}

func names(t *testing.T, dir string) []string {
	list, err := os.ReadDir(dir)
	require.NoError(t, err)
	out := []string{}
	for _, d := range list {
		out = append(out, d.Name())
	}
	return out
}

// A file is there whole or not at all, with the permissions it had.
func TestWhole(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "record.html")
	require.NoError(t, os.WriteFile(path, []byte("old"), 0o600))
	full := errors.New("disk full")
	err := Write(path, func(w io.Writer) error { io.WriteString(w, "half"); return full })
	require.ErrorIs(t, err, full)
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	require.Equal(t, "old", string(data))
	require.NoError(t, Write(path, text("new")))
	data, err = os.ReadFile(path)
	require.NoError(t, err)
	require.Equal(t, "new", string(data))
	info, err := os.Stat(path)
	require.NoError(t, err)
	if runtime.GOOS != "windows" {
		require.Equal(t, os.FileMode(0o600), info.Mode().Perm())
	}
	require.Equal(t, []string{"record.html"}, names(t, dir))
}

// What a killed process left is removed by the next that writes there; what a
// living one is writing, and what is not ours, stays.
func TestLeftovers(t *testing.T) {
	dead := exec.Command(os.Args[0], "-test.run=^$")
	require.NoError(t, dead.Run())
	dir := t.TempDir()
	put := func(name string) { require.NoError(t, os.WriteFile(filepath.Join(dir, name), nil, 0o644)) }
	living := fmt.Sprintf(".record.html.guardband-%d-123", os.Getppid())
	put(fmt.Sprintf(".record.html.guardband-%d-123", dead.Process.Pid))
	put(living)
	put(".record.html.swp")
	put("record.guardband-1-1")
	require.NoError(t, Write(filepath.Join(dir, "record.json"), text("{}")))
	require.Equal(t, []string{living, ".record.html.swp", "record.guardband-1-1", "record.json"}, names(t, dir))
}

// Once stopped, nothing takes its place and nothing is left.
func TestStop(t *testing.T) {
	defer func() { stopped = false }()
	dir := t.TempDir()
	s, err := Stage(filepath.Join(dir, "a"), text("a"))
	require.NoError(t, err)
	tmp, done, err := Folder()
	require.NoError(t, err)
	Stop()
	require.NoDirExists(t, tmp)
	done()
	require.ErrorIs(t, Commit(s), ErrStopped)
	require.ErrorIs(t, Write(filepath.Join(dir, "b"), text("b")), ErrStopped)
	_, _, err = Folder()
	require.ErrorIs(t, err, ErrStopped)
	require.Empty(t, names(t, dir))
}
