package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// TestLicences holds licences.txt to the modules that are linked: every licence
// and notice file of each, word for word. GUARDBAND_UPDATE=1 writes it.
func TestLicences(t *testing.T) {
	list, err := exec.Command("go", "list", "-deps", "-f", "{{with .Module}}{{.Path}} {{.Version}} {{.Dir}}{{end}}", ".").Output()
	require.NoError(t, err)
	seen := map[string]bool{}
	var modules [][]string
	for _, l := range strings.Split(string(list), "\n") {
		f := strings.Fields(l)
		if len(f) == 3 && !seen[f[0]] {
			seen[f[0]] = true
			modules = append(modules, f)
		}
	}
	require.Greater(t, len(modules), 8)
	slices.SortFunc(modules, func(a, b []string) int { return strings.Compare(a[0], b[0]) })
	var b strings.Builder
	b.WriteString("What guardband is built from, with the notices of each.\n\n" +
		"The reader of PDF documents is PDFium as a WebAssembly module, as github.com/klippa-app/go-pdfium\n" +
		"carries it; PDFium and the libraries in it are under licences of their own (BSD, Apache 2.0 and others),\n" +
		"which that module does not repeat. Go's standard library is under the licence of golang.org/x/text.\n")
	for _, m := range modules {
		fmt.Fprintf(&b, "\n%s\n%s\n", strings.Repeat("=", 72), strings.TrimSpace(m[0]+" "+m[1]))
		files, err := os.ReadDir(m[2])
		require.NoError(t, err)
		found := 0
		for _, f := range files {
			name := strings.ToUpper(f.Name())
			if !strings.HasPrefix(name, "LICEN") && !strings.HasPrefix(name, "NOTICE") && !strings.HasPrefix(name, "COPYING") || f.IsDir() {
				continue
			}
			text, err := os.ReadFile(filepath.Join(m[2], f.Name()))
			require.NoError(t, err)
			fmt.Fprintf(&b, "\n%s\n\n", strings.TrimSpace(strings.ReplaceAll(string(text), "\r", "")))
			found++
		}
		require.Positive(t, found, "%s has no licence file", m[0])
	}
	if os.Getenv("GUARDBAND_UPDATE") != "" {
		require.NoError(t, os.WriteFile("licences.txt", []byte(b.String()), 0o644))
	}
	require.Equal(t, b.String(), licences, "GUARDBAND_UPDATE=1 go test ./cmd/guardband -run Licences")
}

func TestAbout(t *testing.T) {
	code, out := command("--version")
	require.Zero(t, code)
	require.Contains(t, out, version)
	require.Contains(t, out, "go1.")
	code, out = command("schema")
	require.Zero(t, code)
	require.Contains(t, out, `"$schema"`)
	code, out = command("licences")
	require.Zero(t, code)
	require.Contains(t, out, "github.com/yuin/goldmark")
}
