package sheet

import (
	"context"
	"fmt"
	"os"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
)

// truthPages gives the pages on which a section may be said to begin.
func truthPages(s corpusSheet) map[Section][]int {
	return map[Section][]int{
		SectionOrdering: {s.Pages[corpusOrdering]}, SectionPackage: {s.Pages[corpusPackaging]}, SectionPins: {s.Pages[corpusPinning]},
		SectionElectrical: {s.Pages[corpusElectrical], s.Pages[corpusRecommended]},
		SectionRatings:    {s.Pages[corpusAbsolute]}, SectionApplication: {s.Pages[corpusApplication]},
	}
}

// TestSectionsOfTheCorpus finds the six sections in every sheet.
func TestSectionsOfTheCorpus(t *testing.T) {
	l := shared
	score := map[Section]*tally{}
	for _, sec := range SectionList() {
		score[sec] = &tally{}
	}
	for _, lay := range corpusLayouts() {
		for _, d := range corpusDevices() {
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
				if os.Getenv("GUARDBAND_SHOW_WRONG") != "" && !slices.Contains(truth[f.Section], f.Pages[0].Page) {
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
