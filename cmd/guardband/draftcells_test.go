package main

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/eval/record"
	"guardband/notebook/sheet"
	"guardband/units"
)

// sections compares the page named first for each of the six sections with the
// pages that the note cites for it.
func (s *scoreSheet) sections(t *testing.T, l *sheet.Reader, pdf string, hand record.Part) {
	survey, err := l.Survey(t.Context(), pdf)
	require.NoError(t, err)
	for _, f := range survey.Sections {
		pages := strings.Split(strings.ReplaceAll(hand.Sections[notedAs[f.Section]].Pages, "p.", ""), ", ")
		got := ""
		if len(f.Pages) > 0 {
			got = fmt.Sprint(f.Pages[0].Page)
		}
		s.cell("section page", filepath.Base(pdf)+" "+string(f.Section), strings.Join(pages, ","), got, slices.Contains(pages, got))
	}
}

// notedAs are the sections as records name them.
var notedAs = map[sheet.Section]string{sheet.SectionOrdering: "order code", sheet.SectionPackage: "package",
	sheet.SectionPins: "pins", sheet.SectionElectrical: "characteristics", sheet.SectionRatings: "maximum ratings",
	sheet.SectionApplication: "application circuit"}

// plain takes out what does not tell names apart.
func plain(s string) string {
	return strings.ToUpper(strings.NewReplacer(" ", "", "-", "", "_", "", "*", "", "−", "", "·", "").Replace(s))
}

// pins compares names and types pin by pin. A pad under the body is a thermal
// pad whatever it is called.
func (s *scoreSheet) pins(name string, d drafted, hand record.Part) {
	got := map[string]record.Pin{}
	n, m := 0, 0
	for _, p := range d.part.Pins {
		for _, k := range p.Numbers {
			got[k], m = p, m+1
		}
	}
	for _, p := range hand.Pins {
		for _, k := range p.Numbers {
			n++
			g, ok := got[k]
			if !ok {
				g = record.Pin{}
			}
			same := plain(p.Name) == plain(g.Name) || k == "EP" || p.Type == "not connected" &&
				g.Type == p.Type // NC8 by hand where the sheet says NC
			s.cell("pin name", name+" pin "+k, p.Name, g.Name, same)
			s.cell("pin type", name+" pin "+k, p.Type, g.Type, p.Type == g.Type)
		}
	}
}

// facts compares the columns of facts. The draft's line is found by the page
// and the words cited, or by page and name; which of several lines is meant is
// told by the nearest numbers, since notes keep the lines they need.
// asks says whether the line of a drafted fact asks if it is of another section.
func (d drafted) asks(f *record.Fact, section string) bool {
	for _, line := range strings.Split(d.text, "\n") {
		words := strings.Fields(line)
		if len(words) > 2 && words[0] == f.Section && words[1] == f.Name && strings.Contains(line, "# or "+section+":") {
			return true
		}
	}
	return false
}

func (s *scoreSheet) facts(name string, d drafted, hand record.Part, sameVersion bool) {
	for _, h := range hand.Facts {
		if len(h.Cites) == 0 || h.Cites[0].Page == "" || strings.HasPrefix(h.Text, "by ") {
			continue
		}
		want := columns(h)
		var best *record.Fact
		agree := -1
		for i := range d.part.Facts {
			g := &d.part.Facts[i]
			if len(g.Cites) == 0 || pageOf(g.Cites[0]) != pageOf(h.Cites[0]) {
				continue
			}
			if plain(g.Name) != plain(h.Name) &&
				(h.Cites[0].Quote == "" || plain(g.Cites[0].Quote) != plain(h.Cites[0].Quote) || g.Unit != h.Unit) {
				continue
			}
			k := 0
			for c, x := range columns(*g) {
				if x != "" && sameQuantity(x, want[c]) {
					k++
				}
			}
			if k > agree {
				best, agree = g, k
			}
		}
		var got [3]string
		if best != nil {
			got = columns(*best)
		}
		if best != nil && agree == 0 && !sameVersion {
			continue // the figures are those of another version of the part
		}
		if best != nil {
			s.cell("fact section", name+" "+h.Name, h.Section, best.Section, h.Section == best.Section || d.asks(best, h.Section))
		}
		for c, col := range []string{"min", "typ", "max"} {
			s.cell("fact", name+" "+h.Name+" "+col, want[c], got[c], sameQuantity(want[c], got[c]))
		}
	}
}

func pageOf(c record.Cite) string {
	return strings.TrimPrefix(strings.TrimPrefix(c.Page, "pdf."), "p.")
}

// columns are min, typ and max as they stand. A plain value is compared with
// the column that the sheet prints it in.
func columns(f record.Fact) [3]string {
	return [3]string{f.MinText, f.TypText, f.MaxText}
}

func sameQuantity(a, b string) bool {
	if plain(a) == plain(b) {
		return true
	}
	x, err := units.ParseLiteral(strings.TrimSuffix(a, " pk")) // an untagged figure is an instantaneous one
	y, errY := units.ParseLiteral(strings.TrimSuffix(b, " pk"))
	return err == nil && errY == nil && x.SI.Cmp(y.SI) == 0 && x.Type == y.Type
}
