//go:build plant

package network

import (
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// planted are faults in the package's own code: a text of a file and what
// replaces it.
var planted = []struct{ file, old, new string }{
	{"linear.go", "from, to, e = x.b, x.a, l.g.neg(e)", "from, to = x.b, x.a"},
	{"linear.go", "y.h = l.g.neg(y.h)", "_ = y.h"},
	{"linear.go", "l.g.sub(l.g.mul(y.e, x.p), l.g.mul(x.e, y.p))", "l.g.sub(l.g.mul(x.e, y.p), l.g.mul(y.e, x.p))"},
	{"linear.go", "sum := l.g.mul(inject, l.others(arms))", "sum := bound.Reg(0)"},
	{"linear.go", "return l.g.neg(rest.pushed(inB))", "return rest.pushed(inB)"},
	{"linear.go", "l.push(arms[0].far, j)", "_ = j"},
	{"linear.go", "l.g.add(x.q, l.g.mul(x.p, rest.resistance(x.a, x.b)))", "x.q"},
	{"linear.go", "arms = append(arms, arm{x.a, x.p, x.q, l.g.neg(x.h)})", "arms = append(arms, arm{x.a, x.p, x.q, x.h})"},
	{"curve.go", "Value: d.Held, Limits: []Limit{{Of: OwnCurrent, Lo: g.zero()}}", "Value: d.Held, Limits: []Limit{{Of: OwnCurrent, Hi: g.zero()}}"},
	{"curve.go", "driven.Lo, not.Hi, not.OpenHi = none, none, true", "driven.Hi, not.Lo, not.OpenLo = none, none, true"},
	{"narrow.go", "u, _ = u.meet(w.across[first].flip())", "u, _ = u.meet(w.across[first])"},
	{"curve.go", "high = r.Max", "high = r.Min"},
	{"curve.go", `return append(out, little)
}`, `return out
}`},
	{"curve.go", "low = rows[k].Min", "low = rows[k].Max"},
	{"span.go", "math.Max(s.hi*r.lo, s.hi*r.hi)", "s.hi*r.lo"},
	{"narrow.go", "s := before.plus(after[m+1]).flip()", "s := before.plus(after[m+1])"},
	{"narrow.go", "if amperes > 0 {", "if amperes > 1e9 {"},
	{"narrow.go", "return l.OpenLo && under(", "return under("},
	{"corners.go", "return sign * signOf(", "return signOf("},
	{"corners.go", "if p.sign*side > 0 {", "if side > 0 {"},
	{"relax.go", "n.g.sub(highs[r], lows[r])", "n.g.sub(lows[r], lows[r])"},
	{"cases.go", "guards = append(guards, n.g.equal(v, want))", "_ = v"},
	{
		"cases.go", `return n.leaf(owner{at: at}, "voltage of "+name+" while it floats", name, Volt, bound.Input{})`,
		"return n.g.zero()",
	},
	{"cases.go", "s = s.flip()", "_ = s"},
	{"judge.go", "for _, c := range j.cases {\n\t\tif j.open", "for _, c := range j.cases[:1] {\n\t\tif j.open"},
	{"failing.go", "return at.at[i] == k && n.othersLetGo(g, at, i)", "return at.at[i] == k && at.at[0] == 0"},
	{"group.go", "for k := range g.drivers[i].States {", "for k := range g.drivers[i].States[:1] {"},
}

// TestPlanted plants each fault and wants the tests to find it.
func TestPlanted(t *testing.T) {
	here, err := os.Getwd()
	require.NoError(t, err)
	for k, p := range planted {
		t.Run(fmt.Sprint(k), func(t *testing.T) { plant(t, here, p.file, p.old, p.new) })
	}
	t.Logf("%d faults planted", len(planted))
}

func plant(t *testing.T, here, file, old, fresh string) {
	path := filepath.Join(here, file)
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	require.Equal(t, 1, strings.Count(string(text), old), "%s: %s", file, old)
	dir := t.TempDir()
	wrong := filepath.Join(dir, file)
	require.NoError(t, os.WriteFile(wrong, []byte(strings.Replace(string(text), old, fresh, 1)), 0o600))
	list, err := json.Marshal(map[string]map[string]string{"Replace": {path: wrong}})
	require.NoError(t, err)
	overlay := filepath.Join(dir, "overlay.json")
	require.NoError(t, os.WriteFile(overlay, list, 0o600))
	cmd := exec.Command("go", "test", "-short", "-failfast", "-count=1", "-overlay", overlay,
		"-run", "Board|Oracle|Curves", ".")
	out, _ := cmd.CombinedOutput()
	require.Contains(t, string(out), "--- FAIL", "%s: not found: %s", file, old)
}
