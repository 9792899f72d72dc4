package pdf

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"guardband/eval/record"
	"guardband/report/internal/fixture"
	"guardband/report/outline"
)

// No text leaves the sheet's text area, whatever the record.
func TestTextStaysInsideThePage(t *testing.T) {
	for name, r := range records() {
		if name == "many" {
			continue // the same pages as in small, again and again
		}
		d, seen, _ := composed(t, r, false)
		for _, s := range seen {
			require.GreaterOrEqual(t, s.x, d.left-0.5, "%s page %d: %q", name, s.page, s.text)
			require.LessOrEqual(t, s.x+s.w, d.right+0.5, "%s page %d: %q", name, s.page, s.text)
			require.GreaterOrEqual(t, s.base, d.top-24, "%s page %d: %q", name, s.page, s.text)
			require.LessOrEqual(t, s.base, d.bottom+24, "%s page %d: %q", name, s.page, s.text)
			foot := strings.HasPrefix(s.text, "Page ") || strings.HasPrefix(s.text, "Design review record")
			require.True(t, foot || s.base <= d.bottom+1, "%s page %d: %q below the text area", name, s.page, s.text)
		}
	}
}

// Every place that a reader can click leads somewhere; claims and pages lead to
// each other.
func TestLinksLeadSomewhere(t *testing.T) {
	for name, r := range map[string]*record.Record{"small": fixture.Small(), "large": fixture.Large()} {
		d, _, _ := composed(t, r, false)
		require.NotEmpty(t, d.links)
		to := map[string]int{}
		for _, l := range d.links {
			to[l.anchor]++
		}
		for a := range to {
			if !strings.HasPrefix(a, "chapter:") {
				require.True(t, d.o.Anchors[a], "%s: %q is no place of the outline", name, a)
			}
			require.Contains(t, d.places, a, "%s: a link leads nowhere", name)
		}
		for _, c := range r.Claims {
			if c.Check == "" || c.Verdict != record.Passed {
				require.Positive(t, to["claim:"+c.ID], "to claim %s", c.ID)
			}
			for _, cite := range c.Cites {
				require.Positive(t, to[outline.PageAnchor(cite.Source, cite.Page)], "claim %s to page", c.ID)
			}
		}
	}
}

// A heading never stands last on its page.
func TestHeadingsKeepWithWhatFollows(t *testing.T) {
	for name, r := range records() {
		if name == "many" || name == "zero" {
			continue
		}
		d, seen, _ := composed(t, r, false)
		lowest, inRows := map[int]float64{}, map[string]bool{}
		for _, c := range r.Claims {
			inRows[c.ID] = c.Check != ""
		}
		for _, s := range seen {
			if s.base < d.bottom+2 {
				lowest[s.page] = max(lowest[s.page], s.base)
			}
		}
		for a, at := range d.places {
			if strings.HasPrefix(a, "chapter:") {
				require.Greater(t, lowest[at.page], at.y+26, "%s: %s is the last on page %d", name, a, at.page)
			}
			if id, ok := strings.CutPrefix(a, "claim:"); ok && inRows[id] {
				continue // a row of the built-in checks
			}
			if strings.HasPrefix(a, "claim:") || strings.HasPrefix(a, "heading:") {
				require.Greater(t, lowest[at.page], at.y+14, "%s: %s is the last on page %d", name, a, at.page)
			}
		}
	}
}

func sheet(t require.TestingT, seen *[]drawn) *page {
	p, err := newPage(time.Unix(0, 0))
	require.NoError(t, err)
	p.watch = func(d drawn) { *seen = append(*seen, d) }
	return p
}

