package notebook

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

const whatIf = "\ufeff```design\ntitle: x\nambient: 0 °C to 40 °C # here\ninclude: more.md\n```\n```values\nA = 1 V +\n  2 V   [assumed: so]\nB = 2 V\n```\n```circuit\nU1, U2  REG  IN=A\n```\n"

const whatIfMore = "```part REG\ntitle: x\nspec V_DO = max 0.3 V at I = 1 A\nspec H = 1\nabsmax H = 2\nspec K = max 1 V at I = 1 A\nspec K = max 2 V at I = 2 A\n```\n"

func TestWhatIf(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "b.md"), []byte(whatIf), 0o644))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "more.md"), []byte(whatIfMore), 0o644))
	path := filepath.Join(dir, "b.md")
	book, err := Load(path, Options{})
	require.NoError(t, err)
	var all []Change
	for _, s := range []string{"A=5 V", "ambient=10 °C", "U2.V_DO=max 1 V", "B = 7.5 V", "REG.spec.H=3"} {
		c, err := book.Change(s)
		require.NoError(t, err, s)
		all = append(all, c)
	}
	changed, err := Load(path, Options{Changes: all})
	require.NoError(t, err)
	require.Empty(t, changed.Diags.Sorted())
	got := map[string]string{}
	for _, n := range changed.Notebooks {
		for _, b := range n.Blocks {
			for _, e := range b.Entries {
				got[e.Section+" "+e.Name+e.Label] = e.RHS.S + e.Value.S
			}
		}
	}
	require.Equal(t, "5 V", got[" A"], "over two lines, the citation kept")
	require.Equal(t, "7.5 V", got[" B"])
	require.Equal(t, "10 °C", got[" ambient"])
	require.Equal(t, "max 1 V", got["spec V_DO"], "its conditions stay")
	require.Equal(t, "3", got["spec H"])
	require.Equal(t, "2", got["absmax H"])
	for s, says := range map[string]string{"Q=1 V": "no value", "K": "is not NAME=VALUE", "REG.K=1 V": "stated 2 times",
		"REG.H=1": "stated 2 times", "A=": "is not", "A=1\n```": "is not", "U9.V_DO=1 V": "no value"} {
		_, err := book.Change(s)
		require.ErrorContains(t, err, says, s)
	}
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	require.Equal(t, whatIf, string(data), "the file stays as it is")
}
