package terminal

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/eval/record"
)

// Every run ends with how far its evidence goes.
func TestEvidenceLine(t *testing.T) {
	for _, c := range []struct {
		sources []record.Source
		want    string
	}{
		{nil, "no citations: no figure here rests on a document\n"},
		{[]record.Source{{Checked: map[string]int{"no file": 14}}}, "14 citations: 0 found as cited, 14 not looked up (no file)\n"},
		{[]record.Source{{OnFile: true, Checked: map[string]int{"words": 3, "page": 1, "read by a person": 1}},
			{Checked: map[string]int{"no file": 2}}},
			"7 citations: 3 found as cited, 1 page only, 1 read by a person, 2 not looked up (no file)\n"},
		{[]record.Source{{OnFile: true, Checked: map[string]int{"not checked": 5}}}, "5 citations: 0 found as cited, 5 not looked up\n"},
		{[]record.Source{{OnFile: true, Checked: map[string]int{"words": 3, "no page": 1, "no file": 1},
			Citations: []record.Citation{{Checked: "words", Missing: []string{"410 mV"}}}}},
			"5 citations: 2 found as cited, 2 not as cited (1 no such page, 1 with a number that is not on the page), 1 not looked up (no file)\n"},
	} {
		var b strings.Builder
		require.NoError(t, Write(&b, &record.Record{Sources: c.sources}, Options{Width: 160}))
		require.Contains(t, b.String(), "\n"+c.want)
	}
}
