//go:build unix

package main

import (
	"bufio"
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"github.com/stretchr/testify/require"
)

// ugly is a claim whose proof takes far longer than anybody waits.
func ugly() string {
	var b strings.Builder
	b.WriteString("```design\ntitle: Ugly\n```\n```values\n")
	var terms []string
	for i := range 9 {
		fmt.Fprintf(&b, "X%d = 1 V to 2 V\n", i)
		terms = append(terms, fmt.Sprintf("(X%d - X%d)^2 / (X%d + X%d)", i, (i+1)%9, (i+2)%9, (i+4)%9))
	}
	fmt.Fprintf(&b, "```\n```claim far\nstatement: it takes long\ncriterion: %s <= 2.24 V\n```\n", strings.Join(terms, " + "))
	return b.String()
}

// A signal stops a run at once, with the code of the signal; a record that was
// there is as it was, and nothing is left beside it.
func TestSignalsStop(t *testing.T) {
	program := filepath.Join(t.TempDir(), "guardband")
	out, err := exec.Command("go", "build", "-o", program, ".").CombinedOutput()
	require.NoError(t, err, string(out))
	for _, c := range []struct {
		signal os.Signal
		code   int
	}{{os.Interrupt, exitInterrupted}, {syscall.SIGTERM, exitTerminated}} {
		dir := t.TempDir()
		quick, slow := filepath.Join(dir, "quick.md"), filepath.Join(dir, "slow.md")
		require.NoError(t, os.WriteFile(quick, []byte(small), 0o644))
		require.NoError(t, os.WriteFile(slow, []byte(ugly()), 0o644))
		old := filepath.Join(dir, "out", "slow", "record.json")
		require.NoError(t, os.MkdirAll(filepath.Dir(old), 0o755))
		require.NoError(t, os.WriteFile(old, []byte("{}"), 0o644))
		for _, args := range [][]string{
			{"check", quick, slow}, {"report", quick, slow, "--out", filepath.Join(dir, "out"), "--format", "json,html"},
		} {
			cmd := exec.Command(program, append(args, "--no-cache", "--boxes", "1000000000")...)
			var says bytes.Buffer
			cmd.Stderr = &says
			pipe, err := cmd.StdoutPipe()
			require.NoError(t, err)
			require.NoError(t, cmd.Start())
			_, err = bufio.NewReader(pipe).ReadString('\n') // the quick one is done, so the slow one is under way
			require.NoError(t, err, says.String())
			require.NoError(t, cmd.Process.Signal(c.signal))
			_ = cmd.Wait()
			require.Equal(t, c.code, cmd.ProcessState.ExitCode(), says.String())
			data, err := os.ReadFile(old)
			require.NoError(t, err)
			require.Equal(t, "{}", string(data))
			list, err := os.ReadDir(filepath.Dir(old))
			require.NoError(t, err)
			require.Len(t, list, 1)
		}
	}
}

// A second signal does not wait for what the first waits for.
func TestSecondSignalEndsAtOnce(t *testing.T) {
	for _, c := range []struct {
		signal syscall.Signal
		code   int
	}{{syscall.SIGINT, exitInterrupted}, {syscall.SIGTERM, exitTerminated}} {
		winding, codes := make(chan bool), make(chan int, 2)
		stop := func() { winding <- true; winding <- true } // as while files take their places
		signals := stopOnSignal(stop, func(code int) { codes <- code })
		require.NoError(t, syscall.Kill(os.Getpid(), c.signal))
		<-winding
		require.Empty(t, codes, "the first waits")
		require.NoError(t, syscall.Kill(os.Getpid(), c.signal))
		require.Equal(t, c.code, <-codes)
		<-winding
		require.Equal(t, c.code, <-codes)
		signal.Stop(signals)
	}
}

// A pipe in the place of a file is refused, not waited for.
func TestPipesAreRefused(t *testing.T) {
	dir := t.TempDir()
	pipe := filepath.Join(dir, "x.md")
	require.NoError(t, syscall.Mkfifo(pipe, 0o644))
	ok := filepath.Join(dir, "ok.md")
	text := strings.Replace(small, "title: Small", "title: Small\nparts list: x.md\ninclude: x.md", 1)
	text += "```source S\ntitle: a sheet\nfile: x.md\n```\n"
	require.NoError(t, os.WriteFile(ok, []byte(text), 0o644))
	for _, args := range [][]string{
		{"check", pipe}, {"format", pipe}, {"draft", pipe}, {"compare", pipe, pipe}, {"explain", "V", "--in", pipe},
		{"check", ok}, {"report", ok, "--out", filepath.Join(dir, "out")}, {"find", "x", "--in", ok},
	} {
		code, out := command(append(args, "--no-cache")...)
		require.NotZero(t, code, "%v: %s", args, out)
	}
	require.NoFileExists(t, filepath.Join(dir, "out", "x"))
	code, _ := command("format", dir)
	require.Zero(t, code)
}
