package notebook

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// tree writes files under a new folder; a text that starts with "-> " makes a
// symbolic link.
func tree(t *testing.T, files map[string]string) string {
	t.Helper()
	dir, err := filepath.EvalSymlinks(t.TempDir())
	require.NoError(t, err)
	for name, text := range files {
		p := filepath.Join(dir, name)
		require.NoError(t, os.MkdirAll(filepath.Dir(p), 0o755))
		if to, ok := strings.CutPrefix(text, "-> "); ok {
			require.NoError(t, os.Symlink(to, p))
			continue
		}
		require.NoError(t, os.WriteFile(p, []byte(text), 0o644))
	}
	return dir
}

func design(lines string) string { return "```design\n" + lines + "\n```\n" }

func printed(b *Book) string {
	var out bytes.Buffer
	Print(&out, b.Diags.Sorted(), PrintOptions{Max: -1})
	return out.String()
}

func paths(b *Book) []string {
	var out []string
	for _, n := range b.Notebooks {
		out = append(out, n.Src.Path)
	}
	return out
}

func TestLoadIncludes(t *testing.T) {
	dir := tree(t, map[string]string{
		"board.md":        design("include: parts, more/values.md,\n  \"odd, name.md\"\n  last.md"),
		"parts/b.md":      "```part B\ntitle: x\n```\n",
		"parts/a.md":      design("include: ../more/values.md"),
		"parts/deep/c.md": "not read",
		"parts/notes.txt": "not read",
		"parts/.hid.md":   "not read",
		"more/values.md":  "```values\nV = 3 V\n```\n",
		"odd, name.md":    "x",
		"last.md":         "x",
	})
	b, err := Load("board.md", Options{Dir: dir})
	require.NoError(t, err)
	require.Empty(t, printed(b))
	require.Equal(t, []string{"board.md", "parts/a.md", "more/values.md", "parts/b.md", "odd, name.md", "last.md"}, paths(b))
	require.Len(t, b.Notebooks[0].Src.SHA256, 64)
}

func TestLoadIncludeRows(t *testing.T) {
	dir := tree(t, map[string]string{
		"board.md": design("include:\n  a.md   # the first\n  b.md, c.md"), "a.md": "a", "b.md": "b", "c.md": "c",
	})
	b, err := Load(filepath.Join(dir, "board.md"), Options{Dir: dir})
	require.NoError(t, err)
	require.Equal(t, []string{"board.md", "a.md", "b.md", "c.md"}, paths(b))
}

func TestLoadCycle(t *testing.T) {
	dir := tree(t, map[string]string{
		"a.md": design("include: b.md"), "b.md": design("include: c.md"), "c.md": design("include: b.md"),
	})
	b, err := Load("a.md", Options{Dir: dir})
	require.NoError(t, err)
	require.Equal(t, `c.md:2:10: error: circular include: b.md → c.md → b.md [include-cycle]
    include: b.md
             ^^^^
    hint: take out one include:
`, printed(b))
	require.Len(t, b.Notebooks, 3)
}

func TestLoadFolderOfItself(t *testing.T) {
	dir := tree(t, map[string]string{"a.md": design("include: ."), "b.md": "b"})
	b, err := Load("a.md", Options{Dir: dir})
	require.NoError(t, err)
	require.Empty(t, printed(b))
	require.Equal(t, []string{"a.md", "b.md"}, paths(b))
}

func TestLoadFaults(t *testing.T) {
	dir := tree(t, map[string]string{
		"in/board.md": design("include: parst, ../out.md, link.md, parts/lod.md, empty, /etc/passwd, ../none.md, linkdir/x.md"),
		"out.md":      "secret", "in/parts/ldo.md": "x", "in/empty/x.txt": "", "in/link.md": "-> ../out.md", "in/linkdir": "-> ..",
		"in/fine.md": "-> parts/ldo.md",
	})
	b, err := Load("in/board.md", Options{Dir: dir})
	require.NoError(t, err)
	require.Equal(t, []string{"in/board.md"}, paths(b))
	got := printed(b)
	for _, w := range []string{
		`2:10: error: there is no file or folder "parst" [include-missing]`, `hint: did you mean "parts"?`,
		`2:17: error: "../out.md" leads out of the design's folder in [path-outside]`,
		`2:28: error: "link.md" leads out`,
		`2:37: error: there is no file or folder "parts/lod.md"`, `hint: did you mean "parts/ldo.md"?`,
		`2:51: warning: no notebook (*.md) in the folder "empty"`,
		`2:58: error: "/etc/passwd" leads out`,
		`2:71: error: "../none.md" leads out`,
		`2:83: error: "linkdir/x.md" leads out`,
	} {
		require.Contains(t, got, w)
	}
	require.NotContains(t, got, "secret")
	require.Equal(t, 8, b.Diags.Errors()+1)

	wide, err := Load("in/board.md", Options{Dir: dir, Root: dir})
	require.NoError(t, err)
	require.Contains(t, paths(wide), "out.md")
}

