package sarif

import (
	"bytes"
	"encoding/json"
	"flag"
	"os"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/require"

	"guardband/eval/record"
	"guardband/report/internal/fixture"
)

var update = flag.Bool("update", false, "write the golden file")

func written(t *testing.T, r *record.Record) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, Write(&b, r, Options{All: true}))
	return b.Bytes()
}

func TestGolden(t *testing.T) {
	fixture.Golden(t, "../..", "small.golden.sarif", written(t, fixture.Small()), *update)
}

// The schema is the published one, see testdata/report/README.md.
func TestFollowsThePublishedSchema(t *testing.T) {
	raw, err := os.ReadFile("../../testdata/report/sarif-2.1.0-rtm.5.json")
	require.NoError(t, err)
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(raw))
	require.NoError(t, err)
	c := jsonschema.NewCompiler()
	require.NoError(t, c.AddResource("urn:sarif", doc))
	s, err := c.Compile("urn:sarif")
	require.NoError(t, err)
	for name, r := range map[string]*record.Record{"small": fixture.Small(), "failures": fixture.Failures(),
		"hostile": fixture.Hostile(), "empty": fixture.Empty()} {
		v, err := jsonschema.UnmarshalJSON(bytes.NewReader(written(t, r)))
		require.NoError(t, err, name)
		require.NoError(t, s.Validate(v), name)
	}
	var m map[string]any
	require.NoError(t, json.Unmarshal(written(t, fixture.Small()), &m))
	m["runs"].([]any)[0].(map[string]any)["results"].([]any)[0].(map[string]any)["kind"] = "broken"
	require.Error(t, s.Validate(m), "the judge refuses a bad log")
}

// result is what the test reads of a result.
type result struct {
	RuleID       string
	RuleIndex    int
	Kind, Level  string
	Message      struct{ Text string }
	Fingerprints map[string]string `json:"partialFingerprints"`
	Suppressions []any
	Locations    []struct {
		PhysicalLocation struct{ Region struct{ StartLine int } }
	}
}

func TestResults(t *testing.T) {
	r := fixture.Small()
	var l struct {
		Runs []struct {
			Tool struct {
				Driver struct{ Rules []struct{ ID string } }
			}
			Results []result
		}
	}
	require.NoError(t, json.Unmarshal(written(t, r), &l))
	res := l.Runs[0].Results
	require.Len(t, res, len(r.Claims)+len(r.Diagnostics))
	byID := map[string]result{}
	for _, x := range res {
		require.Equal(t, x.RuleID, l.Runs[0].Tool.Driver.Rules[x.RuleIndex].ID)
		if x.Kind != "fail" { // SARIF 2.1.0, 3.27.10
			require.Equal(t, "none", x.Level)
		}
		byID[x.Fingerprints["claim/v1"]] = x
	}
	require.Equal(t, "fail", byID["dropout"].Kind)
	require.Equal(t, [2]string{"fail", "warning"}, [2]string{byID["sleep-sum"].Kind, byID["sleep-sum"].Level})
	require.Equal(t, "pass", byID["supply-inside"].Kind)
	require.Equal(t, "notApplicable", byID["supply-range.U5.AVDD"].Kind)
	require.Len(t, byID["regulator-current"].Suppressions, 1)
	require.Equal(t, 64, byID["dropout"].Locations[0].PhysicalLocation.Region.StartLine)
	require.Contains(t, byID["dropout"].Message.Text, "V_CELL = 3.30 V (min)")
}
