package main

import (
	"bufio"
	"context"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// TestWatch serves a record, is told of a save, and refuses a request that
// names another host.
func TestWatch(t *testing.T) {
	dir := t.TempDir()
	note := filepath.Join(dir, "board.md")
	text := "```design\ntitle: Watched\n```\n```values\nV = 3 V   [assumed: a test]\n```\n```claim c\nstatement: it holds\ncriterion: V <= 4 V\n```\n"
	require.NoError(t, os.WriteFile(note, []byte(text), 0o644))
	ctx, stop := context.WithCancel(context.Background())
	out, in := io.Pipe()
	done := make(chan int, 1)
	go func() {
		done <- run(ctx, []string{"watch", note, "--no-cache"}, strings.NewReader(""), in, io.Discard)
		in.Close()
	}()
	lines := bufio.NewReader(out)
	var address string
	for address == "" {
		l, err := lines.ReadString('\n')
		require.NoError(t, err)
		if m := regexp.MustCompile(`http://127\.0\.0\.1:\d+/`).FindString(l); m != "" {
			address = m
		}
	}
	go io.Copy(io.Discard, lines)

	get := func(host string) (int, string) {
		req, err := http.NewRequestWithContext(ctx, "GET", address, nil)
		require.NoError(t, err)
		if host != "" {
			req.Host = host
		}
		res, err := http.DefaultClient.Do(req)
		require.NoError(t, err)
		defer res.Body.Close()
		b, err := io.ReadAll(res.Body)
		require.NoError(t, err)
		return res.StatusCode, string(b)
	}
	code, page := get("")
	require.Equal(t, 200, code)
	require.Contains(t, page, "Watched")
	require.Contains(t, page, "passed")
	code, _ = get("elsewhere.invalid")
	require.Equal(t, http.StatusForbidden, code)

	events, err := http.Get(address + "events")
	require.NoError(t, err)
	defer events.Body.Close()
	require.NoError(t, os.WriteFile(note, []byte(strings.Replace(text, "V = 3 V", "V = 5 V", 1)), 0o644))
	told := make(chan string, 1)
	go func() {
		b, _ := io.ReadAll(events.Body)
		told <- string(b)
	}()
	select {
	case s := <-told:
		require.Contains(t, s, "data: changed")
	case <-time.After(60 * time.Second):
		t.Fatal("nothing was told of a save")
	}
	_, page = get("")
	require.Contains(t, page, "failed")
	stop()
	require.Zero(t, <-done)
}
