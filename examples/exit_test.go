package examples_test

import (
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

// The command itself, with its exit codes: 0 passed or waived, 1 failed or
// open, 2 errors in the notebook.
func TestCommandExitCodes(t *testing.T) {
	program := filepath.Join(t.TempDir(), "guardband")
	out, err := exec.Command("go", "build", "-o", program, "guardband/cmd/guardband").CombinedOutput()
	require.NoError(t, err, "%s", out)
	for _, d := range designs {
		t.Run(d.path, func(t *testing.T) {
			cmd := exec.Command(program, "check", "--on", asOf, "--root", d.root, d.path)
			cmd.Env = append(os.Environ(), "XDG_CACHE_HOME="+cache)
			out, err := cmd.CombinedOutput()
			var exit *exec.ExitError
			code := 0
			if errors.As(err, &exit) {
				code = exit.ExitCode()
			} else {
				require.NoError(t, err)
			}
			require.Equal(t, d.exit, code, "%s", out)
			for id, v := range d.others {
				require.Regexp(t, `(?m)^(\S+:\d+:\d+: )?`+string(v)+` +`+id+`\b`, string(out))
			}
		})
	}
}