func TestLoadSame(t *testing.T) {
	dir := tree(t, map[string]string{
		"a.md": design("title: x\ninclude: b.md") + "```claim c\nstatement: x\n```\n" + design("title: y"),
		"b.md": "```claim c\nstatement: x\n```\n```source c\ntitle: x\n```\n",
	})
	b, err := Load("a.md", Options{Dir: dir})
	require.NoError(t, err)
	require.Equal(t, `a.md:8:4: error: a notebook has one design block [design-twice]
    `+"```design"+`
       ^^^^^^
    hint: move its lines into the first
    a.md:1:4: first here
b.md:1:10: error: the claim "c" is there twice [id-twice]
    `+"```claim c"+`
             ^
    hint: give one of them another ID
    a.md:5:10: first here
`, printed(b))
}

func TestLoadMachine(t *testing.T) {
	dir := tree(t, map[string]string{"d/x.md": ""})
	_, err := Load("none.md", Options{Dir: dir})
	require.ErrorIs(t, err, os.ErrNotExist)
	_, err = Load("d", Options{Dir: dir})
	require.Error(t, err)
	b, err := Load("d/x.md", Options{Dir: dir})
	require.NoError(t, err)
	require.Empty(t, b.Notebooks[0].Content)
}

func TestLoadStdin(t *testing.T) {
	dir := tree(t, map[string]string{"b.md": "```values\nV = 1 V\n```\n"})
	b, err := Load("-", Options{Dir: dir, Stdin: []byte(design("include: b.md\ntitel: x"))})
	require.NoError(t, err)
	require.Equal(t, []string{"-", "b.md"}, paths(b))
	require.Contains(t, printed(b), "-:3:1: error")
}

func TestLoadLarge(t *testing.T) {
	dir := tree(t, map[string]string{"a.md": design("include: big.md")})
	require.NoError(t, os.WriteFile(filepath.Join(dir, "big.md"), bytes.Repeat([]byte("some words\n"), 50<<20/11), 0o644))
	var b *Book
	var err error
	used := allocated(func() { b, err = Load("big.md", Options{Dir: dir}) })
	require.NoError(t, err)
	require.Less(t, used, uint64(1<<20), "the file is not read")
	require.Equal(t, "big.md:1:1: error: the notebook has 50.0 MiB; at most 16 MiB are read [file-large]\n    hint: split it and use include:\n", printed(b))
	b, err = Load("a.md", Options{Dir: dir})
	require.NoError(t, err)
	require.Contains(t, printed(b), "a.md:2:10: included here")
}

func TestDesigns(t *testing.T) {
	dir := tree(t, map[string]string{
		"b.md": design("title: x"), "a.MD": design("title: x"), "c.md": "the word design\n", "d/e.md": design("title: x"),
		"f.md": "<div>\n```design\ntitle: x\n```\n</div>\n", "g.md": "\u202e" + design("title: x"),
		"h.md": "````text\n```design\n```\n````\n", "i.md": strings.Repeat("a line\n", MaxBytes/7+8) + design("title: x"),
		"j.md": strings.Repeat("a line of design\n", MaxBytes/17+8),
	})
	got, err := Designs(dir, "")
	require.NoError(t, err)
	require.Equal(t, []string{filepath.Join(dir, "a.MD"), filepath.Join(dir, "b.md"),
		filepath.Join(dir, "f.md"), filepath.Join(dir, "g.md"), filepath.Join(dir, "i.md")}, got, "one that is refused is not passed over")
	_, err = Designs(filepath.Join(dir, "none"), "")
	require.ErrorIs(t, err, os.ErrNotExist)
}
