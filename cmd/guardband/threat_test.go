package main

import (
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// Every promise of the threat model names tests, and they are there.
func TestPromisesHaveTests(t *testing.T) {
	root := filepath.Join("..", "..")
	text, err := os.ReadFile(filepath.Join(root, "DEVELOPERS.md"))
	require.NoError(t, err)
	_, model, ok := strings.Cut(string(text), "| promise | test |")
	require.True(t, ok)
	model, _, _ = strings.Cut(model, "\n\n")
	tests := testNames(t, root)
	promises := strings.Split(strings.TrimSpace(model), "\n")[1:]
	require.Greater(t, len(promises), 15)
	for _, line := range promises {
		names := regexp.MustCompile("`(Test\\w+)(/\\w+)?`").FindAllStringSubmatch(line, -1)
		require.NotEmpty(t, names, line)
		for _, m := range names {
			require.True(t, tests[m[1]], "%s is not a test", m[1])
			switch {
			case m[2] == "":
			case m[1] == "TestCases":
				require.FileExists(t, filepath.Join("..", "..", "testdata", "notebook", m[2][1:]+".md"))
			default:
				require.FileExists(t, filepath.Join("testdata", "script", m[2][1:]+".txtar"))
			}
		}
	}
}

// testNames are the tests of the tree.
func testNames(t *testing.T, root string) map[string]bool {
	tests := map[string]bool{}
	err := filepath.WalkDir(root, func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(p, "_test.go") {
			return err
		}
		data, err := os.ReadFile(p)
		for _, m := range regexp.MustCompile(`(?m)^func (Test\w+)\(`).FindAllSubmatch(data, -1) {
			tests[string(m[1])] = true
		}
		return err
	})
	require.NoError(t, err)
	return tests
}
