package git

import (
	"bytes"
	"compress/zlib"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// work is a work tree that git itself makes and answers for.
type work struct {
	t   *testing.T
	dir string
}

func newWork(t *testing.T, args ...string) work {
	if _, err := exec.LookPath("git"); err != nil {
		require.Empty(t, os.Getenv("GUARDBAND_NO_SKIP"), "git is missing")
		t.Skip("git is not installed")
	}
	dir, err := filepath.EvalSymlinks(t.TempDir())
	require.NoError(t, err)
	w := work{t, filepath.Join(dir, "work")}
	require.NoError(t, os.Mkdir(w.dir, 0o755))
	w.git(append([]string{"init", "-q", "-b", "main"}, args...)...)
	return w
}

func (w work) git(args ...string) string {
	own := []string{"-C", w.dir, "-c", "user.name=Tester", "-c", "user.email=tester@example.org",
		"-c", "commit.gpgsign=false", "-c", "core.autocrlf=false", "-c", "protocol.file.allow=always"}
	out, err := exec.Command("git", append(own, args...)...).Output()
	var exit *exec.ExitError
	if errors.As(err, &exit) {
		require.NoError(w.t, err, string(exit.Stderr))
	}
	require.NoError(w.t, err)
	return string(out)
}

func (w work) write(name, text string) {
	p := filepath.Join(w.dir, name)
	require.NoError(w.t, os.MkdirAll(filepath.Dir(p), 0o755))
	require.NoError(w.t, os.WriteFile(p, []byte(text), 0o644))
}

// history commits twelve versions of files, the large ones as deltas once packed.
func (w work) history() {
	w.write("parts/ä b.md", "lines\r\nof another machine\r\n")
	w.write("empty.md", "")
	require.NoError(w.t, os.Symlink("parts", filepath.Join(w.dir, "link")))
	var long strings.Builder
	for i := range 12 {
		for k := range 400 {
			fmt.Fprintf(&long, "version %d, line %d: %d\n", i, k, i*k*k)
		}
		w.write("board.md", long.String())
		w.write(fmt.Sprintf("parts/deep/p%d.md", i), strings.Repeat("x", i*10))
		w.git("add", "-A")
		w.git("commit", "-q", "-m", fmt.Sprint("number ", i))
		if i == 5 {
			w.git("tag", "-a", "-m", "first", "rev-A")
			w.git("tag", "plain")
			w.git("branch", "side/one")
		}
	}
}

func (w work) open() *Repository {
	r, err := Open(w.dir)
	require.NoError(w.t, err)
	w.t.Cleanup(r.Close)
	return r
}

// same compares every answer with git's own.
func (w work) same() {
	t := w.t
	r := w.open()
	require.Equal(t, w.dir, r.top)
	head := strings.TrimSpace(w.git("rev-parse", "HEAD"))
	revs := []string{"HEAD", "main~11", "rev-A", "main", "refs/heads/main", "plain", "side/one", "HEAD~", "HEAD~1",
		"rev-A~3", head, head[:7], head[:12], head[:9] + "~2"}
	for i, rev := range revs {
		want := strings.TrimSpace(w.git("rev-parse", "--verify", rev+"^{commit}"))
		id, err := r.Resolve(rev)
		require.NoError(t, err, rev)
		require.Equal(t, want, id.String(), rev)
		if i > 2 {
			continue
		}
		for _, row := range strings.Split(strings.TrimRight(w.git("ls-tree", "-r", "-z", want), "\x00"), "\x00") {
			about, name, _ := strings.Cut(row, "\t")
			f := strings.Fields(about)
			e, err := r.find(id, name)
			require.NoError(t, err, name)
			require.Equal(t, f[2], e.id.String(), name)
			require.Equal(t, f[0], fmt.Sprintf("%06o", uint32(e.mode)), name)
			data, err := r.blob(e.id)
			require.NoError(t, err, name)
			require.Equal(t, w.git("cat-file", "blob", f[2]), string(data), name)
		}
	}
	for _, rev := range []string{"", "nothing", "HEAD~30", "HEAD~x", "--help", "HEAD^{/x}", "../../HEAD",
		"HEAD:board.md", "ffff", head[:3], "main@{0}", ":/number"} {
		_, err := r.Resolve(rev)
		require.Error(t, err, rev)
	}
	_, err := r.File(mustID(t, head), "parts")
	require.ErrorIs(t, err, ErrMissing)
	_, err = r.File(mustID(t, head), "board.md/x")
	require.ErrorIs(t, err, ErrMissing)
	w.sameIndex(r)
}

func (w work) sameIndex(r *Repository) {
	list, err := r.Index()
	require.NoError(w.t, err)
	var got strings.Builder
	for _, e := range list {
		fmt.Fprintf(&got, "%06o %s %d\t%s\x00", uint32(e.Mode), e.Hash, e.Stage, e.Name)
	}
	require.Equal(w.t, w.git("ls-files", "-s", "-z"), got.String())
}

func mustID(t *testing.T, s string) ID {
	id, ok := parseID(s)
	require.True(t, ok)
	return id
}

// What is read of revisions, trees, files and the index is what git says, for
// loose and packed objects and each version of the index.
func TestAgainstGit(t *testing.T) {
	w := newWork(t, "--object-format=sha1")
	w.history()
	w.same()
	w.git("update-index", "--index-version", "4")
	w.same()
	w.git("update-index", "--index-version", "2")
	w.write("later.md", "to come")
	w.git("add", "-N", "later.md") // needs version 3
	w.same()
	at := filepath.Join(w.dir, ".git/index")
	data, err := os.ReadFile(at)
	require.NoError(t, err)
	clear(data[len(data)-20:]) // as index.skipHash writes it
	require.NoError(t, os.WriteFile(at, data, 0o644))
	w.same()
	w.git("gc", "-q", "--aggressive")
	w.same()
	w.git("commit", "-q", "-a", "-m", "a pack and loose objects")
	w.git("repack", "-q", "-d")
	w.same()
	w.git("-c", "repack.useDeltaBaseOffset=false", "repack", "-q", "-a", "-d", "-f") // bases by name
	w.same()
}

// A folder of a commit is written as committed: no attribute, no filter.
func TestWriteWithoutFilters(t *testing.T) {
	w := newWork(t)
	w.history()
	w.write(".gitattributes", "*.md export-subst eol=crlf filter=x ident\nparts export-ignore\n")
	w.write("board.md", "$Id$ $Format:%H$\n")
	require.NoError(t, os.Symlink("/etc", filepath.Join(w.dir, "parts", "away")))
	require.NoError(t, os.Symlink("deep/p3.md", filepath.Join(w.dir, "parts", "near.md")))
	w.git("add", "-A")
	w.git("commit", "-q", "-m", "attributes")
	r := w.open()
	id, err := r.Resolve("HEAD")
	require.NoError(t, err)
	to := t.TempDir()
	require.NoError(t, r.Write(id, "", to))
	data, err := os.ReadFile(filepath.Join(to, "board.md"))
	require.NoError(t, err)
	require.Equal(t, "$Id$ $Format:%H$\n", string(data))
	data, err = os.ReadFile(filepath.Join(to, "link", "near.md"))
	require.NoError(t, err)
	require.Equal(t, strings.Repeat("x", 30), string(data))
	require.NoFileExists(t, filepath.Join(to, "parts", "away"))
	part := t.TempDir()
	require.NoError(t, r.Write(id, "parts/deep", part))
	list, err := os.ReadDir(part)
	require.NoError(t, err)
	require.Len(t, list, 12)
	staged := t.TempDir()
	require.NoError(t, r.WriteStaged("parts", staged))
	data, err = os.ReadFile(filepath.Join(staged, "near.md"))
	require.NoError(t, err)
	require.Equal(t, strings.Repeat("x", 30), string(data))
	require.NoFileExists(t, filepath.Join(staged, "away"))
	require.NoFileExists(t, filepath.Join(staged, "board.md"))
	w.git("checkout", "-q", "-b", "other", "HEAD~1")
	w.write("board.md", "another")
	w.git("commit", "-q", "-a", "-m", "another")
	require.Error(t, exec.Command("git", "-C", w.dir, "merge", "main").Run())
	require.ErrorContains(t, r.WriteStaged("", t.TempDir()), "not settled")
	require.ErrorIs(t, r.Write(id, "board.md", part), ErrMissing)
	require.ErrorIs(t, r.Write(id, "gone", part), ErrMissing)
}

// A linked worktree and a submodule have a .git file, and are read.
func TestLinkedWorktrees(t *testing.T) {
	w := newWork(t)
	w.history()
	other := work{t, filepath.Join(filepath.Dir(w.dir), "other")}
	w.git("worktree", "add", "-q", "-b", "aside", other.dir, "HEAD~2")
	other.write("new.md", "only here")
	other.git("add", "new.md")
	other.git("commit", "-q", "-m", "aside")
	other.same()
	w.same()

	outer := newWork(t)
	outer.git("submodule", "--quiet", "add", w.dir, "inner")
	outer.git("commit", "-q", "-m", "with a submodule")
	inner := work{t, filepath.Join(outer.dir, "inner")}
	r := inner.open()
	id, err := r.Head()
	require.NoError(t, err)
	require.Equal(t, strings.TrimSpace(inner.git("rev-parse", "HEAD")), id.String())
	inner.sameIndex(r)
	outer.sameIndex(outer.open())
}

// A .git that leads to somebody else's repository is refused: its commits are
// not those of this folder, and its files are not for whoever wrote the .git.
func TestForeignRepositoryRefused(t *testing.T) {
	private := newWork(t)
	private.history()
	secret := filepath.Join(private.dir, ".git")
	private.git("worktree", "add", "-q", filepath.Join(filepath.Dir(private.dir), "tree"), "main~1")
	put := func(path, text string) error { return os.WriteFile(path, []byte(text), 0o644) }
	start := func(dir string) error { return exec.Command("git", "init", "-q", dir).Run() }
	for name, make := range map[string]func(dir string) error{
		"file":     func(dir string) error { return put(dir+"/.git", "gitdir: "+secret+"\n") },
		"worktree": func(dir string) error { return put(dir+"/.git", "gitdir: "+secret+"/worktrees/tree\n") },
		"link":     func(dir string) error { return os.Symlink(secret, dir+"/.git") },
		"borrowed": func(dir string) error { return errors.Join(start(dir), put(dir+"/.git/commondir", secret)) },
		"head": func(dir string) error {
			head := dir + "/.git/HEAD"
			return errors.Join(start(dir), os.Remove(head), os.Symlink(secret+"/HEAD", head))
		},
	} {
		t.Run(name, func(t *testing.T) {
			dir := t.TempDir()
			require.NoError(t, make(dir))
			_, err := Open(dir)
			require.ErrorIs(t, err, ErrNotRead)
		})
	}
	dir := t.TempDir()
	require.NoError(t, exec.Command("git", "init", "-q", dir).Run())
	require.NoError(t, os.RemoveAll(dir+"/.git/objects"))
	require.NoError(t, os.Symlink(secret+"/objects", dir+"/.git/objects"))
	_, err := Open(dir)
	require.Error(t, err)
	require.NoError(t, os.Remove(dir+"/.git/objects"))
	require.NoError(t, os.MkdirAll(dir+"/.git/objects/info", 0o755))
	require.NoError(t, os.WriteFile(dir+"/.git/objects/info/alternates", []byte(secret+"/objects\n"), 0o644))
	r, err := Open(dir)
	require.NoError(t, err)
	_, err = r.Resolve(strings.TrimSpace(private.git("rev-parse", "HEAD")))
	require.ErrorIs(t, err, ErrNotRead)
}

// What cannot be read is told, never guessed.
func TestNotRead(t *testing.T) {
	w := newWork(t)
	_, err := w.open().Head()
	require.ErrorIs(t, err, ErrNoHead)
	w.history()
	w.git("update-index", "--split-index")
	_, err = w.open().Index()
	require.ErrorIs(t, err, ErrNotRead)
	require.ErrorContains(t, err, "split")
	w.git("update-index", "--no-split-index")
	w.git("sparse-checkout", "set", "--cone", "--sparse-index", "parts/deep")
	w.git("sparse-checkout", "set", "--cone", "--sparse-index", "none")
	_, err = w.open().Index()
	require.ErrorIs(t, err, ErrNotRead)
	require.ErrorContains(t, err, "sparse")
	w.write(".git/HEAD", "ref: refs/heads/.invalid\n")
	_, err = Open(w.dir)
	require.ErrorIs(t, err, ErrNotRead)
	require.ErrorContains(t, err, "reftable")
	_, err = Open(t.TempDir())
	require.ErrorIs(t, err, ErrNone)
	other := newWork(t, "--object-format=sha256")
	other.history()
	_, err = other.open().Resolve("HEAD")
	require.ErrorIs(t, err, ErrNotRead)
	require.ErrorContains(t, err, "SHA-256")
	_, err = other.open().Index()
	require.ErrorIs(t, err, ErrNotRead)
}

// A repository embedded as tracked files is only files.
func TestEmbeddedRepositoryIsFiles(t *testing.T) {
	w := newWork(t)
	w.history()
	w.write("bare/HEAD", "ref: refs/heads/main\n")
	w.write("bare/config", "[core]\n\tbare = false\n\tfsmonitor = touch seen\n")
	w.write("bare/objects/x", "")
	w.write("bare/refs/heads/main", strings.Repeat("a", 40)+"\n")
	r, err := Open(filepath.Join(w.dir, "bare"))
	require.NoError(t, err)
	defer r.Close()
	id, err := r.Head()
	require.NoError(t, err)
	require.Equal(t, strings.TrimSpace(w.git("rev-parse", "HEAD")), id.String())
}

// Damage anywhere in the objects or the index gives an error or the right
// answer, never a panic and never other bytes.
func TestDamage(t *testing.T) {
	w := newWork(t)
	for i := range 3 {
		w.write("a.md", strings.Repeat("a line of the notebook\n", 20+i))
		w.git("add", "-A")
		w.git("commit", "-q", "-m", "x")
	}
	w.git("gc", "-q")
	want := w.git("show", "HEAD~1:a.md")
	files, err := filepath.Glob(filepath.Join(w.dir, ".git/objects/pack/*"))
	require.NoError(t, err)
	files = append(files, filepath.Join(w.dir, ".git/index"), filepath.Join(w.dir, ".git/packed-refs"))
	right := 0
	for _, f := range files {
		sound, err := os.ReadFile(f)
		require.NoError(t, err)
		require.NoError(t, os.Chmod(f, 0o644))
		for i := 0; i < len(sound); i += 1 + len(sound)/400 {
			for _, data := range [][]byte{sound[:i], append(append(bytes.Clone(sound[:i]), sound[i]^0xff), sound[i+1:]...)} {
				require.NoError(t, os.WriteFile(f, data, 0o644))
				r, err := Open(w.dir)
				require.NoError(t, err)
				r.Index()
				if id, err := r.Resolve("HEAD~1"); err == nil {
					if got, err := r.File(id, "a.md"); err == nil {
						require.Equal(t, want, string(got))
						right++
					}
				}
				r.Close()
			}
		}
		require.NoError(t, os.WriteFile(f, sound, 0o644))
	}
	require.Greater(t, right, 100) // damage that this revision does not touch
}

// A large file is taken from the store beside the objects where it has the
// digest that its pointer states; else the pointer is what was committed.
func TestLargeFiles(t *testing.T) {
	w := newWork(t)
	large := "%PDF-1.4 a large sheet"
	sum := sha256.Sum256([]byte(large))
	oid := hex.EncodeToString(sum[:])
	text := "version https://git-lfs.github.com/spec/v1\noid sha256:" + oid + "\nsize 22\n"
	w.write("sheet.pdf", text)
	w.git("add", "-A")
	w.git("commit", "-q", "-m", "a pointer")
	r := w.open()
	head, err := r.Head()
	require.NoError(t, err)
	for _, c := range []struct{ stored, want string }{{"", text}, {"other bytes", text}, {large, large}} {
		w.write(".git/lfs/objects/"+oid[:2]+"/"+oid[2:4]+"/"+oid, c.stored)
		got, err := r.File(head, "sheet.pdf")
		require.NoError(t, err)
		require.Equal(t, c.want, string(got))
	}
}

// What a repository may cost is bounded in all, not only an object at a time.
func TestCostOfARepository(t *testing.T) {
	w := newWork(t)
	w.write("a.md", strings.Repeat("a", 1<<20))
	w.git("add", "-A")
	w.git("commit", "-q", "-m", "x")
	r := w.open()
	head, err := r.Head()
	require.NoError(t, err)
	e, err := r.find(head, "a.md")
	require.NoError(t, err)
	_, _, err = r.object(e.id, 1<<20-1)
	require.ErrorIs(t, err, ErrNotRead)
	require.ErrorContains(t, err, "1048576 bytes")
	r.spent = maxSpent - 3<<19
	_, err = r.File(head, "a.md")
	require.NoError(t, err)
	_, err = r.File(head, "a.md")
	require.ErrorIs(t, err, ErrNotRead)
}

// What a delta makes is bounded before it is made, and so is all that it rests on.
func TestCostOfDeltas(t *testing.T) {
	w := newWork(t)
	w.history()
	w.git("gc", "-q", "--aggressive")
	r := w.open()
	for i := range 11 {
		id, err := r.Resolve(fmt.Sprint("HEAD~", i))
		require.NoError(t, err)
		e, err := r.find(id, "board.md")
		require.NoError(t, err)
		before := r.spent
		_, data, err := r.object(e.id, MaxObject)
		require.NoError(t, err)
		require.GreaterOrEqual(t, r.spent-before, int64(len(data)))
		_, _, err = r.object(e.id, int64(len(data))-1)
		require.ErrorContains(t, err, "at most")
	}
}

// An object that is longer than it says is not unpacked to its end.
func TestLongerThanItSays(t *testing.T) {
	w := newWork(t)
	w.history()
	var b bytes.Buffer
	z := zlib.NewWriter(&b)
	fmt.Fprintf(z, "blob 10\x00%s", strings.Repeat("x", 64<<20))
	require.NoError(t, z.Close())
	w.write(".git/objects/ab/"+strings.Repeat("0", 38), b.String())
	r := w.open()
	_, data, err := r.object(mustID(t, "ab"+strings.Repeat("0", 38)), MaxObject)
	require.ErrorIs(t, err, ErrNotRead)
	require.Less(t, len(data), 100)
}
