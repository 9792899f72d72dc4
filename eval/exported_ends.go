package eval

import (
	"maps"
	"slices"
	"strconv"
	"strings"

	"guardband/notebook"
)

// This file finds out which pin of an exported file is which pin of the notes:
// by number, by name, by `pads:`, and where neither side names the two ends of
// a part that works either way round, by the nets they stand on.

// drawnPin is a pin or end of a placed part as the notes draw it.
type drawnPin struct {
	key string // number of the pin; of a plain kind the name or place of the end
	net *net   // nil for none
	pin *pin   // nil for a plain kind
}

// drawnAll are the pins that the notes draw of a placed part, fitted or not.
func (m *component) drawnAll() []drawnPin {
	var out []drawnPin
	if m.part == nil {
		for k, conn := range m.row.Conns {
			key := conn.Pin
			if key == "" {
				key = m.placed[k]
			}
			out = append(out, drawnPin{key: key, net: m.drawnEnd(m.placed[k])})
		}
		return out
	}
	for _, q := range m.part.pins {
		for _, n := range q.row.Numbers {
			out = append(out, drawnPin{key: n, net: m.drawnNet(q), pin: q})
		}
	}
	return out
}

// drawnEnd is the net that the notes draw an end on.
func (m *component) drawnEnd(id string) *net {
	if n := m.drawnConns[id]; n != nil {
		return n
	}
	return m.conns[id]
}

// placeEnds numbers the ends of a component of a plain kind, one number or name
// for each net of its row: as the row says where it names them 1, 2 or by
// polarity, else by their place.
func placeEnds(row *notebook.Placement) []string {
	out := make([]string, len(row.Conns))
	taken := map[string]bool{}
	two := twoTerminal[row.Kind] || len(row.Conns) == 2
	for k, conn := range row.Conns {
		id := conn.Pin
		if two {
			id = map[string]string{"1": "1", "2": "2", "A": "1", "+": "1", "K": "2", "-": "2"}[polarity(conn.Pin)]
		} else if _, err := strconv.Atoi(id); err != nil {
			id = ""
		}
		if id != "" && !taken[id] {
			out[k], taken[id] = id, true
		}
	}
	for k, conn := range row.Conns {
		if out[k] != "" {
			continue
		}
		if out[k] = strconv.Itoa(k + 1); taken[out[k]] && two && len(out) == 2 {
			out[k] = strconv.Itoa(2 - k)
		} else if taken[out[k]] {
			out[k] = conn.Pin
		}
		taken[out[k]] = true
	}
	return out
}

// polarity folds the names of the ends of a part that works one way round: A
// and K as IEC 60617 has them, + and -; any other name stays as it is.
func polarity(name string) string {
	switch strings.ToUpper(name) {
	case "A", "AN", "ANODE":
		return "A"
	case "K", "C", "CA", "CATHODE", "KATHODE":
		return "K"
	case "+", "P", "POS", "PLUS":
		return "+"
	case "-", "N", "NEG", "MINUS":
		return "-"
	}
	return name
}

// polarised says that a plain kind works one way round only.
func (m *component) polarised() bool {
	switch m.kind {
	case "diode", "LED", "Zener diode", "cell", "battery":
		return true
	case "capacitor":
		for _, o := range m.row.Options {
			if s := strings.TrimSpace(o.S); s == "electrolytic" || s == "tantalum" {
				return true
			}
		}
		return slices.ContainsFunc(m.row.Conns, func(k notebook.Conn) bool {
			return k.Pin != "" && strings.Contains("AK+-", polarity(k.Pin))
		})
	}
	return false
}

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
func (c *compiler) matchPins(m *component, file map[string]placedPin, cut int) pinMatch {
	notes, pads := m.drawnAll(), c.padNames(m)
	x := pinMatch{key: map[string]string{}}
	open := map[string]drawnPin{} // pins of the notes that are not found yet
	for _, d := range notes {
		open[d.key] = d
	}
	take := func(id, key string) {
		x.key[id] = key
		delete(open, key)
	}
	left := slices.Sorted(maps.Keys(file))
	ids := len(left)
	if m.part != nil || !m.bareEnds() || len(notes) != 2 { // the numbers of two bare ends are places in the row
		for _, same := range []func(id string, d drawnPin) bool{
			func(id string, d drawnPin) bool { return strings.EqualFold(id, d.key) },
			func(id string, d drawnPin) bool { return d.pin == nil && m.sameEnd(id, d.key) },
			func(id string, d drawnPin) bool { return d.pin == nil && m.sameEnd(file[id].name, d.key) },
			func(id string, d drawnPin) bool { return d.pin == nil && m.sameEnd(pads[id], d.key) },
			func(id string, d drawnPin) bool {
				return d.pin != nil && len(d.pin.row.Numbers) == 1 && strings.EqualFold(id, d.pin.row.Name)
			},
			func(id string, d drawnPin) bool { return cut > 0 && len(id) == cut && strings.HasPrefix(d.key, id) },
		} {
			left = slices.DeleteFunc(left, func(id string) bool {
				if _, exact := open[id]; exact {
					take(id, id)
					return true
				}
				fits := ""
				for _, d := range notes {
					if _, still := open[d.key]; still && same(id, d) {
						if fits != "" {
							return false
						}
						fits = d.key
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
		if _, still := open[d.key]; still {
			keys = append(keys, d.key)
		}
	}
	switch {
	case len(left) == 0 || len(keys) == 0:
	case m.part != nil:
		if len(left) == 1 && len(keys) == 1 && open[keys[0]].pin.row.Type == "thermal pad" {
			take(left[0], keys[0]) // EP of the notes is the next number in many land patterns
		}
	case ids == len(notes) && len(left) == 1:
		take(left[0], keys[0])
	case ids == 2 && len(notes) == 2:
		x.turns, x.unnamed, x.unknown = true, m.polarised() && m.bareEnds(), m.polarised() && !m.bareEnds()
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

// sameEnd compares the name of an end in a file with that of the notes.
func (m *component) sameEnd(a, b string) bool {
	return a != "" && (strings.EqualFold(a, b) || m.polarised() && polarity(a) == polarity(b))
}

// bareEnds says that the row names none of its ends.
func (m *component) bareEnds() bool {
	return !slices.ContainsFunc(m.row.Conns, func(k notebook.Conn) bool { return k.Pin != "" })
}

// padNames are the names that `pads:` gives to the pads of a component of a
// plain kind, by their numbers; `pads D1: ...` comes before `pads: ...`.
func (c *compiler) padNames(m *component) map[string]string {
	if m.part != nil {
		return nil
	}
	if one := c.design.padsOf[m.ref]; one != nil {
		return one
	}
	if m.polarised() {
		return c.design.padsOf[""]
	}
	return nil
}

// readPads reads `pads: 1 = K, 2 = A`: which end a number of the land patterns
// is, of all parts that work one way round or of those named.
func (c *compiler) readPads() {
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

func (c *compiler) readPadsLine(e *notebook.Entry) {
	names := map[string]string{}
	for _, item := range splitList(value(e)) {
		pad, end, ok := strings.Cut(item, "=")
		pad, end = strings.TrimSpace(pad), strings.TrimSpace(end)
		if !ok || pad == "" || end == "" || e.Arg == "" && !strings.Contains("A K + -", polarity(end)) {
			c.whole(notebook.Err, "pads-form", e.Value, "`"+item+"` does not name the end that a pad is",
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
			if m, ok := c.comps.get(ref); !ok || m.part != nil {
				c.whole(notebook.Err, "pads-part", e.Value, "`"+ref+"` is not a placed part of a plain kind",
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
