package record

import "reflect"

// Relocate changes how the files of the notes are named in a record: each name
// of a place, a complaint or a notebook becomes what name makes of it. Messages
// stay as they are.
func (r *Record) Relocate(name func(file string) string) {
	seen := map[*string]bool{} // a place may be shared by several claims
	var walk func(v reflect.Value)
	rename := func(file *string) {
		if *file != "" && !seen[file] {
			seen[file] = true
			*file = name(*file)
		}
	}
	walk = func(v reflect.Value) {
		switch v.Kind() {
		case reflect.Pointer:
			if !v.IsNil() {
				walk(v.Elem())
			}
		case reflect.Slice:
			for i := range v.Len() {
				walk(v.Index(i))
			}
		case reflect.Struct:
			switch x := v.Addr().Interface().(type) {
			case *Position:
				rename(&x.File)
			case *Diagnostic:
				rename(&x.File)
			case *FileDigest:
				rename(&x.Path)
			case *Notebook:
				rename(&x.Path)
			}
			for i := range v.NumField() {
				if f := v.Field(i); f.CanSet() {
					walk(f)
				}
			}
		}
	}
	walk(reflect.ValueOf(r).Elem())
}
