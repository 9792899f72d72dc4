package eval

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/eval/record"
)

const judged = "```design\ntitle: x\n```\n```part P\ntitle: p\nkind: regulator\npackage: box\npads: 2\nstatus: active, 2026-01-01\n" +
	"operating V_DD = 1.8 V to 3.6 V at T_A = 0 °C to 70 °C\nspec I_Q = max 2 µA\nspec V_X = max 1 V unconfirmed\npins:\n  1 VDD supply\n  2 GND ground\n```\n" +
	"```values\nA = 1 V to 3 V\nB = 2 * A\n```\n```circuit\nU1  P  VDD=A GND=GND\n```\n" +
	"```claim fits\nstatement: s\ncriterion: A <= 4 V\nmargin: 10 %\n```\n```claim floor\nstatement: s\ncriterion: A >= 0.5 V\n```\n"

func TestHowGreenWasReached(t *testing.T) {
	old := compileText(t, judged)
	require.Empty(t, record.Compare(old, old).Eased)
	for _, k := range []struct {
		from, to string
		way      record.Way
		name     string
	}{
		{"A <= 4 V", "A <= 5 V", record.Worse, "criterion of fits"},
		{"A >= 0.5 V", "A >= 0.4 V", record.Worse, "criterion of floor"},
		{"A <= 4 V", "B <= 8 V", record.Other, "criterion of fits"},
		{"margin: 10 %", "margin: 5 %", record.Worse, "margin asked of fits"},
		{"margin: 10 %\n", "", record.Worse, "margin asked of fits"},
		{"margin: 10 %", "analysis: root sum square", record.Worse, "analysis of fits"},
		{"```claim floor\nstatement: s\ncriterion: A >= 0.5 V\n```\n", "", record.Worse, "claim floor"},
		{"A = 1 V to 3 V", "A = 1 V to 2 V", record.Worse, "range of A"},
		{"V_DD = 1.8 V to 3.6 V", "V_DD = 1.8 V to 5.5 V", record.Worse, "P operating V_DD"},
		{"V_DD = 1.8 V to 3.6 V", "V_DD = min 1.8 V", record.Worse, "P operating V_DD"},
		{"operating V_DD = 1.8 V to 3.6 V at T_A = 0 °C to 70 °C\n", "", record.Worse, "P operating V_DD"},
		{"I_Q = max 2 µA", "I_Q = max 1 µA", record.Worse, "P spec I_Q"},
		{"at T_A = 0 °C to 70 °C", "at T_A = 0 °C to 90 °C", record.Other, "conditions of P operating V_DD"},
		{" unconfirmed", "", record.Worse, "P spec V_X"},
		{"title: x\n", "title: x\nskip pin-map.U1: because\n", record.Worse, "skip of pin-map.U1"},
		{"margin: 10 %", "margin: 10 %\nwaiver: 2099-01-01, K. Sedge, later", record.Worse, "waiver of fits"},
		{"I_Q = max 2 µA", "I_Q = max 2 µA\nat least zero: I_Q", record.Other, ""},
		{"A <= 4 V", "A <= 3.9 V", record.Better, ""},
		{"A = 1 V to 3 V", "A = 1 V to 3.2 V", record.Better, ""},
		{"V_DD = 1.8 V to 3.6 V", "V_DD = 1.8 V to 3.3 V", record.Better, ""},
		{"margin: 10 %", "margin: 12 %", record.Better, ""},
	} {
		require.Contains(t, judged, k.from)
		d := record.Compare(old, compileText(t, strings.Replace(judged, k.from, k.to, 1)))
		if k.name == "" {
			require.Empty(t, d.Eased, k.to)
			continue
		}
		names := map[string]record.Way{}
		for _, c := range d.Eased {
			names[c.Name] = c.Way
		}
		require.Contains(t, names, k.name, k.to)
		require.Equal(t, k.way, names[k.name], k.to)
	}
}

// Who compared an unconfirmed line with its page is noted by `checked:`.
func TestSecondPersonConfirms(t *testing.T) {
	now := strings.Replace(strings.Replace(judged, " unconfirmed", "", 1), "title: p\n", "title: p\nchecked: K. Sedge, 2026-11-01\n", 1)
	require.Empty(t, record.Compare(compileText(t, judged), compileText(t, now)).Eased)
}

func TestSkipsNameWhoAndWhen(t *testing.T) {
	by := func(text string) (string, string) {
		r := compileText(t, strings.Replace(judged, "title: x\n", "title: x\nskip pin-map.U1: "+text+"\n", 1))
		return r.ByID()["pin-map.U1"].SkippedBy, r.ByID()["pin-map.U1"].Reason
	}
	who, why := by("2026-11-20, K. Sedge, looked at, twice")
	require.Equal(t, "K. Sedge, 2026-11-20", who)
	require.Equal(t, "looked at, twice", why)
	who, why = by("looked at, on 2026-11-20, twice")
	require.Empty(t, who)
	require.Equal(t, "looked at, on 2026-11-20, twice", why)
}
