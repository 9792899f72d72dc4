package main

import (
	"bytes"
	"context"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/eval"
)

const small = "```design\ntitle: Small\n```\n```values\nV = 3.3 V ± 2 %\n```\n```claim rail\nstatement: the rail stays under its limit\ncriterion: V <= 3.4 V\n```\n"

// recordOf is what `check --format json` writes of a notebook.
func recordOf(t *testing.T, file string) *eval.Record {
	var out, errOut bytes.Buffer
	code := run(context.Background(), []string{"check", "--no-cache", "--format", "json", file}, strings.NewReader(""), &out, &errOut)
	require.Equal(t, exitClear, code, errOut.String())
	var r eval.Record
	require.NoError(t, json.Unmarshal(out.Bytes(), &r))
	return &r
}

// A record names the commit of the notes, with "+" once they have changed, and
// none outside version control.
func TestCommitOfRecord(t *testing.T) {
	if _, err := exec.LookPath("git"); err != nil {
		require.Empty(t, os.Getenv("GUARDBAND_NO_SKIP"), "git is missing")
		t.Skip("git is not installed")
	}
	dir := t.TempDir()
	t.Setenv("GIT_CEILING_DIRECTORIES", filepath.Dir(dir))
	file := filepath.Join(dir, "small.md")
	require.NoError(t, os.WriteFile(file, []byte(small), 0o644))
	require.Empty(t, recordOf(t, file).Design.Commit)
	git := func(args ...string) string {
		out, err := exec.Command("git", append([]string{"-C", dir, "-c", "user.name=Tester", "-c", "user.email=tester@example.org", "-c", "commit.gpgsign=false"}, args...)...).CombinedOutput()
		require.NoError(t, err, string(out))
		return strings.TrimSpace(string(out))
	}
	git("init", "-q")
	git("add", "small.md")
	git("commit", "-q", "-m", "a notebook")
	head := git("rev-parse", "HEAD")[:12]
	require.Equal(t, head, recordOf(t, file).Design.Commit)
	require.NoError(t, os.WriteFile(file, []byte(small+"\nMore.\n"), 0o644))
	require.Equal(t, head+"+", recordOf(t, file).Design.Commit)
}

// What is only shown names no commit, and git, which takes as long as a small
// notebook, is not started for it.
func TestShownWithoutGit(t *testing.T) {
	if runtime.GOOS == "windows" {
		return // a program cannot stand in for git there without being compiled
	}
	dir := t.TempDir()
	called := filepath.Join(dir, "called")
	require.NoError(t, os.WriteFile(filepath.Join(dir, "git"), []byte("#!/bin/sh\necho > '"+called+"'\n"), 0o755))
	file := filepath.Join(dir, "small.md")
	require.NoError(t, os.WriteFile(file, []byte(small), 0o644))
	t.Setenv("PATH", dir)
	var out, errOut bytes.Buffer
	require.Equal(t, exitClear, run(context.Background(), []string{"check", "--no-cache", file}, strings.NewReader(""), &out, &errOut), errOut.String())
	require.NoFileExists(t, called)
	recordOf(t, file)
	require.FileExists(t, called) // the stand-in works
}
