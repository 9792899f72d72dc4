package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// atRoot runs a test in the repository's root folder, where README's commands
// are typed.
func atRoot(t *testing.T) string {
	t.Helper()
	root, err := filepath.Abs(filepath.Join("..", ".."))
	require.NoError(t, err)
	t.Chdir(root)
	t.Setenv("XDG_CACHE_HOME", filepath.Join(os.TempDir(), "guardband-test-cache"))
	return root
}

func guardband(t *testing.T, args ...string) (code int, out, errOut string) {
	t.Helper()
	var o, e bytes.Buffer
	code = run(context.Background(), args, strings.NewReader(""), &o, &e)
	return code, o.String(), e.String()
}

// TestReadmeCommands runs the two commands that README.md promises: the main
// job as written there, and the test command, which is this very run, by its
// spelling there and in .ci/run.
func TestReadmeCommands(t *testing.T) {
	atRoot(t)
	readme, err := os.ReadFile("README.md")
	require.NoError(t, err)
	commands := regexp.MustCompile(`(?m)^    (go (?:run|test) .*)$`).FindAllStringSubmatch(string(readme), -1)
	require.GreaterOrEqual(t, len(commands), 2)
	main, found := strings.CutPrefix(commands[0][1], "go run ./cmd/guardband ")
	require.True(t, found, commands[0][1])
	args := strings.Fields(main)
	require.Equal(t, "review", args[len(args)-1])
	dir := t.TempDir()
	args[len(args)-1] = dir
	code, out, errOut := guardband(t, append(args, "--on", "2026-11-24")...)
	require.Zero(t, code, out+errOut)
	for _, f := range []string{"record.html", "record.pdf", "record.json"} {
		st, err := os.Stat(filepath.Join(dir, f))
		require.NoError(t, err)
		require.Greater(t, st.Size(), int64(10_000), f)
	}

	require.Equal(t, "go test ./...", commands[1][1])
	ci, err := os.ReadFile(filepath.Join(".ci", "run"))
	require.NoError(t, err)
	require.Contains(t, string(ci), "\ngo test ./...")
}

// TestReadmeTour does what the tour of README.md says, and demands what it
// says happens.
func TestReadmeTour(t *testing.T) {
	atRoot(t)
	readme, err := os.ReadFile("README.md")
	require.NoError(t, err)
	t.Chdir(t.TempDir())
	code, out, _ := guardband(t, "new", "pot")
	require.Zero(t, code)
	for _, l := range strings.Split(strings.TrimSpace(out), "\n") {
		require.Contains(t, string(readme), "    "+l+"\n", "the tour shows what `new` prints")
	}
	code, out, errOut := guardband(t, "check", "pot")
	require.Zero(t, code, out+errOut)

	board := filepath.Join("pot", "board.md")
	text, err := os.ReadFile(board)
	require.NoError(t, err)
	require.Contains(t, string(text), "resistor 6k8")
	lowered := strings.Replace(string(text), "resistor 6k8", "resistor 3k3", 1)
	require.NoError(t, os.WriteFile(board, []byte(lowered), 0o644))
	code, out, _ = guardband(t, "check", "pot")
	require.Equal(t, exitClaims, code)
	require.Contains(t, out, "failed   fits")
	require.Contains(t, out, "U1.V_SIG = 2.6 V")

	require.NoError(t, os.WriteFile(board, text, 0o644))
	part := filepath.Join("pot", "parts", "soil4.md")
	note, err := os.ReadFile(part)
	require.NoError(t, err)
	typical := strings.Replace(string(note), "min 0.2 V, typ 2.3 V, max 2.6 V", "typ 2.3 V", 1)
	require.NotEqual(t, string(note), typical)
	require.NoError(t, os.WriteFile(part, []byte(typical), 0o644))
	code, out, _ = guardband(t, "check", "pot")
	require.Equal(t, exitClaims, code)
	require.Contains(t, out, "note a max of U1.V_SIG")
}

// TestSameInputSameBytes writes every form of a record twice.
func TestSameInputSameBytes(t *testing.T) {
	atRoot(t)
	var first map[string][]byte
	for range 2 {
		dir := t.TempDir()
		code, out, errOut := guardband(t, "report", "examples/weirkeeper", "--out", dir, "--on", "2026-11-24",
			"--format", strings.Join(formNames(), ","))
		require.Zero(t, code, out+errOut)
		files := map[string][]byte{}
		entries, err := os.ReadDir(dir)
		require.NoError(t, err)
		require.Len(t, entries, len(formNames()))
		for _, e := range entries {
			files[e.Name()], err = os.ReadFile(filepath.Join(dir, e.Name()))
			require.NoError(t, err)
		}
		if first == nil {
			first = files
			continue
		}
		for name := range first {
			same := bytes.Equal(first[name], files[name]) || name == "record.html" && sameBut(first[name], files[name])
			require.True(t, same, name)
		}
	}
}

// sameBut compares pages that lie in different folders: links to files differ
// by the way there.
func sameBut(a, b []byte) bool {
	link := regexp.MustCompile(`href="[^"#][^"]*"`)
	return bytes.Equal(link.ReplaceAll(a, nil), link.ReplaceAll(b, nil))
}
