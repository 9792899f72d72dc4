package circuit

import (
	"slices"
	"strconv"
	"strings"

	"guardband/notebook"
)

// DrawnPin is a pin or end of a placed part as the notes draw it.
type DrawnPin struct {
	Key string // number of the pin; of a plain kind the name or place of the end
	Net *Net   // nil for none
	Pin *Pin   // nil for a plain kind
}

// TwoTerminal are the kinds that join two nets.
var TwoTerminal = map[string]bool{"resistor": true, "capacitor": true, "inductor": true, "diode": true, "LED": true, "Zener diode": true,
	"crystal": true, "fuse": true, "ferrite bead": true, "thermistor": true, "varistor": true}

// DrawnPins are the pins that the notes draw of a placed part, fitted or not.
func DrawnPins(m *Component) []DrawnPin {
	var out []DrawnPin
	if m.Part == nil {
		for k, conn := range m.Row.Conns {
			key := conn.Pin
			if key == "" {
				key = m.Placed[k]
			}
			out = append(out, DrawnPin{Key: key, Net: m.drawnEnd(m.Placed[k])})
		}
		return out
	}
	for _, q := range m.Pins() {
		for _, n := range q.Row.Numbers {
			out = append(out, DrawnPin{Key: n, Net: m.DrawnNet(q), Pin: q})
		}
	}
	return out
}

// drawnEnd is the net that the notes draw an end on.
func (m *Component) drawnEnd(id string) *Net {
	if n := m.drawnConns[id]; n != nil {
		return n
	}
	return m.Conns[id]
}

// PlaceEnds numbers the ends of a component of a plain kind, one number or name
// for each net of its row: as the row says where it names them 1, 2 or by
// polarity, else by their place.
func PlaceEnds(row *notebook.Placement) []string {
	out := make([]string, len(row.Conns))
	taken := map[string]bool{}
	two := TwoTerminal[row.Kind] || len(row.Conns) == 2
	for k, conn := range row.Conns {
		id := conn.Pin
		if two {
			id = map[string]string{"1": "1", "2": "2", "A": "1", "+": "1", "K": "2", "-": "2"}[Polarity(conn.Pin)]
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

// Polarity folds the names of the ends of a part that works one way round: A
// and K as IEC 60617 has them, + and -; any other name stays as it is.
func Polarity(name string) string {
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

// PolarisedEnds says that a plain kind works one way round only.
func PolarisedEnds(m *Component) bool {
	switch m.Kind {
	case "diode", "LED", "Zener diode", "cell", "battery":
		return true
	case "capacitor":
		for _, o := range m.Row.Options {
			if s := strings.TrimSpace(o.S); s == "electrolytic" || s == "tantalum" {
				return true
			}
		}
		return slices.ContainsFunc(m.Row.Conns, func(k notebook.Conn) bool {
			return k.Pin != "" && strings.Contains("AK+-", Polarity(k.Pin))
		})
	}
	return false
}

// SameEnd compares the name of an end in a file with that of the notes.
func (m *Component) SameEnd(a, b string) bool {
	return a != "" && (strings.EqualFold(a, b) || PolarisedEnds(m) && Polarity(a) == Polarity(b))
}

// BareEnds says that the row names none of its ends.
func (m *Component) BareEnds() bool {
	return !slices.ContainsFunc(m.Row.Conns, func(k notebook.Conn) bool { return k.Pin != "" })
}
