package record

import "reflect"

// Each hands a pointer to everything that a record holds to visit, what holds
// others before them; formulas, which hold themselves alone, are left out.
func (r *Record) Each(visit func(x any)) { each(reflect.ValueOf(r).Elem(), visit) }

func each(v reflect.Value, visit func(x any)) {
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			each(v.Elem(), visit)
		}
	case reflect.Slice:
		if k := v.Type().Elem().Kind(); k != reflect.Struct && k != reflect.Slice && k != reflect.Pointer {
			return
		}
		for i := range v.Len() {
			each(v.Index(i), visit)
		}
	case reflect.Struct:
		if v.Type() == reflect.TypeFor[Math]() {
			return
		}
		visit(v.Addr().Interface())
		for i := range v.NumField() {
			if f := v.Field(i); f.CanSet() {
				each(f, visit)
			}
		}
	}
}

// Relocate changes how the files of the notes are named in a record: each name
// of a place, a complaint or a notebook becomes what name makes of it. Messages
// stay as they are.
func (r *Record) Relocate(name func(file string) string) {
	seen := map[*string]bool{} // a place may be shared by several claims
	r.Each(func(x any) {
		var file *string
		switch x := x.(type) {
		case *Position:
			file = &x.File
		case *Diagnostic:
			file = &x.File
		case *FileDigest:
			file = &x.Path
		case *Notebook:
			file = &x.Path
		default:
			return
		}
		if *file != "" && !seen[file] {
			seen[file] = true
			*file = name(*file)
		}
	})
}