// A table over pages repeats its head on each, loses no cell, and leaves
// neither its first nor its last row alone.
func TestTableBreaksOverPages(t *testing.T) {
	var seen []drawn
	p := sheet(t, &seen)
	tab := table{cols: []outline.Column{{Head: "HEAD"}, {Head: "Text"}}}
	for i := range 150 {
		tab.rows = append(tab.rows, row{cells: []cell{{p.sp(small(), "r"+itoa(i)+".")}, {p.sp(small(), strings.Repeat("word ", i%40))}}})
	}
	p.y = p.bottom - 30 // room for the head and one row only
	p.table(tab)
	heads, rows := map[int]int{}, map[int]int{}
	text := ""
	for _, s := range seen {
		if s.text == "HEAD" {
			heads[s.page]++
		}
		if strings.HasPrefix(s.text, "r") {
			rows[s.page]++
			text += s.text
		}
	}
	want := ""
	for i := range 150 {
		want += "r" + itoa(i) + "."
	}
	require.Equal(t, want, text)
	require.Zero(t, heads[1])
	for page := 2; page <= p.sheet(); page++ {
		require.Equal(t, 1, heads[page], "page %d", page)
		require.GreaterOrEqual(t, rows[page], 2, "page %d", page)
	}
}

// A row taller than a page is broken and nothing of it is lost.
func TestTallRow(t *testing.T) {
	var seen []drawn
	p := sheet(t, &seen)
	long := strings.Repeat("abcdefghi ", 4000)
	p.table(table{cols: []outline.Column{{Head: "A"}, {Head: "B"}},
		rows: []row{{cells: []cell{{p.sp(small(), "x")}, {p.sp(small(), long)}}},
			{cells: []cell{{p.sp(small(), "y")}}}}})
	n := 0
	for _, s := range seen {
		n += strings.Count(folded(s.text), "abcdefghi")
		require.LessOrEqual(t, s.base, p.bottom)
	}
	require.Equal(t, 4000, n)
	require.Greater(t, p.sheet(), 2)
}

// Broken into lines of any width, a paragraph keeps its letters in order and
// no line is wider than the column.
func TestLayoutKeepsTheText(t *testing.T) {
	var seen []drawn
	p := sheet(t, &seen)
	rapid.Check(t, func(rt *rapid.T) {
		width := rapid.Float64Range(12, 400).Draw(rt, "width")
		var spans []span
		want := ""
		for _, s := range rapid.SliceOfN(rapid.StringMatching(`[a-zA-Z0-9 ,.Ωµ\-]{0,60}`), 1, 4).Draw(rt, "texts") {
			face := rapid.SampledFrom([]faceID{regular, bold, mono}).Draw(rt, "face")
			spans = append(spans, p.sp(small().with(face), s))
			want += s
		}
		got := ""
		for _, l := range p.layout(spans, width) {
			for _, f := range l.frags {
				got += f.text
			}
			require.LessOrEqual(rt, l.w, width+0.01)
		}
		require.Equal(rt, folded(want), folded(got))
	})
}

// A number is not parted from its unit.
func TestNumberAndUnitStayTogether(t *testing.T) {
	p := sheet(t, new([]drawn))
	for w := 30.0; w < 200; w += 3 {
		for _, l := range p.layout([]span{p.sp(small(), "the rail is 3.06 V at most and 150 mA of load")}, w) {
			line := ""
			for _, f := range l.frags {
				line += f.text
			}
			require.False(t, strings.HasSuffix(line, "3.06") || strings.HasSuffix(line, "150"), "width %g: %q", w, line)
		}
	}
}

// A line over the whole width that is taller than a page goes on over the next
// pages, also where the table has no column else.
func TestTallTitleRow(t *testing.T) {
	r := fixture.Empty()
	for i := range 3000 {
		r.Assumptions = append(r.Assumptions, record.Assumption{Kind: "uncited value", Text: fmt.Sprintf("vin_%d has no source", i)})
	}
	_, seen, _ := composed(t, r, false)
	text := folded(textOf(seen))
	require.Contains(t, text, folded("vin_0;"))
	require.Contains(t, text, folded("vin_2999"))
}
