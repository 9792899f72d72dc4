package eval

import (
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/eval/record"
)

// TestImpossibleDayAcceptsNothing: a waiver or a result on a day that the
// calendar lacks counts for nothing, and is told once.
func TestImpossibleDayAcceptsNothing(t *testing.T) {
	const values = "```design\ntitle: x\n```\n```values\nA = 1 V\n```\n"
	for text, want := range map[string]record.Verdict{
		"criterion: A >= 2 V\nwaiver: 2099-02-30, A. Tarn, why":          record.Failed,
		"criterion: A >= 2 V\nwaiver: 2099-02-28, A. Tarn, why":          record.Waived,
		"criterion: A >= 2 V\nwaiver: 2026-11-24, A. Tarn, the last day": record.Waived,
		"criterion: A >= 2 V\nwaiver: 2026-11-23, A. Tarn, the day past": record.Failed,
		"inspection: look\nresult: passed, 2026-02-30, A. Tarn":          record.Open,
		"inspection: look\nresult: passed, 2026-02-28, A. Tarn":          record.Passed,
		"inspection: look\nresult: passed, 2026-11-25, A. Tarn":          record.Passed, // today, further east
		"inspection: look\nresult: passed, 2026-11-26, A. Tarn":          record.Open,
		"criterion: A >= 2 V\nwaiver: 2099-02-28, A. Tarn,":              record.Failed,
		"criterion: A >= 2 V\nwaiver: 2099-02-28, , why":                 record.Failed,
	} {
		r := compileText(t, values+"```claim c\nstatement: s\n"+text+"\n```\n")
		require.Equal(t, want, claimOf(t, r, "c").Verdict, text)
		require.LessOrEqual(t, len(codes(r)), 1, "%s: %v", text, codes(r))
	}
	r := compileText(t, values+"```claim c\nstatement: s\ncriterion: A >= 2 V\n```\n```review\naction X: c, A. Tarn, 2026-12-01, do\nclosed X: yes\n```\n")
	require.Contains(t, codes(r), "error closed-form")
}

// TestOwnClaimIsNotSkipped: a skip never expires, so that it is for checks that nobody wrote; a note from
// elsewhere may hold it.
func TestOwnClaimIsNotSkipped(t *testing.T) {
	const text = "```values\nA = 1 V\n```\n```claim c\nstatement: s\ncriterion: A >= 2 V\n```\n```part P\ntitle: chip\nskip c: none needed\n```\n```circuit\nU1  P\n```\n"
	r := compileText(t, text)
	require.Equal(t, record.Failed, claimOf(t, r, "c").Verdict)
	require.Contains(t, codes(r), "error skip-claim")
}
