package circuit

// Index keeps named things in the order they were defined.
type Index[T any] struct {
	by   map[string]T
	List []T
}

// Get finds what goes by a name.
func (x *Index[T]) Get(name string) (T, bool) { v, ok := x.by[name]; return v, ok }

// Enter names a new thing; where the name is taken it gives what has it.
func (x *Index[T]) Enter(name string, v T) (old T, isNew bool) {
	if old, taken := x.by[name]; taken {
		return old, false
	}
	if x.by == nil {
		x.by = map[string]T{}
	}
	x.by[name] = v
	x.List = append(x.List, v)
	return old, true
}

// rename gives a name that is taken to something else; the list stays.
func (x *Index[T]) rename(name string, v T) {
	if _, taken := x.by[name]; taken {
		x.by[name] = v
	}
}

// Names are all names, in no order.
func (x *Index[T]) Names() []string {
	out := make([]string, 0, len(x.by))
	for name := range x.by {
		out = append(out, name)
	}
	return out
}
