package main

import (
	"bytes"
	"context"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/eval/record"
)

const small = "```design\ntitle: Small\n```\n```values\nV = 3.3 V ± 2 %\n```\n```claim rail\nstatement: the rail stays under its limit\ncriterion: V <= 3.4 V\n```\n"

// recordOf is what `check --format json` writes of a notebook.
func recordOf(t *testing.T, file string) *record.Record {
	var out, errOut bytes.Buffer
	code := run(context.Background(), []string{"check", "--no-cache", "--format", "json", file}, strings.NewReader(""), &out, &errOut)
	require.Equal(t, exitClear, code, errOut.String())
	var r record.Record
	require.NoError(t, json.Unmarshal(out.Bytes(), &r))
	return &r
}

// A record names the commit of the notes, with "+" once they have changed, and
// none outside version control.
func TestCommitOfRecord(t *testing.T) {
	needGit(t)
	dir := t.TempDir()
	file := filepath.Join(dir, "small.md")
	require.NoError(t, os.WriteFile(file, []byte(small), 0o644))
	require.Empty(t, recordOf(t, file).Design.Commit)
	git := func(args ...string) string { return gitIn(t, dir, args...) }
	git("init", "-q")
	git("add", "small.md")
	git("commit", "-q", "-m", "a notebook")
	head := git("rev-parse", "HEAD")[:12]
	require.Equal(t, head, recordOf(t, file).Design.Commit)
	require.NoError(t, os.WriteFile(file, []byte(small+"\nMore.\n"), 0o644))
	require.Equal(t, head+"+", recordOf(t, file).Design.Commit)
}

// A document outside the commit adds no "+", a notebook outside it does; line
// ends turned on checkout are no change.
func TestCommitOfFiles(t *testing.T) {
	needGit(t)
	dir, err := filepath.EvalSymlinks(t.TempDir())
	require.NoError(t, err)
	gitIn(t, dir, "init", "-q")
	file := filepath.Join(dir, "small.md")
	require.NoError(t, os.WriteFile(file, []byte(small), 0o644))
	name, err := commitOf(dir, nil)
	require.NoError(t, err)
	require.Empty(t, name, "no commit yet")
	gitIn(t, dir, "add", "-A")
	gitIn(t, dir, "commit", "-q", "-m", "a notebook")
	head := gitIn(t, dir, "rev-parse", "HEAD")[:12]
	turned := strings.ReplaceAll(small, "\n", "\r\n")
	for _, c := range []struct {
		f    record.File
		plus string
	}{
		{record.File{Abs: file, SHA256: digest([]byte(small))}, ""},
		{record.File{Abs: file, SHA256: digest([]byte(turned))}, ""},
		{record.File{Abs: file, SHA256: digest([]byte(small + " "))}, "+"},
		{record.File{Abs: dir + "/new.md", SHA256: digest(nil)}, "+"},
		{record.File{Abs: dir + "/new.csv", SHA256: digest(nil), Kind: record.FileExported}, "+"},
		{record.File{Abs: dir + "/new.pdf", SHA256: digest(nil), Kind: record.FileDocument}, ""},
		{record.File{Abs: file, SHA256: digest(nil), Kind: record.FileDocument}, "+"},
	} {
		name, err := commitOf(dir, []record.File{c.f})
		require.NoError(t, err)
		require.Equal(t, head+c.plus, name, c.f)
	}
}

// No command starts git, whichever the path leads to.
func TestWithoutGit(t *testing.T) {
	needGit(t)
	dir, mark := t.TempDir(), t.TempDir()
	gitIn(t, dir, "init", "-q")
	file := filepath.Join(dir, "small.md")
	require.NoError(t, os.WriteFile(file, []byte(small), 0o644))
	gitIn(t, dir, "add", "-A")
	gitIn(t, dir, "commit", "-q", "-m", "a notebook")
	require.NoError(t, os.WriteFile(filepath.Join(mark, "git"), []byte("#!/bin/sh\n: > '"+mark+"/called'\n"), 0o755))
	t.Setenv("PATH", mark)
	everyCommand(t, dir, file)
	require.NoFileExists(t, filepath.Join(mark, "called"))
	require.NoError(t, exec.Command("git").Run())
	require.FileExists(t, filepath.Join(mark, "called"), "the stand-in works")
}
