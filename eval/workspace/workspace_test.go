package workspace

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"sync/atomic"
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/eval"
	"guardband/eval/checks"
	"guardband/eval/record"
	"guardband/notebook"
)

// designs writes n boards that share one folder of notes, some of the boards
// with a mistake, and gives the folder that holds all.
func designs(t *testing.T, n int) string {
	root := t.TempDir()
	write := func(name, text string) {
		path := filepath.Join(root, filepath.FromSlash(name))
		require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o755))
		require.NoError(t, os.WriteFile(path, []byte(text), 0o644))
	}
	for i := range 5 {
		write(fmt.Sprintf("notes/p%d.md", i), fmt.Sprintf("# P%d\n\n```part P%d\ntitle: invented part\nspec V = %d V ± 2 %%\n```\n", i, i, i+1))
	}
	for i := range n {
		write(fmt.Sprintf("boards/b%02d/board.md", i), fmt.Sprintf("# Board %d\n\n```design\ntitle: Board %d\nrevision: A\n"+
			"include: ../../notes\n```\n\nFirst `=V_%d`.\n\n```circuit\nU1  P%d\n```\n\n```values\nV_%d = 3 V\n```\n\n"+
			"```claim c\nstatement: the part gives no more\ncriterion: U1.V <= V_%d\n```\n", i, i, i, i%5, i, i))
	}
	return root
}

func bytesOf(t *testing.T, r *record.Record) []byte {
	b, err := json.Marshal(r)
	require.NoError(t, err)
	return b
}

// TestAloneAndTogether: a design gives the same bytes by itself and among
// others, whatever is shared and however many are worked out at a time.
func TestAloneAndTogether(t *testing.T) {
	root := designs(t, 20)
	compile := func(w *Workspace) func(string) (*record.Record, error) {
		return func(path string) (*record.Record, error) {
			book, err := w.Load(path, nil, nil)
			if err != nil {
				return nil, err
			}
			return eval.Compile(context.Background(), book, eval.Options{Workers: 2, Checks: checks.All()}), nil
		}
	}
	read := notebook.Options{Root: root}
	paths, err := (&Workspace{Read: read}).Designs([]string{root})
	require.NoError(t, err)
	require.Len(t, paths, 20)
	var alone [][]byte
	for _, p := range paths {
		r, err := compile(&Workspace{Read: read})(p)
		require.NoError(t, err)
		require.Zero(t, r.Summary.Errors, r.Diagnostics)
		alone = append(alone, bytesOf(t, r))
	}
	for _, workers := range []int{1, 2, 7} {
		w := &Workspace{Read: read}
		for range 2 { // the second time all notes are kept
			i := 0
			for x := range Each(context.Background(), paths, workers, compile(w)) {
				require.NoError(t, x.Err)
				require.Equal(t, paths[i], x.Path)
				require.True(t, bytes.Equal(alone[i], bytesOf(t, x.Record)), x.Path)
				i++
			}
			require.Equal(t, len(paths), i)
		}
	}
}

// TestKeptIsReadAgain: a note that changed is not taken from what was kept,
// nor is the text of a what-if kept as that of the file.
func TestKeptIsReadAgain(t *testing.T) {
	root := designs(t, 1)
	w := &Workspace{Read: notebook.Options{Root: root}}
	board := filepath.Join(root, "boards", "b00", "board.md")
	passed := func(set ...string) int {
		book, err := w.Load(board, nil, set)
		require.NoError(t, err)
		return eval.Compile(context.Background(), book, eval.Options{Checks: checks.All()}).Summary.Passed
	}
	base := passed()
	require.Equal(t, base-1, passed("P0.V=4 V"))
	require.Equal(t, base, passed())
	note := filepath.Join(root, "notes", "p0.md")
	data, err := os.ReadFile(note)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(note, bytes.Replace(data, []byte("1 V"), []byte("4 V"), 1), 0o644))
	require.Equal(t, base-1, passed())
}

func TestEach(t *testing.T) {
	paths := make([]string, 50)
	for i := range paths {
		paths[i] = fmt.Sprint(i)
	}
	t.Run("a panic loses one design", func(t *testing.T) {
		for x := range Each(context.Background(), paths, 3, func(p string) (*record.Record, error) {
			if p == "7" {
				panic("at seven")
			}
			return &record.Record{}, nil
		}) {
			var fault *Fault
			require.Equal(t, x.Path == "7", x.Record == nil)
			if x.Path == "7" {
				require.ErrorAs(t, x.Err, &fault)
				require.ErrorContains(t, x.Err, "at seven")
			}
		}
	})
	t.Run("who stops taking stops the work", func(t *testing.T) {
		var done atomic.Int64
		for range Each(context.Background(), paths, 2, func(string) (*record.Record, error) {
			done.Add(1)
			return nil, nil
		}) {
			break
		}
		require.Less(t, done.Load(), int64(10))
	})
	t.Run("cancelled", func(t *testing.T) {
		ctx, cancel := context.WithCancel(context.Background())
		cancel()
		n := 0
		for x := range Each(ctx, paths, 2, func(string) (*record.Record, error) { return nil, ctx.Err() }) {
			require.ErrorIs(t, x.Err, context.Canceled)
			n++
		}
		require.Positive(t, n)
	})
}

// Cases of gitignore(5).
func TestIgnored(t *testing.T) {
	root := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(root, ".gitignore"),
		[]byte("# made\nreview/\n*.tmp.md\n!keep.tmp.md\n/top.md\ndoc/**/old\na/*.md\nx[0-9].md\n[!a-z]1.md\n\\#odd.md\n"), 0o644))
	var g ignored
	g.read(root)
	for path, out := range map[string]bool{
		"review/": true, "deep/review/": true, "review": false, "n.tmp.md": true, "deep/n.tmp.md": true, "keep.tmp.md": false,
		"top.md": true, "deep/top.md": false, "doc/old": true, "doc/a/b/old": true, "a/x.md": true, "a/b/x.md": false,
		"x1.md": true, "xx.md": false, "A1.md": true, "b1.md": false, "#odd.md": true, "board.md": false,
	} {
		rest := filepath.Clean(path)
		require.Equal(t, out, g.out(filepath.Join(root, rest), path[len(path)-1] == '/'), path)
	}
}

// TestDesignsBelow: only notebooks with a design block are designs, and none
// that the folder's .gitignore leaves out.
func TestDesignsBelow(t *testing.T) {
	root := designs(t, 3)
	require.NoError(t, os.WriteFile(filepath.Join(root, ".gitignore"), []byte("b01/\n"), 0o644))
	require.NoError(t, os.WriteFile(filepath.Join(root, "README.md"), []byte("# All boards\n"), 0o644))
	got, err := (&Workspace{}).Designs([]string{root})
	require.NoError(t, err)
	require.Equal(t, []string{filepath.Join(root, "boards", "b00", "board.md"), filepath.Join(root, "boards", "b02", "board.md")}, got)
}
