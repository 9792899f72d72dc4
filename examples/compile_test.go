package examples_test

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/eval"
	"guardband/eval/checks"
	"guardband/eval/record"
	"guardband/eval/trade"
	"guardband/notebook"
	"guardband/notebook/sheet"
)

// asOf is the day against which the examples' waivers are judged.
const asOf = "2026-11-24"

var (
	records sync.Map // path to *eval.Record
	library *sheet.Reader
	cache   string // folder that stands for the user's cache
)

// TestMain opens one library of documents for all tests, its cache in a
// folder of their own.
func TestMain(m *testing.M) {
	os.Exit(run(m))
}

func run(m *testing.M) int {
	var err error
	if cache, err = os.MkdirTemp("", "examples"); err != nil {
		panic(err)
	}
	defer os.RemoveAll(cache)
	library = sheet.Open(filepath.Join(cache, "guardband")) // where the command looks too
	defer library.Close()
	return m.Run()
}

// compile compiles an example once, its citations checked against the sheets.
func compile(t *testing.T, path, root string) *record.Record {
	t.Helper()
	if r, ok := records.Load(path); ok {
		return r.(*record.Record)
	}
	if root == "" {
		root, _, _ = strings.Cut(path, "/")
	}
	r := compileWith(t, path, root, library)
	records.Store(path, r)
	return r
}

func compileWith(t *testing.T, path, root string, evidence eval.Evidence) *record.Record {
	t.Helper()
	b, err := notebook.Load(path, notebook.Options{Root: root})
	require.NoError(t, err)
	return eval.Compile(context.Background(), b, eval.Options{On: asOf, Tool: "test", Language: trade.Language(),
		Checks: checks.All(), Evidence: evidence})
}

func claim(t *testing.T, r *record.Record, id string) record.Claim {
	t.Helper()
	for _, c := range r.Claims {
		if c.ID == id {
			return c
		}
	}
	require.Fail(t, "no claim "+id)
	return record.Claim{}
}

// Every citation of a file must be found as far as it can be: quoted words on
// their page, or the numbers, and every digest must be that of the file.
func TestEvidence(t *testing.T) {
	for _, d := range designs {
		r := compile(t, d.path, d.root)
		for _, s := range r.Sources {
			if s.File == "" {
				continue
			}
			require.True(t, s.OnFile, "%s: %s", d.path, s.ID)
			require.False(t, s.Changed, "%s: digest of %s; run: go test ./examples/sheets -run Committed -v", d.path, s.ID)
			require.NotEmpty(t, s.Recorded, "%s: %s", d.path, s.ID)
		}
		for _, c := range r.Claims {
			for _, k := range c.Cites {
				require.Contains(t, []string{"words", "numbers", "page", "no file", "read by a person"}, k.Checked,
					"%s: %s cites %s %s %q", d.path, c.ID, k.Source, k.Page, k.Quote)
			}
		}
	}
}

func TestEveryNotebookSaysThatItIsInvented(t *testing.T) {
	count := 0
	require.NoError(t, filepath.WalkDir(".", func(path string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() || filepath.Ext(path) != ".md" {
			return err
		}
		data, err := os.ReadFile(path)
		require.NoError(t, err)
		require.Contains(t, strings.ToLower(string(data[:min(len(data), 500)])), "invented", path)
		count++
		return nil
	}))
	require.Greater(t, count, 40)
}

// The designs are laid out as `guardband format` does; the guide shows other
// ways of typing and is left alone.
func TestDesignsAreInCanonicalLayout(t *testing.T) {
	for _, dir := range []string{"weirkeeper", "granary"} {
		require.NoError(t, filepath.WalkDir(dir, func(path string, d os.DirEntry, err error) error {
			if err != nil || d.IsDir() || filepath.Ext(path) != ".md" {
				return err
			}
			data, err := os.ReadFile(path)
			require.NoError(t, err)
			laid, _ := notebook.Format(data)
			require.Equal(t, string(laid), string(data), "run: guardband format %s", path)
			return nil
		}))
	}
}

// Nothing outside a design's folder is read: the mistakes have copies of the
// part notes and sheets of their board, which must be alike.
func TestMistakesHaveTheirBoardsParts(t *testing.T) {
	copies, err := filepath.Glob("*/mistakes/*/*")
	require.NoError(t, err)
	require.NotEmpty(t, copies)
	for _, path := range copies {
		got, err := os.ReadFile(path)
		require.NoError(t, err)
		want, err := os.ReadFile(strings.Replace(path, "/mistakes/", "/", 1))
		require.NoError(t, err)
		require.True(t, string(want) == string(got), "%s is another than that of the board: copy it", path)
	}
}
