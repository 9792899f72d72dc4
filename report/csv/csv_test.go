package csv

import (
	"bytes"
	"encoding/csv"
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/eval/record"
	"guardband/report/internal/fixture"
)

func TestWrite(t *testing.T) {
	for _, r := range []*record.Record{fixture.Small(), fixture.Hostile(), fixture.Empty()} {
		var b bytes.Buffer
		require.NoError(t, Write(&b, r))
		rows, err := csv.NewReader(&b).ReadAll()
		require.NoError(t, err)
		require.Equal(t, Head, rows[0])
		require.Len(t, rows, 1+len(r.Values)+len(r.Claims))
		for i, v := range r.Values {
			require.Equal(t, []string{"value", "", number(v.Min), number(v.Max)}, []string{rows[1+i][0], rows[1+i][2], rows[1+i][4], rows[1+i][5]})
		}
		for _, row := range rows {
			for _, cell := range row {
				require.Equal(t, cell, Inert(cell))
			}
		}
	}
}

// TestCellsAreInert: no cell begins as a formula of a spreadsheet does, but
// for numbers. Source: OWASP, "CSV Injection".
func TestCellsAreInert(t *testing.T) {
	for in, want := range map[string]string{
		"": "", "10k": "10k", "-5 V": "-5 V", "+3.3": "+3.3", "-40 °C": "-40 °C", "=1+1": "'=1+1", "@SUM(A1)": "'@SUM(A1)",
		"+cmd|' /C calc'!A0": "'+cmd|' /C calc'!A0", "-2+3": "'-2+3", "\t=1": "'\t=1", "\r=1": "'\r=1", "-": "'-",
	} {
		require.Equal(t, want, Inert(in), "%q", in)
	}
}
