package html

import (
	"encoding/xml"
	"errors"
	"io"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/require"

	"guardband/report/internal/fixture"
)

// fold makes text comparable: blanks of all kinds are one blank.
func fold(s string) string { return strings.Join(strings.Fields(s), " ") }

// node is an element with its attributes, or a text, or a comment.
type node struct {
	tag   string // "" of text, "!" of a comment
	attrs []xml.Attr
	text  string
}

// walk calls f for every node. The pages are strict enough for the XML
// decoder in its HTML mode; style sheet and script, the only raw texts, are
// taken out first. The browser test reads the same pages by the HTML standard.
func walk(t testing.TB, page string, f func(node)) {
	t.Helper()
	a, b := strings.Index(page, "<style>"), strings.Index(page, "</style>")
	require.Less(t, a, b)
	page = strings.ReplaceAll(page[:a+7]+page[b:], "<script>"+script, "<script>")
	d := xml.NewDecoder(strings.NewReader(page))
	d.Strict, d.AutoClose, d.Entity = false, xml.HTMLAutoClose, xml.HTMLEntity
	for {
		tok, err := d.Token()
		if errors.Is(err, io.EOF) {
			return
		}
		require.NoError(t, err)
		switch x := tok.(type) {
		case xml.StartElement:
			f(node{tag: x.Name.Local, attrs: x.Attr})
		case xml.CharData:
			f(node{text: string(x)})
		case xml.Comment:
			f(node{tag: "!", text: string(x)})
		}
	}
}

// pageText is the text that a reader gets.
func pageText(t testing.TB, page string) string {
	var b strings.Builder
	walk(t, page, func(n node) {
		b.WriteString(n.text)
		if slices.Contains([]string{"p", "div", "td", "th", "li", "dd", "dt", "tr"}, n.tag) {
			b.WriteByte(' ')
		}
	})
	return fold(b.String())
}

// elements are all that a page is made of.
var elements = strings.Fields(`html head meta title style body a header h1 h2 h3 h4 h5 h6 dl div dt dd span section p ul ol li nav main article
	table caption thead tbody tr th td details summary pre code figure figcaption fieldset legend label input b strong em del i sub sup br hr
	blockquote bdi svg defs image use rect line path text script`)

func TestHostileTextIsInert(t *testing.T) {
	for _, opt := range []Options{{}, {Base: "."}, {Short: true}, {Events: "\"</script><script>alert(1)//"}} {
		page := written(t, fixture.Hostile(), opt)
		require.True(t, utf8.ValidString(page))
		scripts := 0
		walk(t, page, func(n node) {
			if n.tag == "" {
				return
			}
			require.Contains(t, elements, n.tag)
			if n.tag == "script" {
				scripts++
			}
			for _, a := range n.attrs {
				require.False(t, strings.HasPrefix(a.Name.Local, "on"), "%s %s=%q", n.tag, a.Name.Local, a.Value)
				require.NotEqual(t, "src", a.Name.Local)
				if a.Name.Local == "href" {
					require.Regexp(t, `^(#|data:image/png;base64,|https?://|mailto:|[^:/]+(/|$))`, a.Value)
					require.Equal(t, strings.HasPrefix(a.Value, "data:"), n.tag == "image", a.Value)
				}
				if a.Name.Local == "style" {
					require.Regexp(t, `^(flex-grow:\d+|width:[\d.]+%|max-width:\d+px)$`, a.Value)
				}
			}
		})
		want := 1
		if opt.Events != "" {
			want = 2
		}
		require.Equal(t, want, scripts)
		require.NotContains(t, page, "\x00")
		require.NotContains(t, page, "\x1b")
		require.NotContains(t, page, "\u202e")
		require.Contains(t, page, `<span class="ctl">U+202E</span>`)
		require.Contains(t, page, "&lt;script&gt;alert(1)&lt;/script&gt;")
	}
}

// TestNoRequests: nothing in a page names an address that a browser fetches
// by itself.
func TestNoRequests(t *testing.T) {
	for name, r := range records() {
		page := written(t, r, Options{})
		require.NotRegexp(t, `(?i)(src|srcset|poster|background|data|action|formaction|ping|manifest)="`, strings.ReplaceAll(page, "data-", ""), name)
		require.NotRegexp(t, `(?i)@import|<link|<iframe|<object|<embed|<base|<form`, page, name)
		for _, u := range regexp.MustCompile(`url\(([^)]{0,30})`).FindAllStringSubmatch(page, -1) {
			require.True(t, strings.HasPrefix(u[1], "data:font/woff;base64,"), u[1])
		}
		require.Contains(t, page, "default-src &#39;none&#39;")
	}
}

func TestRightToLeftIsIsolated(t *testing.T) {
	page := written(t, fixture.Hostile(), Options{})
	require.Contains(t, page, "<bdi>مقاومة الحمل שלום 123</bdi>")
}

// TestIDsAndLinks: no ID stands twice, every link inside the page has its target.
func TestIDsAndLinks(t *testing.T) {
	for name, r := range records() {
		for _, opt := range []Options{{}, {Short: true}} {
			ids, links := map[string]bool{}, map[string]bool{}
			walk(t, written(t, r, opt), func(n node) {
				for _, a := range n.attrs {
					switch key := a.Name.Local; {
					case key == "id":
						if ids[a.Value] || strings.Contains(a.Value, " ") {
							t.Errorf("%s: id %q twice or with a blank", name, a.Value)
						}
						ids[a.Value] = true
					case key == "href" && strings.HasPrefix(a.Value, "#"):
						links[a.Value[1:]] = true
					case key == "aria-labelledby", key == "for":
						links[a.Value] = true
					}
				}
			})
			for to := range links {
				require.True(t, ids[to], "%s %v: link to %q leads nowhere", name, opt.Short, to)
			}
		}
	}
}

func TestHeadingsNeverSkip(t *testing.T) {
	for name, r := range records() {
		level := 0
		walk(t, written(t, r, Options{}), func(n node) {
			if len(n.tag) == 2 && n.tag[0] == 'h' && n.tag[1] >= '1' && n.tag[1] <= '6' {
				l := int(n.tag[1] - '0')
				require.LessOrEqual(t, l, level+1, "%s: %s after h%d", name, n.tag, level)
				level = l
			}
		})
	}
}

func TestAnchorIsInjective(t *testing.T) {
	seen := map[string]string{}
	for _, s := range []string{"a b", "a~20~b", "a-b", "a_b", "a.b", "A.b", "θ", "~3b8~", "", " ", "é", "e\u0301"} {
		a := anchor("claim", s)
		require.NotContains(t, seen, a, "%q and %q", s, seen[a])
		require.NotContains(t, a, " ")
		seen[a] = s
	}
}

func FuzzText(f *testing.F) {
	f.Add(fixture.Evil)
	f.Add("\xff\xfe<")
	f.Fuzz(func(t *testing.T, s string) {
		r := fixture.Empty()
		r.Design.Title, r.Design.Author, r.Content = s, s, nil
		page := written(t, r, Options{})
		require.True(t, utf8.ValidString(page))
		walk(t, page, func(n node) {
			if n.tag != "" {
				require.Contains(t, elements, n.tag)
			}
		})
	})
}
