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
		if m := regexp.MustCompile(`http://127\.0\.0\.1:\d+/\w{20,}/`).FindString(l); m != "" {
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
	host := address[:strings.Index(address, "/"+filepath.Base(address))]
	for _, other := range []string{host + "/", host + "/events", host + "/x/", address + "x"} {
		res, err := http.Get(other)
		require.NoError(t, err)
		res.Body.Close()
		require.GreaterOrEqual(t, res.StatusCode, 400, other)
		require.Equal(t, "nosniff", res.Header.Get("X-Content-Type-Options"))
		require.Equal(t, "DENY", res.Header.Get("X-Frame-Options"))
	}

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

	// The folder is moved away and comes back: the page says that it is stale,
	// then is new again.
	shows := func(says string, want bool) {
		require.Eventually(t, func() bool {
			_, page = get("")
			return strings.Contains(page, says) == want
		}, time.Minute, 100*time.Millisecond)
	}
	require.NoError(t, os.Rename(dir, dir+"-away"))
	shows("Not of the files as they are", true)
	require.Contains(t, page, "Watched", "the last record is still there")
	require.NoError(t, os.Rename(dir+"-away", dir))
	shows("Not of the files as they are", false)

	// Exported lists are followed, and streams have an end.
	list := filepath.Join(dir, "list.csv")
	require.NoError(t, os.WriteFile(list, []byte("designator,value\n"), 0o644))
	require.NoError(t, os.WriteFile(note, []byte(strings.Replace(text, "title: Watched", "title: Listed\nparts list: list.csv", 1)), 0o644))
	shows("Listed", true)
	shows("R77", false)
	require.NoError(t, os.WriteFile(list, []byte("designator,value\nR77,10k\n"), 0o644))
	shows("R77", true)
	var open []*http.Response
	for range maxStreams + 1 {
		res, err := http.Get(address + "events")
		require.NoError(t, err)
		defer res.Body.Close()
		open = append(open, res)
	}
	require.Equal(t, http.StatusServiceUnavailable, open[maxStreams].StatusCode)
	stop()
	require.Zero(t, <-done)
}

// A page whose successor is long in coming says so, and no longer than that.
func TestLatePageIsTold(t *testing.T) {
	l := &live{}
	require.True(t, l.set([]byte("<body>one"), ""))
	l.late(0)
	_, changed := l.get()
	<-changed
	page, changed := l.get()
	require.Contains(t, string(page), "being worked out again")
	require.True(t, l.set([]byte("<body>one"), ""))
	<-changed
	for range 200 {
		l.late(0)
		l.set([]byte("<body>two"), "")
	}
	page, _ = l.get()
	require.Equal(t, "<body>two", string(page))
	require.False(t, l.set([]byte("<body>two"), ""), "nothing is new")
}
