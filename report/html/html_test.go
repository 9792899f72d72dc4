package html

import (
	"bytes"
	"errors"
	"flag"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/eval/record"
	"guardband/report/internal/fixture"
)

var update = flag.Bool("update", false, "write the golden files")

// records are made once; TestRecordIsLeftAlone shows that writing changes none.
var records = sync.OnceValue(func() map[string]*record.Record {
	return map[string]*record.Record{
		"small": fixture.Small(), "large": fixture.Large(), "failures": fixture.Failures(), "empty": fixture.Empty(),
		"hostile": fixture.Hostile(), "many": fixture.Many(60),
	}
})

func written(t testing.TB, r *record.Record, opt Options) string {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, Write(&b, r, opt))
	return b.String()
}

func TestGolden(t *testing.T) {
	r := fixture.Small()
	for i := range r.Claims { // pictures and the font would drown the rest
		for k := range r.Claims[i].Cites {
			r.Claims[i].Cites[k].Picture = ""
		}
	}
	same := regexp.MustCompile(`(?s)(<style>|<script>).*?(</style>|</script>)`) // of every record: TestOptions holds both
	short := func(s string) []byte { return []byte(same.ReplaceAllString(s, "$1…$2")) }
	fixture.Golden(t, "../..", "small.golden.html", short(written(t, r, Options{Base: ".."})), *update)
	fixture.Golden(t, "../..", "attention.golden.html", short(written(t, r, Options{Short: true})), *update)
	fixture.Golden(t, "../..", "empty.golden.html", short(written(t, fixture.Empty(), Options{})), *update)
}

func TestSameBytes(t *testing.T) {
	for name, r := range records() {
		first := written(t, r, Options{Base: "."})
		for range 3 {
			require.Equal(t, first, written(t, r, Options{Base: "."}), name)
		}
	}
}

func TestOptions(t *testing.T) {
	watched := written(t, fixture.Empty(), Options{Events: "/events"})
	require.Contains(t, watched, "connect-src &#39;self&#39;")
	require.Contains(t, watched, `("/events");`)
	require.NotContains(t, written(t, fixture.Empty(), Options{}), "connect-src")
	page := written(t, fixture.Empty(), Options{})
	require.Contains(t, page, script)
	require.Contains(t, page, css[len(css)/2:])
}

type full struct{ left int }

var errFull = errors.New("no space left on device")

func (f *full) Write(p []byte) (int, error) {
	if f.left -= len(p); f.left < 0 {
		return 0, errFull
	}
	return len(p), nil
}

func TestFullDiskIsReported(t *testing.T) {
	for _, n := range []int{0, 1000, 50_000} {
		require.ErrorIs(t, Write(&full{n}, fixture.Small(), Options{}), errFull)
	}
}

func TestRecordIsLeftAlone(t *testing.T) {
	a, b := fixture.Small(), fixture.Small()
	written(t, a, Options{})
	require.Equal(t, b, a)
}

// TestNothingIsLost looks for every statement, value, fact and number that the
// record shows in the text of the page.
func TestNothingIsLost(t *testing.T) {
	for _, name := range []string{"small", "large", "failures"} {
		r := records()[name]
		text := pageText(t, written(t, r, Options{}))
		seen := map[string]bool{}
		want := func(what, s string) {
			if seen[s] {
				return
			}
			seen[s] = true
			if s = fold(s); s != "" && !strings.Contains(text, s) {
				t.Errorf("%s: %s is missing: %q", name, what, s)
			}
		}
		for _, c := range r.Claims {
			want("claim", c.ID)
			want("statement", c.Statement)
			want("headline", strings.TrimPrefix(c.Headline, string(c.Verdict)+", "))
			want("reason", c.Reason)
			for _, k := range c.Criteria {
				want("corner", k.CornerText)
				for _, v := range k.Corner {
					want("corner of "+v.Name, v.Text)
				}
				for _, x := range k.Tests {
					want("left", x.Left.Shown)
					want("right", x.Right.Shown)
					if x.Margin != nil {
						want("margin", x.Margin.Text)
						want("required", x.Margin.Required)
					}
				}
				for _, x := range k.Contributions {
					want("turn", x.Text)
				}
			}
			for _, o := range c.Open {
				want("open", o.Text)
				want("settle", o.Settle)
			}
			for _, ct := range c.Cites {
				want("quote", ct.Quote)
				want("grade", ct.Text)
			}
			for _, b := range c.RestsOn {
				want("basis", b.Shown)
			}
		}
		for _, v := range r.Values {
			want("value", v.Text)
			want("assumed", v.Assumed)
		}
		for _, p := range r.Parts {
			want("part", p.ID)
			for _, f := range p.Facts {
				want("conditions", f.At)
			}
			for _, n := range p.Needs {
				want("need", n.Text)
			}
		}
		for _, s := range r.Safety {
			for _, x := range s.Text {
				want("caution", x)
			}
		}
		for _, l := range r.PartsList {
			want("order", l.Order)
		}
		for _, a := range r.Assumptions {
			want("assumption", a.Text)
		}
		for _, s := range r.Sources {
			want("digest", s.SHA256)
			want("state", s.State)
		}
	}
}

