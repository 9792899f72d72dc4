package pdf

import (
	"bytes"
	"errors"
	"io"
	"os"
	"path/filepath"
	"sync"
	"testing"

	"github.com/go-fonts/dejavu/dejavusanscondensed"
	"github.com/stretchr/testify/require"

	"guardband/eval/record"
	"guardband/report/internal/fixture"
)

// records are the fixtures that every test of the whole writer runs over.
func records() map[string]*record.Record {
	return map[string]*record.Record{
		"small": fixture.Small(), "large": fixture.Large(), "empty": fixture.Empty(), "zero": {},
		"failures": fixture.Failures(), "hostile": fixture.Hostile(), "many": fixture.Many(300),
	}
}

func write(t testing.TB, r *record.Record, short bool) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, Write(&b, r, short))
	return b.Bytes()
}

// composed lays a record out and keeps what was drawn, page by page.
func composed(t testing.TB, r *record.Record, short bool) (*document, []drawn, []byte) {
	t.Helper()
	p, err := newPage(dateOf(r.Design))
	require.NoError(t, err)
	var seen []drawn
	p.watch = func(d drawn) { seen = append(seen, d) }
	d := newDocument(p, r, short)
	d.compose()
	var b bytes.Buffer
	require.NoError(t, p.finish(&b, d.running))
	return d, seen, b.Bytes()
}

func TestEveryRecordIsWritten(t *testing.T) {
	dir := os.Getenv("GUARDBAND_PDF_DIR") // to look at the pages
	for name, r := range records() {
		for suffix, short := range map[string]bool{"": false, "-meeting": true} {
			b := write(t, r, short)
			require.True(t, bytes.HasPrefix(b, []byte("%PDF-1.")), name)
			if dir != "" {
				require.NoError(t, os.WriteFile(filepath.Join(dir, name+suffix+".pdf"), b, 0o644))
			}
		}
	}
}

func TestSameBytesTenTimes(t *testing.T) {
	for _, r := range []*record.Record{fixture.Small(), fixture.Hostile()} {
		first := write(t, r, false)
		for range 9 {
			require.True(t, bytes.Equal(first, write(t, r, false)), "two runs differ")
		}
	}
}

// Records are written at the same time without touching each other: fpdf
// writes into the font bytes it is given, so it gets its own.
func TestFontsAreNotChanged(t *testing.T) {
	before := bytes.Clone(dejavusanscondensed.TTF)
	var wg sync.WaitGroup
	for range 2 {
		wg.Go(func() { _ = Write(io.Discard, fixture.Small(), false) })
	}
	wg.Wait()
	require.True(t, bytes.Equal(before, dejavusanscondensed.TTF))
}

// The record alone dates the file: no clock.
func TestDatesAreTheRecords(t *testing.T) {
	b := write(t, fixture.Small(), false)
	require.Contains(t, string(b), "/CreationDate (D:20261124000000)")
	require.Contains(t, string(b), "/ModDate (D:20261124000000)")
	r := fixture.Small()
	r.Design.AsOf, r.Design.Date = "soon", ""
	require.Contains(t, string(write(t, r, false)), "/CreationDate (D:19700101000000)")
}

var errFull = errors.New("disk full")

type fullDisk struct{}

func (fullDisk) Write([]byte) (int, error) { return 0, errFull }

func TestWriteErrorIsReported(t *testing.T) {
	require.ErrorIs(t, Write(fullDisk{}, fixture.Small(), false), errFull)
}

// The meeting's version holds every claim that failed, is open, waived or
// skipped, however many pages it takes, and every safety message.
func TestMeetingHoldsAllThatNeedsAttention(t *testing.T) {
	for name, r := range records() {
		_, seen, _ := composed(t, r, true)
		text := folded(textOf(seen))
		for i := range r.Claims {
			if c := &r.Claims[i]; c.Verdict != record.Passed && name != "hostile" {
				require.Contains(t, text, folded(c.Statement), name)
			}
		}
		p, err := newPage(dateOf(r.Design))
		require.NoError(t, err)
		for _, c := range r.Safety {
			for _, s := range c.Text {
				require.Contains(t, text, folded(p.g.clean(s)), name)
			}
		}
	}
}

func TestHostileRecordIsInert(t *testing.T) {
	b := write(t, fixture.Hostile(), false)
	for _, bad := range []string{"/JavaScript (", "/JS ", "/Launch", "/URI (javascript", "/URI (data", "/AA "} {
		require.NotContains(t, string(b), bad)
	}
	for _, m := range []string{"javascript:alert(1)", " JaVaScRiPt:x", "data:text/html,x", "file:///etc/passwd", "//host/x"} {
		_, ok := liveURL(m)
		require.False(t, ok || bytes.Contains(b, []byte("/URI ("+m)), m)
	}
	u, ok := liveURL("https://example.org/a%20b?c=d#e")
	require.True(t, ok)
	require.Equal(t, "https://example.org/a%20b?c=d#e", u)
	_, ok = liveURL("https://example.org/?q=ü") // not ASCII: shown, not live
	require.False(t, ok)
}
