package notebook

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// TestReadByPerson reads who compared a note with its page.
func TestReadByPerson(t *testing.T) {
	for _, c := range []struct{ text, from, quote, by, on, fault string }{
		{"[p.4 read by K. Sedge 2026-11-20]", "4", "", "K. Sedge", "2026-11-20", ""},
		{`[reg p.4 "Dropout voltage" read  by K. Sedge 2026-11-20]`, "4", "Dropout voltage", "K. Sedge", "2026-11-20", ""},
		{`[reg p.4 read by Ö. van der Aa 2026-11-20 "Dropout voltage"]`, "4", "Dropout voltage", "Ö. van der Aa", "2026-11-20", ""},
		{"[p.4 read by K. Sedge]", "", "", "", "", "cite-reader"},
		{"[p.4 read by 2026-11-20]", "", "", "", "", "cite-reader"},
		{"[p.4 read by]", "", "", "", "", "cite-reader"},
		{"[p.4 read by K. Sedge 2026-13-20]", "", "", "", "", "date-impossible"},
		{"[reg read by K. Sedge 2026-11-20]", "", "", "", "", "cite-reader"},
		{"[p.4 read by K. Sedge 2026-11-20", "", "", "", "", "cite-open"},
	} {
		got, _, fault := parseCite(c.text, 0)
		if c.fault != "" {
			require.NotNil(t, fault, c.text)
			require.Equal(t, c.fault, fault.code, c.text)
			continue
		}
		require.Nil(t, fault, c.text)
		require.Equal(t, []string{c.from, c.quote, c.by, c.on}, []string{got.From, got.Quote, got.ReadBy, got.ReadOn}, c.text)
	}
}
