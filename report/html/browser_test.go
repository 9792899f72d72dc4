package html

import (
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/eval/record"
	"guardband/report/internal/fixture"
)

// TestInABrowser opens the pages in Chromium: axe audit, keyboard, filter,
// deep links, dark and phone and print, hostile text, no request. It needs
// chromium, node and what npm installs in the folder browser. GUARDBAND_PICTURES
// names a folder for pictures of the pages.
func TestInABrowser(t *testing.T) {
	node, nodeErr := exec.LookPath("node")
	browser, browserErr := exec.LookPath("chromium")
	fixture.Need(t, "node", nodeErr == nil)
	fixture.Need(t, "chromium", browserErr == nil)
	_, err := os.Stat("browser/node_modules/playwright-core")
	fixture.Need(t, "browser/node_modules (npm ci --prefix report/html/browser)", err == nil)

	dir := t.TempDir()
	for name, r := range map[string]*record.Record{
		"small": fixture.Small(), "large": fixture.Large(), "failures": fixture.Failures(), "empty": fixture.Empty(),
		"hostile": fixture.Hostile(), "many": fixture.Many(2000),
	} {
		writePage(t, filepath.Join(dir, name+".html"), r, Options{Base: "."})
	}
	writePage(t, filepath.Join(dir, "attention.html"), fixture.Small(), Options{Short: true})

	args := []string{"browser/check.mjs", dir}
	if to := os.Getenv("GUARDBAND_PICTURES"); to != "" {
		args = append(args, to)
	}
	cmd := exec.Command(node, args...)
	cmd.Env = append(os.Environ(), "CHROMIUM="+browser)
	out, err := cmd.CombinedOutput()
	require.NoError(t, err, "%s", out)
	t.Logf("%s", out)
}

func writePage(t *testing.T, path string, r *record.Record, opt Options) {
	t.Helper()
	f, err := os.Create(path)
	require.NoError(t, err)
	defer f.Close()
	require.NoError(t, Write(f, r, opt))
}
