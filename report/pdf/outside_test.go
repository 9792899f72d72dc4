package pdf

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"
)

// program gives the path of an outside program. A test that needs it is
// skipped where it is missing, unless GUARDBAND_NO_SKIP forbids that.
func program(t testing.TB, name string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil {
		if os.Getenv("GUARDBAND_NO_SKIP") != "" {
			t.Fatalf("%s is not installed and GUARDBAND_NO_SKIP is set", name)
		}
		t.Skipf("%s is not installed", name)
	}
	return path
}

// file writes b to a temporary file.
func file(t testing.TB, b []byte) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "record.pdf")
	require.NoError(t, os.WriteFile(path, b, 0o644))
	return path
}

// run gives the output of an outside program and fails on errors or on
// anything said on standard error.
func run(t testing.TB, name string, args ...string) string {
	t.Helper()
	cmd := exec.Command(program(t, name), args...)
	var out, errs bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &errs
	require.NoError(t, cmd.Run(), "%s: %s", name, errs.String())
	require.Empty(t, errs.String(), "%s complains", name)
	return out.String()
}

var kids = regexp.MustCompile(`/Type /Pages\n/Kids \[[^\]]*\]\n/Count (\d+)`)

// pageCount reads the number of pages from the page tree.
func pageCount(t testing.TB, b []byte) int {
	t.Helper()
	m := kids.FindSubmatch(b)
	require.NotNil(t, m, "no page tree")
	n, err := strconv.Atoi(string(m[1]))
	require.NoError(t, err)
	return n
}
