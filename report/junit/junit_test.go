package junit

import (
	"bytes"
	"encoding/xml"
	"flag"
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/eval/record"
	"guardband/report/internal/fixture"
)

var update = flag.Bool("update", false, "write the golden file")

func report(t *testing.T, r *record.Record) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, Write(&b, r, 0))
	return b.Bytes()
}

func read(t *testing.T, b []byte) suites {
	t.Helper()
	var s suites
	require.NoError(t, xml.Unmarshal(b, &s))
	return s
}

func TestGolden(t *testing.T) {
	fixture.Golden(t, "../..", "small.golden.junit.xml", report(t, fixture.Small()), *update)
}

func TestCountsAgree(t *testing.T) {
	for name, r := range map[string]*record.Record{"small": fixture.Small(), "failures": fixture.Failures(),
		"hostile": fixture.Hostile(), "empty": fixture.Empty()} {
		s := read(t, report(t, r))
		cases, failures, errors, skipped := 0, 0, 0, 0
		for _, g := range s.Suites {
			require.Len(t, g.Cases, g.Tests)
			for _, c := range g.Cases {
				cases++
				switch {
				case c.Failure != nil:
					failures++
				case c.Error != nil:
					errors++
				case c.Skipped != nil:
					skipped++
				}
			}
		}
		require.Equal(t, []int{s.Tests, s.Failures, s.Errors, s.Skipped}, []int{cases, failures, errors, skipped}, name)
		require.Equal(t, len(r.Claims)+r.Summary.Errors, cases, name)
		require.Equal(t, r.Summary.Failed+r.Summary.Open, failures, name)
		require.Equal(t, r.Summary.Errors, errors, name)
	}
}

func TestFailureCarriesNumbersAndCorner(t *testing.T) {
	s := read(t, report(t, fixture.Small()))
	for _, c := range s.Suites[0].Cases {
		if c.Name == "dropout" {
			require.Contains(t, c.Failure.Text, "breaking corner: V_CELL = 3.30 V (min)")
			require.Contains(t, c.Failure.Text, "margin −31.5 mV")
			require.Equal(t, 64, c.Line)
			return
		}
	}
	require.Fail(t, "no case for the failed claim")
}
