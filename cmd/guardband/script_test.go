package main

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){
		"guardband": func() { os.Exit(start()) },
	})
}

// TestScripts runs the command line as a user would: each file of
// testdata/script is a small tree of files with commands and what they print.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:                 filepath.Join("testdata", "script"),
		RequireExplicitExec: true,
		UpdateScripts:       os.Getenv("GUARDBAND_UPDATE") != "",
		Setup: func(env *testscript.Env) error {
			env.Setenv("HOME", env.WorkDir)
			// The compiled reader of documents is kept between runs of the tests.
			env.Setenv("XDG_CACHE_HOME", filepath.Join(os.TempDir(), "guardband-test-cache"))
			root, err := filepath.Abs(filepath.Join("..", ".."))
			env.Setenv("REPO", root)
			return err
		},
	})
}
