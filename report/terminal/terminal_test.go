package terminal

import (
	"bytes"
	"flag"
	"regexp"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/require"

	"guardband/eval/record"
	"guardband/report/internal/fixture"
)

var update = flag.Bool("update", false, "write the golden files")

func listed(t *testing.T, r *record.Record, opt Options) string {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, Write(&b, r, opt))
	return b.String()
}

func TestGolden(t *testing.T) {
	fixture.Golden(t, "../..", "small.golden.txt", []byte(listed(t, fixture.Small(), Options{})), *update)
	fixture.Golden(t, "../..", "small-verbose.golden.txt", []byte(listed(t, fixture.Small(), Options{Verbose: true, Width: 80})), *update)
	fixture.Golden(t, "../..", "empty.golden.txt", []byte(listed(t, fixture.Empty(), Options{})), *update)
}

func TestNoLineIsWiderThanAsked(t *testing.T) {
	records := map[string]*record.Record{"small": fixture.Small(), "hostile": fixture.Hostile(), "failures": fixture.Failures()}
	for _, w := range []int{0, 1, 40, 64, 100, 300} {
		limit := w
		switch {
		case w == 0:
			limit = 100
		case w > MaxWidth:
			limit = MaxWidth
		case w < 40:
			limit = 40
		}
		for name, r := range records {
			for _, line := range strings.Split(listed(t, r, Options{Width: w, Verbose: true}), "\n") {
				if width(line) > limit {
					t.Fatalf("%s at %d: %q", name, w, line)
				}
			}
		}
	}
}

func TestHostileTextSendsNoControls(t *testing.T) {
	out := listed(t, fixture.Hostile(), Options{Verbose: true})
	require.True(t, utf8.ValidString(out))
	for _, r := range out {
		require.False(t, r < ' ' && r != '\n' || r == 0x7f || r == 0x202e, "%U", r)
	}
}

func TestColourOnlyRepeats(t *testing.T) {
	plain := listed(t, fixture.Small(), Options{})
	painted := listed(t, fixture.Small(), Options{Color: true})
	require.Contains(t, painted, "\x1b[1;31mfailed\x1b[0m")
	require.Equal(t, plain, regexp.MustCompile("\x1b\\[[0-9;]*m").ReplaceAllString(painted, ""))
}

// What failed or is open is listed in full whatever Max says; of the rest what
// is left out is counted.
func TestFailuresAreNeverCut(t *testing.T) {
	r := fixture.Failures()
	out := listed(t, r, Options{Max: 2})
	require.Equal(t, 17, strings.Count(out, ": failed dropout"))
	require.Equal(t, 17, strings.Count(out, ": open sleep-sum"))
	require.Equal(t, 2, strings.Count(out, ": waived regulator-current"))
	require.Contains(t, out, "and 7 more waived")
	require.Contains(t, out, "47 claims: 17 failed, 17 open, 9 waived, 3 passed, 1 skipped; 0 errors, 1 warning\n")
}

// A record that holds only the first passed claims is listed as the whole one
// is: its summary says how many there are.
func TestMaxOfARecordThatHoldsTheFirst(t *testing.T) {
	whole, brief := fixture.Failures(), fixture.Failures()
	held := map[record.Verdict]int{}
	brief.Claims = nil
	for _, c := range whole.Claims {
		if held[c.Verdict]++; held[c.Verdict] <= 2 || c.Verdict == record.Failed || c.Verdict == record.Open {
			brief.Claims = append(brief.Claims, c)
		}
	}
	require.Less(t, len(brief.Claims), len(whole.Claims))
	require.Equal(t, listed(t, whole, Options{Max: 2}), listed(t, brief, Options{Max: 2}))
}

// Built-in passes are a line a check, with the least margin.
func TestBuiltInPassesAreALineACheck(t *testing.T) {
	r := fixture.Large()
	r.Summary.Checks = []record.CheckCount{{Check: "supply-range", Passed: 29, Least: "0.1 V", Claim: "supply-range.U3.VIN"}}
	out := listed(t, r, Options{})
	require.Contains(t, out, "supply-range  29 passed, least 0.1 V at U3.VIN\n")
	require.Equal(t, 1, strings.Count(out, "supply-range")-strings.Count(out, "supply-range.U5.AVDD"))
	require.NotContains(t, out, "more passed")
	require.Contains(t, listed(t, r, Options{Verbose: true}), "supply-range.U7.VIN")
}

// While errors stand, what is open because of them is one line.
func TestClaimsWaitForErrors(t *testing.T) {
	r := &record.Record{Summary: record.Summary{Open: 3, Errors: 1}}
	for _, id := range []string{"a", "b"} {
		r.Claims = append(r.Claims, record.Claim{ID: id, Verdict: record.Open, Open: []record.OpenPoint{{Reason: "not evaluated", Text: "x"}}})
	}
	r.Claims = append(r.Claims, record.Claim{ID: "c", Verdict: record.Open, Open: []record.OpenPoint{{Reason: "no fact", Text: "y"}}})
	out := listed(t, r, Options{})
	require.Contains(t, out, "open     2 claims wait for the errors above\n         claims: a, b\n")
	require.Equal(t, 1, strings.Count(out, "open, "))
}

// The recap is the last screen, and all that -q leaves.
func TestQuiet(t *testing.T) {
	quiet, out := listed(t, fixture.Small(), Options{Quiet: true}), listed(t, fixture.Small(), Options{})
	require.True(t, strings.HasSuffix(out, quiet[strings.Index(quiet, "To look up"):]))
	require.Contains(t, quiet, "failed   dropout\nopen     sleep-sum\n")
	require.NotContains(t, quiet, "breaking corner")
	require.Contains(t, quiet, "WARNING lithium-ion battery")
}

func TestOrderAndEnd(t *testing.T) {
	out := listed(t, fixture.Small(), Options{})
	at := func(s string) int {
		i := strings.Index(out, s)
		require.GreaterOrEqual(t, i, 0, s)
		return i
	}
	require.Less(t, at("WARNING lithium-ion battery"), at(": failed dropout"))
	require.Less(t, at(": failed dropout"), at(": open sleep-sum"))
	require.Less(t, at(": open sleep-sum"), at(": waived regulator-current"))
	require.Less(t, at(": waived regulator-current"), at("passed   supply-inside"))
	require.Less(t, at("To look up"), at("7 claims:"))
	require.True(t, strings.HasSuffix(out, "1 warning\n"))
}

func TestWrap(t *testing.T) {
	for _, c := range []struct {
		in   string
		w    int
		want []string
	}{
		{"", 20, []string{""}},
		{"one two three", 8, []string{"one two", "three"}},
		{"margin 31.5 mV left", 12, []string{"margin", "31.5 mV left"}},
		{"abcdefghijkl", 8, []string{"abcdefgh", "ijkl"}},
		{"漢字漢字漢", 8, []string{"漢字漢字", "漢"}},
		{"e\u0301e\u0301e\u0301e\u0301e\u0301e\u0301e\u0301e\u0301e", 8, []string{"e\u0301e\u0301e\u0301e\u0301e\u0301e\u0301e\u0301e\u0301", "e"}},
	} {
		require.Equal(t, c.want, wrap(c.in, c.w), c.in)
	}
}

func BenchmarkWrite(b *testing.B) {
	r := fixture.Many(2000)
	for b.Loop() {
		var out bytes.Buffer
		if err := Write(&out, r, Options{Verbose: true}); err != nil {
			b.Fatal(err)
		}
		b.SetBytes(int64(out.Len()))
	}
}
