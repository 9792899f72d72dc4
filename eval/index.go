package eval

// index keeps named things in the order they were defined.
type index[T any] struct {
	by   map[string]T
	list []T
}

func (x *index[T]) get(name string) (T, bool) { v, ok := x.by[name]; return v, ok }

// enter names a new thing; where the name is taken it gives what has it.
func (x *index[T]) enter(name string, v T) (old T, isNew bool) {
	if old, taken := x.by[name]; taken {
		return old, false
	}
	if x.by == nil {
		x.by = map[string]T{}
	}
	x.by[name] = v
	x.list = append(x.list, v)
	return old, true
}

// rename gives a name that is taken to something else; the list stays.
func (x *index[T]) rename(name string, v T) {
	if _, taken := x.by[name]; taken {
		x.by[name] = v
	}
}

func (x *index[T]) names() []string {
	out := make([]string, 0, len(x.by))
	for name := range x.by {
		out = append(out, name)
	}
	return out
}
