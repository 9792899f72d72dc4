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
		{[]record.Source{{Checked: map[string]int{"no file": 14}}}, "0 of 14 citations looked up: no documents at hand\n"},
		{[]record.Source{{OnFile: true, Checked: map[string]int{"words": 3, "page": 1, "read by a person": 1}}, {Checked: map[string]int{"no file": 2}}},
			"4 of 7 citations looked up, 1 read by a person; 2 without a file\n"},
		{[]record.Source{{OnFile: true, Checked: map[string]int{"not checked": 5}}}, "0 of 5 citations looked up; 5 not looked up\n"},
	} {
		var b strings.Builder
		require.NoError(t, Write(&b, &record.Record{Sources: c.sources}, Options{}))
		require.Contains(t, b.String(), "\n"+c.want)
	}
}
