package examples_test

import (
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	reportjson "guardband/report/json"
)

// Every key that the page on the record names is one of the schema.
func TestRecordPageNamesKeys(t *testing.T) {
	page, err := os.ReadFile("guide/record.md")
	require.NoError(t, err)
	var schema map[string]any
	require.NoError(t, json.Unmarshal(reportjson.Schema, &schema))
	_, table, _ := strings.Cut(string(page), "| question | keys |")
	table, _, _ = strings.Cut(table, "## Example")
	named := regexp.MustCompile("`([a-z][a-z0-9_.\\[\\]]+)`").FindAllStringSubmatch(table, -1)
	require.Greater(t, len(named), 50)
	for _, m := range named {
		if strings.Contains(m[1], ".") || strings.HasSuffix(m[1], "[]") {
			require.True(t, hasKey(schema, schema, strings.Split(m[1], ".")), m[1])
		}
	}
	require.False(t, hasKey(schema, schema, []string{"claims[]", "verdicts"}), "a key that is not there must be found missing")
}

// hasKey follows keys through a schema; "[]" after one is each entry of a list.
func hasKey(schema, at map[string]any, keys []string) bool {
	for {
		ref, ok := at["$ref"].(string)
		if !ok {
			break
		}
		at = schema["$defs"].(map[string]any)[strings.TrimPrefix(ref, "#/$defs/")].(map[string]any)
	}
	if len(keys) == 0 {
		return true
	}
	for _, either := range []string{"anyOf", "oneOf"} {
		list, _ := at[either].([]any)
		for _, x := range list {
			if hasKey(schema, x.(map[string]any), keys) {
				return true
			}
		}
	}
	key, list := strings.CutSuffix(keys[0], "[]")
	properties, _ := at["properties"].(map[string]any)
	next, ok := properties[key].(map[string]any)
	if ok && list {
		next, ok = next["items"].(map[string]any)
	}
	return ok && hasKey(schema, next, keys[1:])
}

// The page's script reads the record of the demo.
func TestRecordPageScript(t *testing.T) {
	python, err := exec.LookPath("python3")
	if err != nil {
		require.Empty(t, os.Getenv("GUARDBAND_NO_SKIP"), "python3 is missing")
		t.Skip("python3 is missing")
	}
	page, err := os.ReadFile("guide/record.md")
	require.NoError(t, err)
	_, script, _ := strings.Cut(string(page), "```python\n")
	script, _, ok := strings.Cut(script, "```")
	require.True(t, ok)
	file := filepath.Join(t.TempDir(), "record.json")
	out, err := os.Create(file)
	require.NoError(t, err)
	require.NoError(t, reportjson.Write(out, compile(t, "weirkeeper/board.md", "weirkeeper")))
	require.NoError(t, out.Close())
	said, err := exec.Command(python, "-c", script, file).CombinedOutput()
	require.NoError(t, err, string(said))
	require.Len(t, strings.Split(strings.TrimSpace(string(said)), "\n"), 5)
	require.Regexp(t, `(?m)^\S+: .+$`, string(said))
}
