package sheet

import (
	"context"
	"fmt"
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/notebook/sheet/internal/corpus"
)

// truthPages gives the pages on which a section may be said to begin.
func truthPages(s corpus.Sheet) map[Section][]int {
	return map[Section][]int{
		SectionOrdering: {s.Pages[corpus.Ordering]}, SectionPackage: {s.Pages[corpus.Packaging]}, SectionPins: {s.Pages[corpus.Pinning]},
		SectionElectrical: {s.Pages[corpus.Electrical], s.Pages[corpus.Recommended]}, SectionRatings: {s.Pages[corpus.Absolute]}, SectionApplication: {s.Pages[corpus.Application]},
	}
}

// TestSectionsOfTheCorpus finds the six sections in every sheet.
func TestSectionsOfTheCorpus(t *testing.T) {
	l := shared
	score := map[Section]*tally{}
	for _, sec := range SectionList() {
		score[sec] = &tally{}
	}
	for _, lay := range corpus.Layouts() {
		for _, d := range corpus.Devices() {
			s := sheetOf(t, d, lay)
			survey, err := l.Survey(context.Background(), pathOf(t, s))
			require.NoError(t, err)
			truth := truthPages(s)
			for _, f := range survey.Sections {
				n := score[f.Section]
				n.wanted++
				if len(f.Pages) == 0 {
					continue
				}
				n.offered++
				for _, want := range truth[f.Section] {
					if f.Pages[0].Page == want {
						n.right++
						break
					}
				}
				if os.Getenv("GUARDBAND_SHOW_WRONG") != "" && !containsInt(truth[f.Section], f.Pages[0].Page) {
					fmt.Printf("%s %s: want %v got %+v\n", s.Name, f.Section, truth[f.Section], f.Pages)
				}
			}
		}
	}
	for _, sec := range SectionList() {
		n := score[sec]
		t.Logf("%-12s sheets %3d  first page right %3d  precision %.3f  recall %.3f", sec, n.wanted, n.right, n.precision(), n.recall())
		require.GreaterOrEqual(t, n.recall(), 0.95, sec)
	}
}

func containsInt(list []int, n int) bool {
	for _, m := range list {
		if m == n {
			return true
		}
	}
	return false
}
