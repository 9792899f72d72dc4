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

	"guardband/report/html"
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
	versions := make(chan string, 99)
	go func() {
		for lines := bufio.NewScanner(events.Body); lines.Scan(); {
			if v, ok := strings.CutPrefix(lines.Text(), "data: "); ok {
				versions <- v
			}
		}
	}()
	told := func() string {
		select {
		case v := <-versions:
			return v
		case <-time.After(60 * time.Second):
			t.Fatal("nothing was told of a save")
			return ""
		}
	}
	// The version is told at once: a page asks whether it is the newest.
	version := regexp.MustCompile(`data-version="0*(\d+)"`).FindStringSubmatch(page)
	require.Equal(t, version[1], told())
	require.NoError(t, os.WriteFile(note, []byte(strings.Replace(text, "V = 3 V", "V = 5 V", 1)), 0o644))
	for strings.Contains(page, "1 passed") {
		told()
		_, page = get("")
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
	_, _, changed := l.get()
	<-changed
	page, _, changed := l.get()
	require.Contains(t, string(page), "being worked out again")
	require.True(t, l.set([]byte("<body>one"), ""))
	<-changed
	for range 200 {
		l.late(0)
		l.set([]byte("<body>two"), "")
	}
	page, _, _ = l.get()
	require.Equal(t, "<body>two", string(page))
	require.False(t, l.set([]byte("<body>two"), ""), "nothing is new")
}

// A page with a notice is of the version that the stream tells: a page that
// were of another would load itself without end.
func TestNoticeHasAVersion(t *testing.T) {
	l := &live{}
	l.set(html.Index(nil, "events"), "")
	l.set(nil, "gone")
	page, version, _ := l.get()
	require.Equal(t, 2, version)
	require.Contains(t, string(page), `data-version="0000000002"`)
	require.Contains(t, string(page), "gone")
}

// TestWatchedPages: several designs have a page each below the token, and a
// save in one that others do not read leaves theirs as they were.
func TestWatchedPages(t *testing.T) {
	dir := t.TempDir()
	for _, name := range []string{"a", "b"} {
		require.NoError(t, os.Mkdir(filepath.Join(dir, name), 0o755))
		require.NoError(t, os.WriteFile(filepath.Join(dir, name, "board.md"), []byte("```design\ntitle: Board "+name+"\n```\n"), 0o644))
	}
	ctx, stop := context.WithCancel(context.Background())
	out, in := io.Pipe()
	done := make(chan int, 1)
	go func() {
		done <- run(ctx, []string{"watch", dir, "--no-cache"}, strings.NewReader(""), in, io.Discard)
		in.Close()
	}()
	lines := bufio.NewScanner(out)
	address := ""
	for address == "" && lines.Scan() {
		address = regexp.MustCompile(`http://127\.0\.0\.1:\d+/\w{20,}/`).FindString(lines.Text())
	}
	go io.Copy(io.Discard, out)
	get := func(path string) string {
		res, err := http.Get(address + path)
		require.NoError(t, err)
		defer res.Body.Close()
		b, err := io.ReadAll(res.Body)
		require.NoError(t, err)
		return string(b)
	}
	require.Contains(t, get(""), "Board a")
	require.Contains(t, get(""), "Board b")
	require.Contains(t, get("1/"), "Board a")
	b := get("2/")
	require.Contains(t, b, "Board b")
	require.NoError(t, os.WriteFile(filepath.Join(dir, "a", "board.md"), []byte("```design\ntitle: Other\n```\n"), 0o644))
	require.Eventually(t, func() bool { return strings.Contains(get(""), "Other") }, time.Minute, 50*time.Millisecond)
	require.Contains(t, get("1/"), "Other")
	require.Equal(t, b, get("2/"))
	stop()
	require.Zero(t, <-done)
}
