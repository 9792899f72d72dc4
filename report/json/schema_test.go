package json

import (
	"bytes"
	"encoding/json"
	"flag"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/eval/record"
)

var update = flag.Bool("update", false, "write schema.json from the Record's types and comments")

// object keeps the order of its keys.
type object []member

type member struct {
	key   string
	value any
}

func (o object) MarshalJSON() ([]byte, error) {
	var b bytes.Buffer
	b.WriteByte('{')
	for i, m := range o {
		if i > 0 {
			b.WriteByte(',')
		}
		k, _ := json.Marshal(m.key)
		b.Write(k)
		b.WriteByte(':')
		var v bytes.Buffer
		e := json.NewEncoder(&v)
		e.SetEscapeHTML(false)
		if err := e.Encode(m.value); err != nil {
			return nil, err
		}
		b.Write(bytes.TrimSpace(v.Bytes()))
	}
	b.WriteByte('}')
	return b.Bytes(), nil
}

// restrictions are what the Go types do not say, by type and key.
var restrictions = map[string]member{
	"Record.schema":     {"const", record.SchemaName},
	"Design.as_of":      {"pattern", `^\d{4}-\d{2}-\d{2}$`},
	"FileDigest.sha256": {"pattern", `^[0-9a-f]{64}$`},
	"Source.sha256":     {"pattern", `^[0-9a-f]{64}$`},
	"Caution.word":      {"enum", []string{"DANGER", "WARNING", "CAUTION", "NOTICE"}},
	"Claim.kind":        {"enum", []string{"claim", "built-in", "shortlist", "reading"}},
	"Criterion.failure": {"enum", []string{"broken", "short"}},
	"CornerValue.end":   {"enum", []string{"min", "max", "inside"}},
	"Cite.picture":      {"pattern", "^data:image/png;base64,"},
	"Cite.checked": {"enum", []string{"words", "numbers", "text layer", "committed evidence", "page", "no text",
		"no file", "not found", "no page", "not checked", "other revision", "read by a person"}},
	"Inspection.result":  {"enum", []string{"", "passed", "failed", "not applicable"}},
	"Margin.base":        {"enum", []string{"", "limit", "span", "nominal"}},
	"Fact.section":       {"enum", []string{"operating", "absmax", "spec"}},
	"Position.line":      {"minimum", 0},
	"Position.column":    {"minimum", 0},
	"Diagnostic.line":    {"minimum", 0},
	"Summary.passed":     {"minimum", 0},
	"Contribution.share": {"minimum", 0},
}

// comments are the doc and line comments of the Record's types, by "Type" and "Type.Field".
func comments(t *testing.T) map[string]string {
	t.Helper()
	files, err := filepath.Glob("../../eval/record/*.go")
	require.NoError(t, err)
	out := map[string]string{}
	for _, file := range files {
		f, err := parser.ParseFile(token.NewFileSet(), file, nil, parser.ParseComments)
		require.NoError(t, err)
		commentsOf(f, out)
	}
	return out
}

// commentsOf adds those of one file.
func commentsOf(f *ast.File, out map[string]string) {
	ast.Inspect(f, func(n ast.Node) bool {
		g, ok := n.(*ast.GenDecl)
		if !ok {
			return true
		}
		for _, s := range g.Specs {
			ts, ok := s.(*ast.TypeSpec)
			if !ok {
				continue
			}
			out[ts.Name.Name] = oneLine(g.Doc.Text())
			st, ok := ts.Type.(*ast.StructType)
			if !ok {
				continue
			}
			for _, fl := range st.Fields.List {
				for _, name := range fl.Names {
					out[ts.Name.Name+"."+name.Name] = oneLine(fl.Doc.Text() + " " + fl.Comment.Text())
				}
			}
		}
		return true
	})
}

func oneLine(s string) string { return strings.Join(strings.Fields(s), " ") }

type builder struct {
	text map[string]string
	defs object
	seen map[string]bool
}

func (b *builder) schema(t reflect.Type) object {
	switch t.Kind() {
	case reflect.Pointer:
		inner := b.schema(t.Elem())
		if t.Elem().Kind() == reflect.Float64 {
			return object{{"type", []string{"number", "null"}}}
		}
		return inner
	case reflect.Slice:
		return object{{"type", "array"}, {"items", b.schema(t.Elem())}}
	case reflect.Map:
		return object{{"type", []string{"object", "null"}}, {"additionalProperties", b.schema(t.Elem())}}
	case reflect.String:
		if t == reflect.TypeOf(record.Passed) {
			return object{{"enum", []record.Verdict{record.Passed, record.Failed, record.Open, record.Waived, record.Skipped}}}
		}
		return object{{"type", "string"}}
	case reflect.Bool:
		return object{{"type", "boolean"}}
	case reflect.Int:
		return object{{"type", "integer"}}
	case reflect.Float64:
		return object{{"type", "number"}}
	case reflect.Struct:
		b.define(t)
		return object{{"$ref", "#/$defs/" + t.Name()}}
	}
	panic("no schema for " + t.String())
}

func (b *builder) define(t reflect.Type) {
	if b.seen[t.Name()] {
		return
	}
	b.seen[t.Name()] = true
	var props object
	required := []string{}
	b.fields(t, &props, &required)
	b.defs = append(b.defs, member{t.Name(), object{
		{"description", b.text[t.Name()]}, {"type", "object"}, {"properties", props}, {"required", required}, {"additionalProperties", false},
	}})
}

func (b *builder) fields(t reflect.Type, props *object, required *[]string) {
	for i := range t.NumField() {
		f := t.Field(i)
		if f.Anonymous {
			b.fields(f.Type, props, required)
			continue
		}
		key, rest, _ := strings.Cut(f.Tag.Get("json"), ",")
		if key == "-" {
			continue
		}
		s := b.schema(f.Type)
		if m, ok := restrictions[t.Name()+"."+key]; ok {
			s = append(s, m)
		}
		if d := b.text[t.Name()+"."+f.Name]; d != "" {
			s = append(s, member{"description", d})
		}
		*props = append(*props, member{key, s})
		if rest != "omitempty" {
			*required = append(*required, key)
		}
	}
}

// TestSchemaFollowsRecord keeps schema.json in step with the Record's types.
func TestSchemaFollowsRecord(t *testing.T) {
	b := &builder{text: comments(t), seen: map[string]bool{}}
	root := b.schema(reflect.TypeOf(record.Record{}))
	doc := append(object{
		{"$schema", "https://json-schema.org/draft/2020-12/schema"},
		{"$id", "https://guardband.example/" + record.SchemaName + ".json"}, // RFC 2606: a name that leads nowhere
		{"title", "Design record"},
		{"description", "What a compiled design notebook comes to. Numbers are SI base values beside the text that a reader sees; null is unknown or unbounded."},
	}, root...)
	doc = append(doc, member{"$defs", b.defs})
	raw, err := json.Marshal(doc)
	require.NoError(t, err)
	var want bytes.Buffer
	require.NoError(t, json.Indent(&want, raw, "", "  "))
	want.WriteByte('\n')
	if *update {
		require.NoError(t, os.WriteFile("schema.json", want.Bytes(), 0o644))
		return
	}
	require.Equal(t, want.String(), string(Schema), "run go test ./report/json -update")
}
