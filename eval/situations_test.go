package eval

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// The rows of testdata/situations are small boards with verdicts worked out by
// hand. A wrong pass or fail is a fault; what is open and could be told is
// counted.
func TestSituations(t *testing.T) {
	paths, err := filepath.Glob("testdata/situations/*.md")
	require.NoError(t, err)
	require.NotEmpty(t, paths)
	all, told := 0, 0
	for _, path := range paths {
		data, err := os.ReadFile(path)
		require.NoError(t, err)
		parts, table, _ := strings.Cut(string(data), "\n| what |")
		for _, line := range strings.Split(table, "\n") {
			row := strings.Split(line, " | ")
			if len(row) != 4 || !strings.HasPrefix(line, "| ") {
				continue
			}
			var circuit strings.Builder
			for _, r := range strings.Split(row[1], " ; ") {
				ref, rest, _ := strings.Cut(strings.TrimSpace(r), " ")
				what, nets, _ := strings.Cut(rest, " ")
				if strings.Contains(r, "  ") { // its cells as they are
					circuit.WriteString(r + "\n")
					continue
				}
				if k := strings.LastIndex(nets, "%"); k >= 0 {
					what, nets = what+" "+nets[:k+1], nets[k+1:]
				}
				circuit.WriteString(ref + "  " + what + "  " + strings.TrimSpace(nets) + "\n")
			}
			r := compileText(t, parts+"\n```circuit\n"+circuit.String()+"```\n")
			got := map[string]string{}
			for _, c := range r.Claims {
				got[c.ID] = string(c.Verdict)
			}
			for _, e := range strings.Split(row[2], "; ") {
				want, id, _ := strings.Cut(strings.TrimSpace(e), " ")
				all++
				switch is := got[id]; {
				case is == want, is == "" && want == "none":
					told++
				case is == "open" && want != "none":
					t.Logf("open: %s: %s", row[0], id)
				default:
					t.Errorf("%s: %s is %q, not %s: %s", row[0], id, is, want, row[3])
				}
			}
		}
	}
	t.Logf("%d of %d verdicts as worked out by hand", told, all)
	require.GreaterOrEqual(t, 20*told, 19*all)
}