// The cautions stand on page one behind the verdict's sentence, before any
// claim is told.
func TestCautionsComeFirst(t *testing.T) {
	for _, short := range []bool{false, true} {
		page := written(t, fixture.Small(), Options{Short: short})
		caution := strings.Index(page, `data-word="WARNING"`)
		require.Greater(t, caution, strings.Index(page, `class="lead`))
		require.Less(t, caution, strings.Index(page, `id="attention"`))
		require.Less(t, caution, strings.Index(page, `<table`))
		require.Contains(t, page, "Passing claims are not an approval to energise.")
		for i, text := range fixture.Small().Safety[0].Text { // in full, and once; page one has the first lines too
			require.Equal(t, max(1, 2-i), strings.Count(fold(pageText(t, page)), fold(text)), text)
		}
	}
}

func TestNoClaimIsCalledSafe(t *testing.T) {
	text := strings.ToLower(pageText(t, written(t, fixture.Small(), Options{})))
	require.NotRegexp(t, `\bsafe\b`, text)
}

func TestClaimIsSetOnce(t *testing.T) {
	r := fixture.Large()
	page := written(t, r, Options{})
	for _, c := range r.Claims {
		require.Equal(t, 1, strings.Count(page, `id="`+anchor("claim", c.ID)+`"`), c.ID)
	}
}

func TestPictureIsStoredOnce(t *testing.T) {
	r := fixture.Large()
	page := written(t, r, Options{})
	uri := r.Claims[0].Cites[0].Picture
	require.Equal(t, 1, strings.Count(page, uri[len(pngURI):]))
	require.Greater(t, strings.Count(page, `<use href="#pic-`), strings.Count(page, `<image id="pic-`))
}

func TestFileLinks(t *testing.T) {
	page := written(t, fixture.Small(), Options{Base: "../my board"})
	require.Contains(t, page, `href="../my%20board/board.md"`)
	require.Contains(t, page, `href="../my%20board/sheets/reg.pdf#page=4"`)
	page = written(t, fixture.Small(), Options{Base: "../b", Notes: "../.."})
	require.Contains(t, page, `href="../../board.md"`)
	require.Contains(t, page, `href="../b/sheets/reg.pdf#page=4"`)
	require.NotContains(t, written(t, fixture.Small(), Options{}), "sheets/reg.pdf#page")
}

// The sign-off has roles under Role and people under Name.
func TestSignOffNamesRolesAndPeople(t *testing.T) {
	for _, r := range []*record.Record{fixture.Small(), {Design: record.Design{Author: "M. Quill"}}} {
		var b bytes.Buffer
		require.NoError(t, Write(&b, r, Options{}))
		require.Contains(t, b.String(), `<th scope="row">author</th><td>M. Quill</td>`)
	}
}

// TestIndex: the list of designs is inert, and watched as a record's page is.
func TestIndex(t *testing.T) {
	page := string(Index([]IndexRow{{Path: "1/", Title: "<script>alert(1)</script>", Revision: "A", Verdict: "3 passed"}}, "events"))
	require.Contains(t, page, "&lt;script&gt;alert(1)&lt;/script&gt;")
	require.Contains(t, page, `href="1/"`)
	require.Contains(t, page, `("events");`)
	require.Contains(t, string(OfVersion([]byte(page), 7)), `<html lang="en" data-version="0000000007">`)
	walk(t, page, func(n node) { require.True(t, n.tag == "" || slices.Contains(elements, n.tag), n.tag) })
}
