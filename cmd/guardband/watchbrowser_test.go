package main

import (
	"bufio"
	"context"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// TestWatchInABrowser saves a notebook five times, each half a second after
// the page was refreshed: every save comes to the page, which keeps its place
// and what is open, and tells and marks what changed. It needs chromium, node
// and what npm installs in report/html/browser.
func TestWatchInABrowser(t *testing.T) {
	node, nodeErr := exec.LookPath("node")
	browser, browserErr := exec.LookPath("chromium")
	_, err := os.Stat("../../report/html/browser/node_modules/playwright-core")
	if nodeErr != nil || browserErr != nil || err != nil {
		require.Empty(t, os.Getenv("GUARDBAND_NO_SKIP"), "node, chromium or playwright-core is missing")
		t.Skip("node, chromium and report/html/browser/node_modules are needed")
	}
	dir := t.TempDir()
	require.NoError(t, os.CopyFS(dir, os.DirFS("../../examples/weirkeeper")))
	note := filepath.Join(dir, "board.md")
	data, err := os.ReadFile(note)
	require.NoError(t, err)
	line := regexp.MustCompile(`(?m)^V_CUT .*$`).FindString(string(data))
	require.NotEmpty(t, line)

	ctx, stop := context.WithCancel(context.Background())
	defer stop()
	out, in := io.Pipe()
	done := make(chan int, 1)
	go func() {
		done <- run(ctx, []string{"watch", note}, strings.NewReader(""), in, io.Discard)
		in.Close()
	}()
	lines := bufio.NewScanner(out)
	address := ""
	for address == "" && lines.Scan() {
		address = regexp.MustCompile(`http://127\.0\.0\.1:\d+/\w{20,}/`).FindString(lines.Text())
	}
	require.NotEmpty(t, address)
	go io.Copy(io.Discard, out)
	cmd := exec.Command(node, "../../report/html/browser/watch.mjs", address, note, line, "V_CUT = 3.00 V [assumed: a test]")
	cmd.Env = append(os.Environ(), "CHROMIUM="+browser)
	said, err := cmd.CombinedOutput()
	require.NoError(t, err, "%s", said)
	t.Logf("%s", said)
	stop()
	require.Zero(t, <-done)
}
