package network

import (
	"fmt"
	"math"
	"math/big"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/eval/bound"
)

// program gives the path of an outside program. A test that needs it is
// skipped where it is missing, unless GUARDBAND_NO_SKIP forbids that.
func program(t testing.TB, name string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil {
		if os.Getenv("GUARDBAND_NO_SKIP") != "" {
			t.Fatalf("%s is not installed and GUARDBAND_NO_SKIP is set", name)
		}
		t.Skipf("%s is not installed", name)
	}
	return path
}

// deck is one circuit for the simulator.
type deck struct {
	text strings.Builder
}

func (d *deck) add(format string, args ...any) { fmt.Fprintf(&d.text, format+"\n", args...) }

// simulate finds the operating points of circuits in one run: the node
// voltages of each, by the node's name.
func simulate(t testing.TB, decks []*deck) []map[string]float64 {
	t.Helper()
	dir := t.TempDir()
	all := strings.Builder{}
	all.WriteString("all circuits\n.control\nset numdgt=15\n")
	for k, d := range decks {
		text := "circuit\n.options reltol=1e-9 abstol=1e-15 vntol=1e-12 gmin=1e-15\n" + d.text.String() + ".end\n"
		require.NoError(t, os.WriteFile(filepath.Join(dir, fmt.Sprintf("n%d.cir", k)), []byte(text), 0o600))
		fmt.Fprintf(&all, "source n%d.cir\nop\necho NET %d\nprint all\ndestroy all\nremcirc\n", k, k)
	}
	all.WriteString("quit\n.endc\n.end\n")
	require.NoError(t, os.WriteFile(filepath.Join(dir, "all.cir"), []byte(all.String()), 0o600))
	cmd := exec.Command(program(t, "ngspice"), "-b", "all.cir")
	cmd.Dir = dir
	out, _ := cmd.CombinedOutput() // its exit code says nothing: the blocks are counted
	var found []map[string]float64
	for _, line := range strings.Split(string(out), "\n") {
		if strings.HasPrefix(line, "NET ") {
			found = append(found, map[string]float64{})
			continue
		}
		name, value, ok := strings.Cut(line, "=")
		if v, err := strconv.ParseFloat(strings.TrimSpace(value), 64); ok && err == nil && len(found) > 0 {
			found[len(found)-1][strings.TrimSpace(name)] = v
		}
	}
	require.Len(t, found, len(decks), "ngspice: %s", out)
	return found
}

// thermal is kT/q in volts at 27 °C, the simulator's default (CODATA 2018: k/q
// = 8.617333262e-5 V/K).
const thermal = 8.617333262e-5 * 300.15

// diodeModel is an exponential diode through one point.
func diodeModel(v, i float64) (saturation, emission float64) {
	emission = v / (20 * thermal)
	return i / (math.Exp(20) - 1), emission
}

// deck writes a drawn network at a point for the simulator.
func (d *drawn) deck(t testing.TB, x []*big.Rat, diodes []*Element, row [3]*big.Rat) *deck {
	out := &deck{}
	name := func(at Node) string {
		if at == 0 {
			return "0"
		}
		return fmt.Sprint("n", int(at))
	}
	for k, r := range d.givenR {
		if r != 0 && k != 0 {
			out.add("V%d n%d 0 %s", k, k, d.s.at(t, r, x).FloatString(15))
		}
	}
	for k, e := range d.els {
		v := d.s.at(t, d.regs[k], x).FloatString(15)
		if d.kinds[k] == 0 {
			out.add("R%d %s %s %s", k, name(e.A), name(e.B), v)
		} else {
			out.add("I%d %s %s %s", k, name(e.A), name(e.B), v)
		}
	}
	f := func(r *big.Rat) float64 { v, _ := r.Float64(); return v }
	is, n := diodeModel(f(row[1]), f(row[2]))
	for k, e := range diodes {
		out.add("D%d %s %s dm", k, name(e.A), name(e.B))
	}
	out.add(".model dm D(IS=%.15g N=%.15g)", is, n)
	return out
}

func (d *drawn) unknown() (out []Node) {
	for k, r := range d.givenR {
		if r == 0 {
			out = append(out, Node(k))
		}
	}
	return out
}

// TestSimulator compares with a general circuit simulator (ngspice): resistor
// networks to its accuracy, and diodes, as exponential curves through a point
// of the row that is stated, by lying inside the ranges found. An exponential
// curve lies below the row's minimum at small currents; so do the ranges.
func TestSimulator(t *testing.T) {
	program(t, "ngspice")
	rng := rand.New(rand.NewPCG(4, 7))
	var decks []*deck
	var nets []*drawn
	var points [][]*big.Rat
	var exact []bool
	for k := range 200 {
		d := draw(rng, 1+rng.IntN(5), 0, false)
		if len(d.nodes)-len(d.unknown()) < 2 {
			continue // no source: the simulator prints nothing
		}
		x := d.point(rng, rng.IntN(2) == 0)
		linear := k%2 == 0
		var diodes []*Element
		at := [3]*big.Rat{big.NewRat(6, 10), big.NewRat(6+rng.Int64N(3), 10), big.NewRat(1+rng.Int64N(20), 1000)}
		if !linear {
			c := d.s.b.Const
			for range 1 + rng.IntN(3) {
				a, b := rng.IntN(len(d.nodes)), rng.IntN(len(d.nodes))
				if a == b || d.givenR[a] != 0 && d.givenR[b] != 0 {
					continue
				}
				diodes = append(diodes, d.n.Junction("D", d.nodes[a], d.nodes[b], Diode{
					Forward: []Point{{Min: c(at[0]), Max: c(big.NewRat(8, 10)), At: c(at[2])}},
					Leak:    d.s.New("leak", "", Ampere, bound.Input{Lo: zero, Hi: big.NewRat(1, 1e6)}),
				}))
			}
		}
		decks, nets, points = append(decks, d.deck(t, x, diodes, at)), append(nets, d), append(points, x)
		exact = append(exact, linear)
	}
	worst, inside := 0.0, 0
	for k, got := range simulate(t, decks) {
		d, x := nets[k], points[k]
		if _, _, _, ok := d.solve(t, x); exact[k] && !ok {
			continue
		}
		for at, given := range d.givenR {
			if given != 0 {
				continue
			}
			sim, ok := got[fmt.Sprint("n", at)]
			require.True(t, ok, "node %d of circuit %d: %v\n%s", at, k, got, decks[k].text.String())
			if exact[k] {
				sol := d.n.solve(d.n.groupOf(d.everything()), state{})
				ours, _ := d.s.at(t, sol.cases[0].potential(Node(at)), x).Float64()
				require.InDelta(t, sim, ours, 1e-9*(1+math.Abs(sim)))
				worst = math.Max(worst, math.Abs(sim-ours)/(1e-3+math.Abs(sim)))
				continue
			}
			r := d.n.Range(d.n.Voltage(Node(at)), Scope{})
			require.Empty(t, r.Why)
			require.GreaterOrEqual(t, sim, r.Lo-1e-6, "circuit %d", k)
			require.LessOrEqual(t, sim, r.Hi+1e-6, "circuit %d", k)
			inside++
		}
	}
	require.Greater(t, inside, 50)
	t.Logf("linear: worst relative difference %.1e; with diodes: %d voltages, all inside their ranges", worst, inside)
}
