package eval

import (
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/eval/record"
)

// A verdict that would turn at a dropout below zero is not said to turn there: no
// part has one. A quantity of either sign may turn on the other side.
func TestTurnsOnItsOwnSideOfZero(t *testing.T) {
	text := "```design\ntitle: Turns\n```\n```values\nV_IN = 2.8 V to 2.9 V\nV_DO = 0 V to 0.2 V\nV_REF = 2.85 V\nV_OFF = -0.1 V to 0.3 V\n```\n" +
		"```claim drop\nstatement: It regulates.\ncriterion: V_IN - V_DO >= 3 V\n```\n" +
		"```claim offset\nstatement: It is low.\ncriterion: V_REF + V_OFF <= 2.7 V\n```\n"
	r := compileText(t, text)
	require.Empty(t, r.Diagnostics)
	said := map[string]string{}
	for _, c := range r.Claims {
		for _, k := range c.Criteria {
			for _, x := range k.Contributions {
				said[x.Name] = x.Text
			}
		}
	}
	require.Equal(t, map[string]string{"V_IN": "turns at 3.2 V", "V_DO": "never turns", "V_OFF": "turns at -0.15 V"}, said)
	require.Equal(t, record.Failed, r.Claims[0].Verdict)
}
