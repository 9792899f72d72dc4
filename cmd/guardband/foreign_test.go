package main

import (
	"bytes"
	"context"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// command runs the program on a folder of somebody else's.
func command(args ...string) (code int, out string) {
	var both bytes.Buffer
	code = run(context.Background(), args, strings.NewReader(""), &both, &both)
	return code, both.String()
}

// needGit skips where git is missing, which it must not be where skips count.
func needGit(t *testing.T) {
	if _, err := exec.LookPath("git"); err != nil {
		require.Empty(t, os.Getenv("GUARDBAND_NO_SKIP"), "git is missing")
		t.Skip("git is not installed")
	}
}

func gitIn(t *testing.T, dir string, args ...string) string {
	own := []string{"-C", dir, "-c", "user.name=Tester", "-c", "user.email=tester@example.org",
		"-c", "commit.gpgsign=false", "-c", "core.fsmonitor=false", "-c", "core.hooksPath=/nonexistent",
		"-c", "filter.own.clean=cat", "-c", "filter.own.smudge=cat", "-c", "filter.own.process="}
	out, err := exec.Command("git", append(own, args...)...).CombinedOutput()
	require.NoError(t, err, string(out))
	return strings.TrimSpace(string(out))
}

// settings are the places of git's configuration that name a program; each
// leaves a file of its own if it is run.
func settings(mark string) string {
	touch := func(name string) string { return fmt.Sprintf("\"touch '%s/%s'; cat\"", mark, name) }
	var b strings.Builder
	for _, s := range [][3]string{
		{"core", "fsmonitor", ""}, {"core", "sshCommand", ""}, {"core", "pager", ""}, {"core", "editor", ""},
		{"core", "askPass", ""}, {"core", "gitProxy", ""}, {"core", "alternateRefsCommand", ""},
		{"diff", "external", ""}, {"diff \"own\"", "textconv", ""}, {"diff \"own\"", "command", ""},
		{"filter \"own\"", "clean", ""}, {"filter \"own\"", "smudge", ""}, {"filter \"own\"", "process", ""},
		{"filter \"own\"", "required", "true"}, {"merge \"own\"", "driver", ""}, {"credential", "helper", ""},
		{"gpg", "program", ""}, {"uploadpack", "packObjectsHook", ""}, {"tar \"own\"", "command", ""},
		{"remote \"origin\"", "url", "ext::sh -c touch%% " + mark + "/ext"}, {"remote \"origin\"", "promisor", "true"},
		{"remote \"origin\"", "uploadpack", ""}, {"remote \"origin\"", "vcs", "own"}, {"protocol", "allow", "always"},
		{"extensions", "partialClone", "origin"}, {"include", "path", mark + "/none"}, {"alias", "status", ""},
	} {
		value := s[2]
		if value == "" {
			value = touch(strings.Trim(s[0]+"."+s[1], "\""))
		}
		fmt.Fprintf(&b, "[%s]\n\t%s = %s\n", s[0], s[1], value)
	}
	return b.String()
}

// arm puts programs into a repository: every setting and every hook.
func arm(t *testing.T, dir, mark string) {
	f, err := os.OpenFile(filepath.Join(dir, "config"), os.O_APPEND|os.O_CREATE|os.O_WRONLY, 0o644)
	require.NoError(t, err)
	_, err = f.WriteString("\n" + settings(mark))
	require.NoError(t, err)
	require.NoError(t, f.Close())
	require.NoError(t, os.MkdirAll(filepath.Join(dir, "hooks"), 0o755))
	for _, h := range strings.Fields("pre-commit post-checkout post-index-change fsmonitor-watchman post-merge update " +
		"reference-transaction pre-auto-gc pre-push post-update pre-receive sendemail-validate p4-changelist") {
		text := "#!/bin/sh\ntouch '" + mark + "/hook-" + h + "'\n"
		require.NoError(t, os.WriteFile(filepath.Join(dir, "hooks", h), []byte(text), 0o755))
	}
}

// A stranger's folder starts no program, whatever its repository says: a plain
// checkout, a repository among the tracked files, and the .git of an archive.
func TestNothingOfTheFolderRuns(t *testing.T) {
	needGit(t)
	for _, kind := range []string{"plain", "embedded", "archive"} {
		t.Run(kind, func(t *testing.T) {
			mark, outer := t.TempDir(), t.TempDir()
			dir := outer
			gitIn(t, outer, "init", "-q")
			if kind == "embedded" { // the folder checked is a bare repository, all of it tracked
				dir = filepath.Join(outer, "in")
				require.NoError(t, os.Mkdir(dir, 0o755))
				gitIn(t, dir, "init", "-q", "--bare", ".")
				require.NoError(t, os.WriteFile(filepath.Join(dir, "refs", "keep"), nil, 0o644))
				require.NoError(t, os.WriteFile(filepath.Join(dir, "objects", "keep"), nil, 0o644))
			}
			require.NoError(t, os.WriteFile(filepath.Join(dir, "small.md"), []byte(small), 0o644))
			attributes := []byte("* filter=own diff=own merge=own export-subst\n")
			require.NoError(t, os.WriteFile(filepath.Join(dir, ".gitattributes"), attributes, 0o644))
			for _, text := range []string{small, small + "\nMore.\n"} {
				require.NoError(t, os.WriteFile(filepath.Join(dir, "small.md"), []byte(text), 0o644))
				gitIn(t, outer, "add", "-A", "-f")
				gitIn(t, outer, "commit", "-q", "-m", "a notebook")
			}
			arm(t, filepath.Join(outer, ".git"), mark)
			if kind == "embedded" {
				arm(t, dir, mark)
				gitIn(t, outer, "config", "-f", filepath.Join(dir, "config"), "core.bare", "false")
				gitIn(t, outer, "config", "-f", filepath.Join(dir, "config"), "core.worktree", dir)
			}
			if kind == "archive" {
				to := filepath.Join(t.TempDir(), "unpacked")
				require.NoError(t, os.CopyFS(to, os.DirFS(outer)))
				dir = to
			}
			file := filepath.Join(dir, "small.md")
			for _, dirty := range []bool{false, true} {
				if dirty {
					require.NoError(t, os.WriteFile(file, []byte(strings.ReplaceAll(small, "3.4", "3.5")), 0o644))
				}
				everyCommand(t, dir, file)
			}
			left, err := os.ReadDir(mark)
			require.NoError(t, err)
			require.Empty(t, left, "a program of the folder was run")
			_ = exec.Command("git", "-C", dir, "status").Run()
			left, err = os.ReadDir(mark)
			require.NoError(t, err)
			require.NotEmpty(t, left, "the settings work: git itself runs them")
		})
	}
}

// everyCommand runs each command on a folder with one small notebook. Only
// watch, which does what report does, is left out: it ends by itself never.
func everyCommand(t *testing.T, dir, file string) {
	out := filepath.Join(t.TempDir(), "out")
	for _, args := range [][]string{
		{"check", dir}, {"check", "--staged", dir}, {"check", "--staged", file}, {"calc", "V * 2", "--in", file},
		{"check", "--format", "json", file}, {"report", dir, "--out", out}, {"explain", "V", "--in", file},
		{"sweep", "rail", "V", "--in", file}, {"parts", dir}, {"sources", dir}, {"find", "rail", "--in", file},
		{"format", "--check", dir}, {"formulas"}, {"units"}, {"new", filepath.Join(out, "new")},
		{"compare", "HEAD~1", ".", "--in", file}, {"compare", "HEAD~1", "HEAD", "--in", file},
		{"compare", "--in", file, "--", "--upload-pack=touch x", "HEAD"},
		{"compare", "--in", file, "--", "--output=" + out, "HEAD"},
	} {
		_, text := command(append(args, "--no-cache")...)
		require.NotContains(t, text, "a fault", args)
		require.NotContains(t, text, "unknown flag", args)
	}
}

// What compare reads of a revision is what was committed.
func TestCompareReadsRevisions(t *testing.T) {
	needGit(t)
	dir := t.TempDir()
	gitIn(t, dir, "init", "-q", "-b", "main")
	file := filepath.Join(dir, "small.md")
	require.NoError(t, os.WriteFile(filepath.Join(dir, ".gitattributes"), []byte("*.md filter=own\n"), 0o644))
	for _, limit := range []string{"3.4", "3.3"} {
		require.NoError(t, os.WriteFile(file, []byte(strings.ReplaceAll(small, "3.4", limit)), 0o644))
		gitIn(t, dir, "add", "-A")
		gitIn(t, dir, "commit", "-q", "-m", "limit "+limit)
	}
	gitIn(t, dir, "tag", "-a", "-m", "B", "rev-B")
	code, out := command("compare", "HEAD~1", ".", "--in", file, "--no-cache")
	require.Equal(t, exitClaims, code, out)
	require.Contains(t, out, "rail: passed -> failed")
	code, out = command("compare", "rev-B", "main", "--in", file, "--no-cache")
	require.Equal(t, exitClear, code, out)
	code, out = command("compare", "rev-C", "main", "--in", file, "--no-cache")
	require.Equal(t, exitMachine, code, out)
	require.Contains(t, out, `there is no revision "rev-C"`)
}

// compare looks at every design of a folder on both sides, each with the root it
// has there, says what became worse, and never hides the errors of a side.
func TestCompareEveryDesign(t *testing.T) {
	needGit(t)
	top := t.TempDir()
	boards := filepath.Join(top, "boards")
	put := func(name, text string) {
		require.NoError(t, os.MkdirAll(filepath.Dir(filepath.Join(top, name)), 0o755))
		require.NoError(t, os.WriteFile(filepath.Join(top, name), []byte(text), 0o644))
	}
	commit := func(what string) {
		gitIn(t, top, "add", "-A")
		gitIn(t, top, "commit", "-q", "-m", what)
	}
	board := func(limit string) string {
		return "```design\ntitle: x\ninclude: ../parts/p.md\n```\n```circuit\nU1  P\n```\n```claim c\nstatement: x\ncriterion: U1.V <= " + limit + "\n```\n"
	}
	gitIn(t, top, "init", "-q", "-b", "main")
	put("parts/p.md", "```part P\nspec V = max 2 V  [assumed: x]\nat least zero: V\n```\n")
	put("boards/a.md", board("3 V"))
	put("boards/b.md", board("1 V"))
	commit("one")
	put("boards/a.md", board("1 V"))
	put("boards/b.md", board("3 V"))
	put("boards/c.md", board("3 V"))
	commit("two")
	code, out := command("compare", "HEAD~1", ".", "--in", boards, "--root", top, "--no-cache")
	require.Equal(t, exitClaims, code, out)
	require.Regexp(t, `(?s)a\.md\n.*Verdicts, worse\n  c: passed -> failed.*b\.md\n.*Verdicts, better\n  c: failed -> passed`, out)
	require.Contains(t, out, "c.md")
	require.Contains(t, out, "is not in HEAD~1: new, ")
	same, again := command("compare", "HEAD~1", "HEAD", "--in", boards, "--root", top, "--no-cache")
	require.Equal(t, code, same)
	require.Equal(t, out, again)

	put("parts/p.md", "```part P\nspec V = max 2 furlongs  [assumed: x]\n```\n")
	commit("three")
	code, out = command("compare", "HEAD~1", "HEAD", "--in", filepath.Join(boards, "a.md"), "--root", top, "--no-cache")
	require.Equal(t, exitErrors, code, out)
	require.Contains(t, out, "furlongs")
}

// No program is started.
func TestStartsNoPrograms(t *testing.T) {
	root := filepath.Join("..", "..")
	err := filepath.WalkDir(root, func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(p, ".go") || strings.HasSuffix(p, "_test.go") {
			return err
		}
		data, err := os.ReadFile(p)
		for _, way := range []string{`"os/exec"`, "os.StartProcess", "syscall.Exec", "syscall.ForkExec", `"plugin"`} {
			if bytes.Contains(data, []byte(way)) {
				require.Fail(t, "a program may be started", "%s: %s", p, way)
			}
		}
		return err
	})
	require.NoError(t, err)
}
