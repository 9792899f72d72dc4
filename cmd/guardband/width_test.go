package main

import (
	"go/scanner"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/require"
)

const widest = 140 // columns of a line of code, a tab counting as four

// TestWidth keeps lines of code within a screen. Texts count as nothing, and the
// rows of tables are free.
func TestWidth(t *testing.T) {
	var over []string
	seen := 0
	require.NoError(t, filepath.WalkDir("../..", func(path string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir() && (d.Name() == "node_modules" || d.Name() == ".git"):
			return filepath.SkipDir
		case filepath.Ext(path) != ".go":
			return nil
		}
		seen++
		data, err := os.ReadFile(path)
		require.NoError(t, err)
		for i, line := range strings.Split(withoutTexts(path, data), "\n") {
			row := strings.TrimSpace(line)
			if utf8.RuneCountInString(strings.ReplaceAll(line, "\t", "    ")) > widest &&
				!(strings.HasPrefix(row, "{") && strings.HasSuffix(row, "},")) {
				over = append(over, path+":"+strconv.Itoa(i+1))
			}
		}
		return nil
	}))
	require.Greater(t, seen, 500)
	require.Empty(t, over)
}

// withoutTexts blanks the string literals of a Go file, keeping its lines.
func withoutTexts(name string, src []byte) string {
	fset := token.NewFileSet()
	file := fset.AddFile(name, fset.Base(), len(src))
	var s scanner.Scanner
	s.Init(file, src, nil, scanner.ScanComments)
	var out strings.Builder
	from := 0
	for {
		pos, tok, lit := s.Scan()
		if tok == token.EOF {
			break
		}
		if tok == token.STRING {
			at := file.Offset(pos)
			out.Write(src[from:at])
			out.WriteString(strings.Repeat("\n", strings.Count(lit, "\n")))
			from = at + len(lit)
		}
	}
	out.Write(src[from:])
	return out.String()
}
