// Package json writes a Record as JSON and reads it back. The form is
// described by schema.json (JSON Schema 2020-12), which Schema holds.
package json

import (
	"bytes"
	_ "embed"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"reflect"
	"unicode"
	"unicode/utf8"

	"guardband/eval/record"
)

// Schema is the JSON Schema of a record.
//
//go:embed schema.json
var Schema []byte

// Write writes r as indented JSON in UTF-8, keys in the order of the schema,
// lists that hold nothing as [], nothing escaped for HTML; marks of direction
// and control characters are escaped, since it is printed on terminals too. It
// fails where r holds a number that JSON has no form for (NaN, infinity) and
// where w fails.
func Write(w io.Writer, r *record.Record) error {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(filler{map[reflect.Type]bool{}}.fill(reflect.ValueOf(*r)).Interface()); err != nil {
		return fmt.Errorf("writing the record as JSON: %w", err)
	}
	text := b.Bytes()
	for i := bytes.IndexFunc(text, steers); i >= 0; i = bytes.IndexFunc(text, steers) {
		r, n := utf8.DecodeRune(text[i:])
		if _, err := fmt.Fprintf(w, `%s\u%04x`, text[:i], r); err != nil {
			return err
		}
		text = text[i+n:]
	}
	_, err := w.Write(text)
	return err
}

// steers says whether a character steers a terminal. The others that do are
// escaped by JSON already, and none is a part of JSON outside its strings.
func steers(r rune) bool { return r >= 0x7f && (r < 0xa0 || unicode.Is(unicode.Bidi_Control, r)) }

// ErrSchema says that a document is no record of the form this package reads.
var ErrSchema = errors.New("no record of the form " + record.SchemaName)

// Read reads one record. It is strict: another schema name, an unknown key or
// anything after the record is an error. Lists that hold nothing are nil.
func Read(r io.Reader) (*record.Record, error) {
	d := json.NewDecoder(r)
	d.DisallowUnknownFields()
	var rec record.Record
	if err := d.Decode(&rec); err != nil {
		return nil, fmt.Errorf("%w: %w", ErrSchema, err)
	}
	if rec.Schema != record.SchemaName {
		return nil, fmt.Errorf("%w: it names itself %q", ErrSchema, rec.Schema)
	}
	if _, err := d.Token(); !errors.Is(err, io.EOF) {
		return nil, fmt.Errorf("%w: unexpected text after the record", ErrSchema)
	}
	empty(reflect.ValueOf(&rec).Elem())
	return &rec, nil
}

// filler copies values with every nil slice made an empty one, so that a list
// is always a list in JSON. Pointers to numbers, and what holds no list, stay
// as they are; plain remembers which types those are.
type filler struct{ plain map[reflect.Type]bool }

func (f filler) isPlain(t reflect.Type) bool {
	known, seen := f.plain[t]
	if seen {
		return known
	}
	f.plain[t] = false // of a type that holds itself, which takes a list or a pointer
	ok := true
	switch t.Kind() {
	case reflect.Slice:
		ok = false
	case reflect.Pointer:
		ok = f.isPlain(t.Elem())
	case reflect.Struct:
		for i := range t.NumField() {
			ok = ok && f.isPlain(t.Field(i).Type)
		}
	}
	f.plain[t] = ok
	return ok
}

func (f filler) fill(v reflect.Value) reflect.Value {
	if f.isPlain(v.Type()) {
		return v
	}
	out := reflect.New(v.Type()).Elem()
	switch v.Kind() {
	case reflect.Slice:
		out.Set(reflect.MakeSlice(v.Type(), v.Len(), v.Len()))
		if f.isPlain(v.Type().Elem()) {
			reflect.Copy(out, v)
			return out
		}
		for i := range v.Len() {
			out.Index(i).Set(f.fill(v.Index(i)))
		}
	case reflect.Struct:
		out.Set(v)
		for i := range v.NumField() {
			if x := v.Field(i); !f.isPlain(x.Type()) {
				out.Field(i).Set(f.fill(x))
			}
		}
	case reflect.Pointer:
		if !v.IsNil() {
			out.Set(reflect.New(v.Type().Elem()))
			out.Elem().Set(f.fill(v.Elem()))
		}
	}
	return out
}

// empty makes every slice without elements nil, in place.
func empty(v reflect.Value) {
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			empty(v.Field(i))
		}
	case reflect.Slice:
		if v.Len() == 0 {
			v.SetZero()
			return
		}
		for i := range v.Len() {
			empty(v.Index(i))
		}
	case reflect.Pointer:
		if !v.IsNil() {
			empty(v.Elem())
		}
	}
}
