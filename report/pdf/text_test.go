package pdf

import (
	"fmt"
	"index/suffixarray"
	"reflect"
	"sort"
	"strings"
	"testing"
	"unicode"

	"github.com/stretchr/testify/require"

	"guardband/eval/record"
	"guardband/report/internal/fixture"
)

// folded is s without white space.
func folded(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) {
			return -1
		}
		return r
	}, s)
}

func textOf(seen []drawn) string {
	var b strings.Builder
	for _, d := range seen {
		b.WriteString(d.text)
	}
	return b.String()
}

// pagesOf is what poppler reads from each page, in the order of the content.
func pagesOf(t *testing.T, b []byte) []string {
	t.Helper()
	out := run(t, "pdftotext", "-raw", "-enc", "UTF-8", file(t, b), "-")
	return strings.Split(strings.TrimSuffix(out, "\f"), "\f")
}

// What poppler extracts is what was drawn, glyph for glyph and in order.
func TestExtractedTextIsTheDrawnText(t *testing.T) {
	for name, r := range map[string]*record.Record{"small": fixture.Small(), "failures": fixture.Failures(), "empty": fixture.Empty()} {
		d, seen, b := composed(t, r, false)
		pages := pagesOf(t, b)
		require.Len(t, pages, d.f.PageCount(), name)
		for i, page := range pages {
			var want strings.Builder
			for _, s := range seen {
				if s.page == i+1 {
					want.WriteString(s.text)
				}
			}
			require.Equal(t, folded(want.String()), folded(page), "%s page %d", name, i+1)
		}
	}
}

// The hostile record has right-to-left text, which poppler turns back: every
// glyph is there as often as drawn.
func TestHostileTextIsWhole(t *testing.T) {
	d, seen, b := composed(t, fixture.Hostile(), false)
	pages := pagesOf(t, b)
	require.Len(t, pages, d.f.PageCount())
	for i, page := range pages {
		var want strings.Builder
		for _, s := range seen {
			if s.page == i+1 {
				want.WriteString(s.text)
			}
		}
		require.Equal(t, sorted(folded(want.String())), sorted(folded(withoutBidi(page))), "page %d", i+1)
	}
	text := folded(strings.Join(pages, ""))
	require.Contains(t, text, "U+1F600as[U+1F600]")
	require.Contains(t, text, "U+1D445asR")
	require.Contains(t, text, folded("[U+202E]gnp.exe[U+202C]"))
}

// withoutBidi drops the direction marks that poppler puts around
// right-to-left text.
func withoutBidi(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.Is(unicode.Cf, r) {
			return -1
		}
		return r
	}, s)
}

func sorted(s string) string {
	rs := []rune(s)
	sort.Slice(rs, func(i, j int) bool { return rs[i] < rs[j] })
	return string(rs)
}

// Every text and every number that the record shows stands in the PDF.
func TestRecordTextIsInThePDF(t *testing.T) {
	for name, r := range map[string]*record.Record{"small": fixture.Small(), "large": fixture.Large()} {
		text := folded(strings.Join(pagesOf(t, write(t, r, false)), ""))
		missing := map[string]bool{}
		walk(reflect.ValueOf(r), "Record", func(path, s string) {
			if s = named(s); s != "" && !strings.Contains(text, folded(s)) {
				missing[path+": "+s] = true
			}
		})
		for i := range r.Claims { // a row gives the comparison in the sentence's place
			if c := &r.Claims[i]; c.Kind == "built-in" && c.Verdict == record.Passed {
				delete(missing, "Claim.Statement: "+c.Statement)
			}
		}
		require.Empty(t, missing, name)
	}
}

// named is a claim's ID without its check, under which it stands, and a
// headline without its verdict, beside which it stands.
func named(s string) string {
	for _, cut := range []string{"supply-range.", "passed, ", "failed, "} {
		s = strings.TrimPrefix(s, cut)
	}
	return s
}

// notPrinted are fields that are drawn in another way than as their text, or
// serve machines: formulas (typeset), pictures, positions in columns, keys.
var notPrinted = map[string]bool{
	"Record.Schema": true, "Record.Content.Nodes.Kind": true, "Claim.Kind": true, "Criterion.Math": true, "Criterion.Numbers": true,
	"Value.Math": true, "Value.Numbers": true, "Cite.Picture": true, "Cite.Line": true, "Cite.File": true, "Cite.Checked": true, "Cite.Printed": true,
	"Fact.Section": true, "Fact.Unit": true, "Fact.Text": true, "Node.Kind": true, "Node.ID": true, "Node.Ref": true,
	"Node.Align": true, "Node.Info": true, "Node.Checked": true,
	"BlockRef.Lines": true, "BlockRef.Names": true, "BlockRef.Kind": true, "BlockRef.ID": true, "Span.Unit": true, "Span.Text": true,
	"Test.Text": true, "Test.Op": true, "Margin.Base": true, "Value.Unit": true, "Caution.ID": true, "Claim.Safety": true, "Summary": true,
	"Criterion.Text": true, "Position.File": true, "Value.Formula": true,
	"Part.Sections": true, "Waiver.InForce": true, "Value.Name": true, "Cite.Text": true,
}

// walk visits every string of v with the name of its type and field.
func walk(v reflect.Value, path string, do func(path, s string)) {
	if notPrinted[path] {
		return
	}
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			walk(v.Elem(), path, do)
		}
	case reflect.Slice:
		for i := range v.Len() {
			walk(v.Index(i), path, do)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			walk(v.Field(i), v.Type().Name()+"."+v.Type().Field(i).Name, do)
		}
	case reflect.String:
		do(path, v.String())
	case reflect.Map: // sections and grades: the values are covered by their tables
		for _, k := range v.MapKeys() {
			do(path, fmt.Sprint(k.Interface()))
		}
	}
}

// Two thousand claims: each stands in the record with its statement.
func TestTwoThousandClaims(t *testing.T) {
	r := fixture.Many(2000)
	_, seen, _ := composed(t, r, false)
	text := folded(textOf(seen)) // that this is what readers extract is tested above
	index := suffixarray.New([]byte(text))
	for i := range r.Claims {
		c := &r.Claims[i]
		require.NotEmpty(t, index.Lookup([]byte(c.ID+folded(named(c.Headline)+c.Statement)), 1), c.ID)
		require.NotEmpty(t, index.Lookup([]byte(c.ID+folded(c.Statement)), 1), "table of page one: %s", c.ID)
	}
}
