package json

import (
	"bytes"
	"encoding/json"
	"io"
	"math"
	"reflect"
	"strings"
	"testing"
	"unicode"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"github.com/stretchr/testify/require"

	"guardband/eval/record"
	"guardband/report/internal/fixture"
)

func judge(t *testing.T) *jsonschema.Schema {
	t.Helper()
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(Schema))
	require.NoError(t, err)
	c := jsonschema.NewCompiler()
	require.NoError(t, c.AddResource("urn:record", doc))
	s, err := c.Compile("urn:record")
	require.NoError(t, err)
	return s
}

func written(t *testing.T, r *record.Record) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, Write(&b, r))
	return b.Bytes()
}

func records() map[string]*record.Record {
	return map[string]*record.Record{
		"small": fixture.Small(), "large": fixture.Large(), "many": fixture.Many(100),
		"failures": fixture.Failures(), "empty": fixture.Empty(), "hostile": fixture.Hostile(),
	}
}

func TestRecordsFollowTheSchema(t *testing.T) {
	s := judge(t)
	for name, r := range records() {
		if name == "hostile" {
			for i := range r.Claims {
				for k := range r.Claims[i].Cites {
					r.Claims[i].Cites[k].Picture = ""
				}
			}
		}
		v, err := jsonschema.UnmarshalJSON(bytes.NewReader(written(t, r)))
		require.NoError(t, err, name)
		require.NoError(t, s.Validate(v), name)
	}
}

func TestSchemaRefuses(t *testing.T) {
	s := judge(t)
	for name, spoil := range map[string]func(map[string]any){
		"another schema":    func(m map[string]any) { m["schema"] = "guardband.record/2" },
		"no claims":         func(m map[string]any) { delete(m, "claims") },
		"an unknown key":    func(m map[string]any) { m["colour"] = "red" },
		"no such verdict":   func(m map[string]any) { m["claims"].([]any)[0].(map[string]any)["verdict"] = "safe" },
		"a list as null":    func(m map[string]any) { m["values"] = nil },
		"a count of words":  func(m map[string]any) { m["summary"].(map[string]any)["passed"] = "three" },
		"a script picture":  func(m map[string]any) { firstCite(m)["picture"] = "javascript:alert(1)" },
		"an invented grade": func(m map[string]any) { firstCite(m)["checked"] = "believed" },
	} {
		var m map[string]any
		require.NoError(t, json.Unmarshal(written(t, fixture.Small()), &m))
		require.NoError(t, s.Validate(m), "before spoiling")
		spoil(m)
		require.Error(t, s.Validate(m), name)
	}
}

func firstCite(m map[string]any) map[string]any {
	return m["claims"].([]any)[0].(map[string]any)["cites"].([]any)[0].(map[string]any)
}

func TestReadsBackTheSame(t *testing.T) {
	for name, r := range records() {
		first := written(t, r)
		back, err := Read(bytes.NewReader(first))
		require.NoError(t, err, name)
		if name != "hostile" { // U+0000 and broken UTF-8 aside, equal values
			empty(reflect.ValueOf(r).Elem())
			require.Equal(t, r, back, name)
		}
		require.Equal(t, first, written(t, back), name)
	}
}

func TestWriteLeavesTheRecordAlone(t *testing.T) {
	r := fixture.Empty()
	written(t, r)
	require.Nil(t, r.Claims)
	require.Contains(t, string(written(t, r)), `"claims": []`)
}

func TestWriteKeepsText(t *testing.T) {
	r := fixture.Empty()
	r.Design.Title = "a < b & c > d, 5 µA"
	require.Contains(t, string(written(t, r)), "a < b & c > d, 5 µA")
}

// The text of a record is printed on terminals, and reads back the same.
func TestNothingOfARecordSteers(t *testing.T) {
	r := fixture.Empty()
	r.Design.Title = "a\u202eb\x1b[2J\u009b31m\x7f\u2066 é 漢 \ufffd"
	data := written(t, r)
	for _, c := range string(data) {
		require.False(t, c != '\n' && unicode.IsControl(c) || unicode.Is(unicode.Bidi_Control, c), "%q", c)
	}
	back, err := Read(bytes.NewReader(data))
	require.NoError(t, err)
	require.Equal(t, r.Design.Title, back.Design.Title)
}

func TestWriteRefusesWhatJSONCannotHold(t *testing.T) {
	r := fixture.Small()
	r.Values[0].Max = fixture.N(math.Inf(1))
	require.Error(t, Write(io.Discard, r))
}

func TestReadIsStrict(t *testing.T) {
	good := string(written(t, fixture.Empty()))
	for name, s := range map[string]string{
		"nothing":        "",
		"half":           good[:len(good)/2],
		"more after it":  good + "{}",
		"unknown key":    strings.Replace(good, `"schema"`, `"colour": 1, "schema"`, 1),
		"another schema": strings.Replace(good, record.SchemaName, "other/1", 1),
		"a list":         "[]",
	} {
		_, err := Read(strings.NewReader(s))
		require.ErrorIs(t, err, ErrSchema, name)
	}
}

func BenchmarkWrite(b *testing.B) {
	r := fixture.Many(2000)
	for b.Loop() {
		var n counter
		if err := Write(&n, r); err != nil {
			b.Fatal(err)
		}
		b.SetBytes(int64(n))
	}
}

// The floor: the same record through encoding/json alone.
func BenchmarkWriteFloor(b *testing.B) {
	r := fixture.Many(2000)
	for b.Loop() {
		var n counter
		e := json.NewEncoder(&n)
		e.SetIndent("", "  ")
		if err := e.Encode(r); err != nil {
			b.Fatal(err)
		}
		b.SetBytes(int64(n))
	}
}

type counter int64

func (c *counter) Write(p []byte) (int, error) { *c += counter(len(p)); return len(p), nil }
