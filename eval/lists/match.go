package lists

import (
	"maps"
	"slices"
	"strconv"
	"strings"

	"guardband/eval/circuit"
)

// Match says which pin of a file is which of the notes: by number, by name, by `pads:`, and where neither side names
// the two ends of a part that works either way round, by their nets.
type Match struct {
	Key   map[string]string // pin of the file to pin of the notes
	Turns bool              // two ends, known only by their nets
	Doubt Doubt
}

// Doubt is why it is not known which way round a part is, or which of its pins is which.
type Doubt int

// The doubts: none, the notes do not name ends that are not alike, the file does not, further pins that are not known
// to belong together.
const (
	Sure Doubt = iota
	NotesUnnamed
	FileUnnamed
	Lost
)

// Match matches the pins of a placed part.
func (b Matcher) Match(m *circuit.Component, file map[string]Pin) Match {
	notes, pads := circuit.DrawnPins(m), b.Pads(m)
	x := Match{Key: map[string]string{}}
	open := map[string]circuit.DrawnPin{} // pins of the notes that are not found yet
	for _, d := range notes {
		open[d.Key] = d
	}
	take := func(id, key string) {
		x.Key[id] = key
		delete(open, key)
	}
	left := slices.Sorted(maps.Keys(file))
	ids := len(left)
	end := func(name func(id string) string) func(string, circuit.DrawnPin) bool {
		return func(id string, d circuit.DrawnPin) bool { return d.Pin == nil && m.SameEnd(name(id), d.Key) }
	}
	rules := []func(id string, d circuit.DrawnPin) bool{
		func(id string, d circuit.DrawnPin) bool { return strings.EqualFold(id, d.Key) },
		end(func(id string) string { return id }),
		end(func(id string) string { return file[id].Name }),
		end(func(id string) string { return pads[id] }),
		func(id string, d circuit.DrawnPin) bool {
			return d.Pin != nil && len(d.Pin.Row.Numbers) == 1 && strings.EqualFold(id, d.Pin.Row.Name)
		},
		func(id string, d circuit.DrawnPin) bool {
			return b.PadCut > 0 && len(id) == b.PadCut && strings.HasPrefix(d.Key, id)
		},
	}
	if m.Part == nil && m.BareEnds() && len(notes) == 2 {
		rules = nil // the numbers of two bare ends are places in the row
	}
	for _, same := range rules {
		left = slices.DeleteFunc(left, func(id string) bool {
			var fits []string
			for _, d := range notes {
				if _, still := open[d.Key]; still && same(id, d) {
					fits = append(fits, d.Key)
				}
			}
			if _, exact := open[id]; exact {
				fits = []string{id}
			}
			if len(fits) == 1 {
				take(id, fits[0])
			}
			return len(fits) == 1
		})
	}
	var keys []string
	for _, d := range notes {
		if _, still := open[d.Key]; still {
			keys = append(keys, d.Key)
		}
	}
	switch {
	case len(left) == 0 || len(keys) == 0:
	case m.Part != nil:
		if len(left) == 1 && len(keys) == 1 && open[keys[0]].Pin.Row.Type == "thermal pad" {
			take(left[0], keys[0]) // EP of the notes is the next number in many land patterns
		}
	case ids == len(notes) && len(left) == 1:
		take(left[0], keys[0])
	case ids == 2 && len(notes) == 2:
		x.Turns = true
		if circuit.PolarisedEnds(m) {
			if x.Doubt = FileUnnamed; m.BareEnds() {
				x.Doubt = NotesUnnamed
			}
		}
		take(left[0], keys[0])
		take(left[1], keys[1])
	case ids == 1 && len(notes) == 2:
		take(left[0], keys[max(0, slices.Index(keys, left[0]))])
	case len(notes) == 2, slices.ContainsFunc(keys, func(k string) bool { _, err := strconv.Atoi(k); return err != nil }):
		x.Doubt = Lost
	}
	return x
}

// AsNoted are the pins of a file under the numbers of the notes.
func (x Match) AsNoted(file map[string]Pin) map[string]Pin {
	out := map[string]Pin{}
	for id, p := range file {
		if key, has := x.Key[id]; has {
			id = key
		}
		out[id] = p
	}
	return out
}
