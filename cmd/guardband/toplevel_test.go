package main

import (
	"os/exec"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// TestTopLevel: what is tracked at the top of the tree is the list of
// DEVELOPERS.md; a built program or a record left there by hand fails.
func TestTopLevel(t *testing.T) {
	may := []string{"cmd", "notebook", "eval", "units", "report", "examples", "testdata",
		"README.md", "DEVELOPERS.md", "go.mod", "go.sum", "LICENSE"}
	cmd := exec.Command("git", "ls-files")
	cmd.Dir = "../.."
	out, err := cmd.Output()
	require.NoError(t, err)
	for _, path := range strings.Fields(string(out)) {
		top, _, _ := strings.Cut(path, "/")
		if !strings.HasPrefix(top, ".") {
			require.Contains(t, may, top, path)
		}
	}
}
