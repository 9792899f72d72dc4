package draft

import (
	"bytes"
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/notebook/sheet"
)

// TestQuestions: a maximum at the largest current is offered for lesser ones, and
// what is bounded above alone for at least zero; what has a lower bound is not.
func TestQuestions(t *testing.T) {
	row := func(symbol, cond, min, max string) sheet.DraftRow {
		return sheet.DraftRow{Quoted: sheet.Quoted{Page: 1, Quote: symbol}, Symbol: symbol, Condition: cond, Min: min, Max: max, Unit: "V"}
	}
	var b bytes.Buffer
	Write(&b, "kx.pdf", "kx.md", sheet.Draft{Spec: []sheet.DraftRow{
		row("VDO", "IOUT = 50 mA", "", "0.1"), row("VDO", "IOUT = 300 mA", "", "0.4"), row("VREF", "IOUT = 1 mA", "1.2",
			"1.3"), row("VOS", "", "", "±0.2"),
	}})
	require.Contains(t, b.String(), `at I_OUT = 300 mA  [pdf.1 "VDO"] unconfirmed  # or at I_OUT <= 300 mA: does it hold at lesser currents too?`)
	require.Contains(t, b.String(), `at I_OUT = 50 mA  [pdf.1 "VDO"] unconfirmed`+"\n")
	require.Contains(t, b.String(), "# at least zero: V_DO  #")
}
