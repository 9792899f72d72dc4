package eval

import (
	"maps"
	"slices"
	"strconv"
	"strings"

	"guardband/eval/circuit"
	"guardband/notebook"
)

// This file finds out which pin of an exported file is which pin of the notes:
// by number, by name, by `pads:`, and where neither side names the two ends of
// a part that works either way round, by the nets they stand on.

// pinMatch says which pin of a file is which of the notes.
type pinMatch struct {
	key     map[string]string // pin of the file to pin of the notes
	turns   bool              // two ends, known only by their nets
	unnamed bool              // of those: the notes do not name ends that are not alike
	unknown bool              // of those: the file does not
	lost    bool              // further pins that are not known to belong together
}

// matchPins matches the pins of a placed part. cut is the number of columns
// that the form has for a pin, 0 for any.
func (c reader) matchPins(m *circuit.Component, file map[string]placedPin, cut int) pinMatch {
	notes, pads := circuit.DrawnPins(m), c.padNames(m)
	x := pinMatch{key: map[string]string{}}
	open := map[string]circuit.DrawnPin{} // pins of the notes that are not found yet
	for _, d := range notes {
		open[d.Key] = d
	}
	take := func(id, key string) {
		x.key[id] = key
		delete(open, key)
	}
	left := slices.Sorted(maps.Keys(file))
	ids := len(left)
	if m.Part != nil || !m.BareEnds() || len(notes) != 2 { // the numbers of two bare ends are places in the row
		for _, same := range []func(id string, d circuit.DrawnPin) bool{
			func(id string, d circuit.DrawnPin) bool { return strings.EqualFold(id, d.Key) },
			func(id string, d circuit.DrawnPin) bool { return d.Pin == nil && m.SameEnd(id, d.Key) },
			func(id string, d circuit.DrawnPin) bool { return d.Pin == nil && m.SameEnd(file[id].name, d.Key) },
			func(id string, d circuit.DrawnPin) bool { return d.Pin == nil && m.SameEnd(pads[id], d.Key) },
			func(id string, d circuit.DrawnPin) bool {
				return d.Pin != nil && len(d.Pin.Row.Numbers) == 1 && strings.EqualFold(id, d.Pin.Row.Name)
			},
			func(id string, d circuit.DrawnPin) bool {
				return cut > 0 && len(id) == cut && strings.HasPrefix(d.Key, id)
			},
		} {
			left = slices.DeleteFunc(left, func(id string) bool {
				if _, exact := open[id]; exact {
					take(id, id)
					return true
				}
				fits := ""
				for _, d := range notes {
					if _, still := open[d.Key]; still && same(id, d) {
						if fits != "" {
							return false
						}
						fits = d.Key
					}
				}
				if fits != "" {
					take(id, fits)
				}
				return fits != ""
			})
		}
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
		x.turns, x.unnamed, x.unknown = true, circuit.PolarisedEnds(m) && m.BareEnds(), circuit.PolarisedEnds(m) && !m.BareEnds()
		take(left[0], keys[0])
		take(left[1], keys[1])
	case ids == 1 && len(notes) == 2:
		i := max(0, slices.Index(keys, left[0]))
		take(left[0], keys[i])
	default:
		x.lost = len(notes) == 2 || slices.ContainsFunc(keys, func(k string) bool {
			_, err := strconv.Atoi(k)
			return err != nil
		})
	}
	return x
}

// padNames are the names that `pads:` gives to the pads of a component of a
// plain kind, by their numbers; `pads D1: ...` comes before `pads: ...`.
func (c reader) padNames(m *circuit.Component) map[string]string {
	if m.Part != nil {
		return nil
	}
	if one := c.design.padsOf[m.Ref]; one != nil {
		return one
	}
	if circuit.PolarisedEnds(m) {
		return c.design.padsOf[""]
	}
	return nil
}

// readPads reads `pads: 1 = K, 2 = A`: which end a number of the land patterns
// is, of all parts that work one way round or of those named.
func (c reader) readPads() {
	c.design.padsOf = map[string]map[string]string{}
	for _, n := range c.book.Notebooks {
		for _, b := range n.Blocks {
			if b.Kind != "design" && b.Kind != "circuit" {
				continue
			}
			for _, e := range b.Entries {
				if e.Label == "pads" {
					c.readPadsLine(e)
				}
			}
		}
	}
}

func (c reader) readPadsLine(e *notebook.Entry) {
	names := map[string]string{}
	for _, item := range notebook.SplitList(e.Trimmed()) {
		pad, end, ok := strings.Cut(item, "=")
		pad, end = strings.TrimSpace(pad), strings.TrimSpace(end)
		if !ok || pad == "" || end == "" || e.Arg == "" && !strings.Contains("A K + -", circuit.Polarity(end)) {
			c.diagnose(notebook.Err, "pads-form", e.Value, "`"+item+"` does not name the end that a pad is",
				"write `pads: 1 = K`, with A, K, + or -; `pads J1: 1 = VBUS` for one part")
			return
		}
		names[pad] = end
	}
	refs := []string{""}
	if e.Arg != "" {
		refs = designators(e.Arg)
	}
	for _, ref := range refs {
		if ref != "" {
			if m, ok := c.Comps.Get(ref); !ok || m.Part != nil {
				c.diagnose(notebook.Err, "pads-part", e.Value, "`"+ref+"` is not a placed part of a plain kind",
					"the pins of a part with a note have the numbers of its `pins:`")
				continue
			}
		}
		if c.design.padsOf[ref] == nil {
			c.design.padsOf[ref] = map[string]string{}
		}
		maps.Copy(c.design.padsOf[ref], names)
	}
}
