package main

import (
	"go/scanner"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// unplain are words that the style sheet of DEVELOPERS.md has others for.
var unplain = regexp.MustCompile(`\b(nought|parted by|stands?|stood|bears|borne|at hand|lets? go of|surroundings|round the board)\b`)

// TestPlainWords keeps words that no user of the trade expects out of what the
// program says. What it reads of sheets may have them.
func TestPlainWords(t *testing.T) {
	var found []string
	seen := 0
	require.NoError(t, filepath.WalkDir("../..", func(path string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir() && (d.Name() == "node_modules" || d.Name() == ".git" || d.Name() == "testdata"):
			return filepath.SkipDir
		case filepath.Ext(path) != ".go" || strings.HasSuffix(path, "_test.go"):
			return nil
		}
		src, err := os.ReadFile(path)
		require.NoError(t, err)
		set := token.NewFileSet()
		file := set.AddFile(path, set.Base(), len(src))
		var s scanner.Scanner
		s.Init(file, src, nil, 0)
		for {
			pos, tok, lit := s.Scan()
			if tok == token.EOF {
				break
			}
			if tok != token.STRING {
				continue
			}
			seen++
			if w := unplain.FindString(strings.ReplaceAll(lit, "stand-off", "")); w != "" && !strings.Contains(path, "notebook/sheet/draft") {
				found = append(found, set.Position(pos).String()+": "+w)
			}
		}
		return nil
	}))
	require.Greater(t, seen, 5000)
	require.Empty(t, found)
}
