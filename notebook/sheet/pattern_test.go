package sheet

import (
	"go/ast"
	"go/parser"
	gotoken "go/token"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// sources are the files of this package without its tests.
func sources(t *testing.T) []*ast.File {
	names, err := filepath.Glob("*.go")
	require.NoError(t, err)
	var files []*ast.File
	for _, name := range names {
		if !strings.HasSuffix(name, "_test.go") {
			f, err := parser.ParseFile(gotoken.NewFileSet(), name, nil, parser.SkipObjectResolution)
			require.NoError(t, err)
			files = append(files, f)
		}
	}
	return files
}

// constants are the texts of the package's constants by name.
func constants(files []*ast.File) map[string]ast.Expr {
	out := map[string]ast.Expr{}
	for _, f := range files {
		ast.Inspect(f, func(n ast.Node) bool {
			if g, ok := n.(*ast.GenDecl); ok && g.Tok == gotoken.CONST {
				for _, s := range g.Specs {
					for i, v := range s.(*ast.ValueSpec).Values {
						out[s.(*ast.ValueSpec).Names[i].Name] = v
					}
				}
			}
			return true
		})
	}
	return out
}

// constantText is the value of a constant expression of strings; ok is false where e
// is something else.
func constantText(e ast.Expr, consts map[string]ast.Expr) (s string, ok bool) {
	switch e := e.(type) {
	case *ast.BasicLit:
		s, err := strconv.Unquote(e.Value)
		return s, err == nil
	case *ast.BinaryExpr:
		x, okX := constantText(e.X, consts)
		y, okY := constantText(e.Y, consts)
		return x + y, okX && okY
	case *ast.Ident:
		if c, known := consts[e.Name]; known {
			return constantText(c, consts)
		}
	}
	return "", false
}

// TestPatternsCompile compiles every pattern as it stands in the source, since
// a fault in one would otherwise show only when it is first used.
func TestPatternsCompile(t *testing.T) {
	files := sources(t)
	consts := constants(files)
	count := 0
	for _, f := range files {
		ast.Inspect(f, func(n ast.Node) bool {
			call, ok := n.(*ast.CallExpr)
			if !ok {
				return true
			}
			if id, ok := call.Fun.(*ast.Ident); !ok || id.Name != "pattern" {
				return true
			}
			count++
			s, ok := constantText(call.Args[0], consts)
			require.True(t, ok, "%s: the text of a pattern is a constant", f.Name)
			_, err := regexp.Compile(s)
			require.NoError(t, err)
			return true
		})
	}
	require.Greater(t, count, 50)
}

// TestNoPatternAtStart holds the package to its bargain: no regular expression
// is compiled outside a function.
func TestNoPatternAtStart(t *testing.T) {
	for _, f := range sources(t) {
		for _, d := range f.Decls {
			g, ok := d.(*ast.GenDecl)
			if !ok || g.Tok != gotoken.VAR {
				continue
			}
			ast.Inspect(g, func(n ast.Node) bool {
				if sel, ok := n.(*ast.SelectorExpr); ok {
					require.NotEqual(t, "MustCompile", sel.Sel.Name, "a pattern is compiled when first used")
				}
				return true
			})
		}
	}
}
