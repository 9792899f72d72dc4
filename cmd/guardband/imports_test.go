package main

import (
	"encoding/json"
	"io"
	"os/exec"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// arrows says which of our packages each may import. DEVELOPERS.md explains
// why; an arrow that is not here fails the build.
var arrows = map[string][]string{
	"units":                   {},
	"notebook":                {"units"},
	"notebook/sheet":          {"notebook/files"},
	"notebook/sheet/draft":    {"units", "notebook", "notebook/sheet"},
	"notebook/files":          {},
	"notebook/git":            {},
	"eval/bound":              {},
	"eval/network":            {"eval/bound"},
	"eval/formula":            {"units", "eval/bound"},
	"eval/trade":              {"units", "eval/formula"},
	"eval/record":             {},
	"eval/circuit":            {"units", "notebook"},
	"eval/lists":              {"units", "notebook", "eval/circuit", "eval/record"},
	"eval":                    {"units", "notebook", "notebook/sheet", "eval/bound", "eval/formula", "eval/record", "eval/circuit", "eval/lists"},
	"eval/checks":             {"units", "notebook", "eval", "eval/circuit", "eval/lists", "eval/record"},
	"eval/workspace":          {"notebook", "notebook/sheet", "eval", "eval/record"},
	"report/draw":             {"eval/record"},
	"report/internal/fixture": {"eval/record"},
	"report/internal/words":   {"eval/record", "report/draw"},
	"report/outline":          {"eval/record", "report/draw", "report/internal/words"},
	"report/html":             {"eval/record", "report/draw", "report/internal/words", "report/outline"},
	"report/pdf":              {"eval/record", "report/draw", "report/internal/words", "report/outline"},
	"report/json":             {"eval/record"},
	"report/terminal":         {"eval/record", "report/draw", "report/internal/words", "report/outline"},
	"report/markdown":         {"eval/record", "report/draw", "report/internal/words", "report/outline"},
	"report/badge":            {"eval/record", "report/draw", "report/internal/words"},
	"report/csv":              {"units", "eval/record", "report/internal/words"},
	"report/junit":            {"eval/record", "report/internal/words", "report/outline"},
	"report/sarif":            {"eval/record", "report/internal/words", "report/outline"},
}

func TestImportArrows(t *testing.T) {
	cmd := exec.Command("go", "list", "-json=ImportPath,Imports", "guardband/...")
	out, err := cmd.Output()
	require.NoError(t, err)
	dec := json.NewDecoder(strings.NewReader(string(out)))
	seen := 0
	for {
		var p struct {
			ImportPath string
			Imports    []string
		}
		err := dec.Decode(&p)
		if err == io.EOF {
			break
		}
		require.NoError(t, err)
		name := strings.TrimPrefix(p.ImportPath, "guardband/")
		if name == "cmd/guardband" {
			continue // the command sees all
		}
		may, known := arrows[name]
		if strings.Contains(name, "internal/") && !known {
			may, known = []string{}, true
		}
		for _, i := range p.Imports {
			to, ours := strings.CutPrefix(i, "guardband/")
			if !ours || strings.HasPrefix(to, name+"/") {
				continue
			}
			require.True(t, known, "package %s is not in the table of arrows", name)
			require.Contains(t, may, to, "%s must not import %s", name, to)
		}
		seen++
	}
	require.Greater(t, seen, 10)
}
