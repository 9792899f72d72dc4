package sheet

import (
	"sort"
	"strings"
)

// pinNames are the pins of the part, to be found in sentences.
type pinNames struct {
	all    []string
	ground []string
	known  map[string]bool
}

func newPinNames(pins []DraftPin) pinNames {
	p := pinNames{known: map[string]bool{}}
	for _, k := range pins {
		name := foldString(k.Name)
		if name == "" || p.known[name] {
			continue
		}
		p.known[name] = true
		p.all = append(p.all, name)
		if typ := strings.ToLower(k.Type); (typ == "ground" || typ == "gnd" || typ == "g" || isGroundName(name)) && !isPadNumber(k.Number) {
			p.ground = append(p.ground, name)
		}
	}
	sort.SliceStable(p.all, func(i, j int) bool { return len(p.all[i]) > len(p.all[j]) })
	return p
}

var groundName = pattern(`^([ADP]?GND|VSS)[A-Z0-9]*$`)

func isGroundName(s string) bool { return groundName().MatchString(s) }

// isPadNumber says whether a pin is the pad under the body.
func isPadNumber(s string) bool {
	switch strings.ToUpper(strings.Trim(s, " ()-.")) {
	case "EP", "EPAD", "PAD", "TAB", "THERMAL PAD", "EXPOSED PAD":
		return true
	}
	return false
}

// groundOf is the ground pin that belongs to a pin: the only one, or the one
// of the same ending (VDD2 and VSS2); "" if that cannot be told.
func (p pinNames) groundOf(pin string) string {
	if len(p.ground) == 1 {
		return p.ground[0]
	}
	for _, g := range p.ground {
		if end := pin[len(pin)-1:]; strings.HasPrefix(pin, "VDD") && len(pin) == 4 && g == "VSS"+end ||
			strings.HasPrefix(pin, "VCC") && len(pin) == 4 && g == "GND"+end {
			return g
		}
	}
	return ""
}

// bySubscript finds the pin that "COUT" speaks of by its subscript: OUT or
// VOUT; "" if there is none, or two.
func (p pinNames) bySubscript(s string) string {
	found := ""
	for _, n := range p.all {
		if n == s || n == "V"+s {
			if found != "" {
				return ""
			}
			found = n
		}
	}
	return found
}

// Forms of sentences. P stands for pins, V for a value, once both are marked.
var (
	between  = pattern(`V[^PV]*\bbetween (P\d+) and (P\d+)|V[^PV]*\bfrom (P\d+) to (P\d+)`)
	valueAt  = pattern(`V(\d+)(?: to V(\d+))?( at least| or more| minimum| min)?(?: each)? (?:close |directly |placed )?(?:at|on|for|to|near) (?:both )?(?:pins? )?(P\d+(?:(?:,| and|, and) (?:at |on )?(?:pin )?P\d+)*)`)
	pinsThen = pattern(`(?:at|on) (?:pins? )?(P\d+(?:(?:,| and|, and) (?:at |on )?(?:pin )?P\d+)*):? (at least |a minimum of |min )?(?:a capacitor of )?V(\d+)`)
	atThePin = pattern(`V(\d+)(?: to V(\d+))?( at least| or more)?[^PV]{0,20}\b(?:at|close to|near|on) (?:the|this) pin|V(\d+)(?: to V(\d+))?( at least| or more)? to ground`)
	anAmount = pattern(amount)
	aPin     = pattern(`P\d+`)
	atLeastV = pattern(`(?i)(at least|minimum(?: of)?|min\.?|≥|>=) V(\d+)`)
)

// marked is a sentence with its values and pins replaced by V0, P0 and so on.
type marked struct {
	text   string
	values []string
	pins   []string
}

// mark finds the values and the pins.
func (p pinNames) mark(text string) marked {
	m := marked{}
	text = foldString(text)
	text = anAmount().ReplaceAllStringFunc(text, func(v string) string {
		m.values = append(m.values, v)
		return "V" + itoa(len(m.values)-1)
	})
	var b strings.Builder
	for _, w := range strings.SplitAfter(text, " ") {
		core := strings.Trim(w, " ,.;:()")
		if p.known[core] && (len(core) > 1 || strings.ToUpper(core) == core && core != "A") {
			w = strings.Replace(w, core, "P"+itoa(len(m.pins)), 1)
			m.pins = append(m.pins, core)
		}
		b.WriteString(w)
	}
	m.text = b.String()
	return m
}

func itoa(n int) string { return string(rune('0' + n%10)) }

// read gives the needs that a sentence states. What fits none of the forms, or
// leaves its second pin open, gives none.
func (p pinNames) read(q sentence) []DraftNeed {
	m := p.mark(q.Text)
	if len(m.values) == 0 || len(m.values) > 9 || len(m.pins) > 9 {
		return nil
	}
	need := func(a, b, value string, least bool) []DraftNeed {
		kind := kindOf(value, q.Text)
		if a == "" || b == "" || kind == "" || a == b {
			return nil
		}
		if least {
			value = "min " + value
		}
		return []DraftNeed{{Quoted: q.Quoted, A: a, B: b, Kind: kind, Value: value}}
	}
	var out []DraftNeed
	if b := between().FindStringSubmatch(m.text); b != nil && len(m.values) == 1 {
		a, c := b[1]+b[3], b[2]+b[4]
		return need(m.pins[atoi(a[1:])], m.pins[atoi(c[1:])], m.values[0], atLeastV().MatchString(m.text))
	}
	if strings.Contains(m.text, "between") || kindOf(m.values[0], q.Text) != "capacitor" && !strings.Contains(m.text, "to ground") {
		return nil
	}
	for _, f := range valueAt().FindAllStringSubmatch(m.text, -1) {
		for _, x := range aPin().FindAllString(f[4], -1) {
			pin := m.pins[atoi(x[1:])]
			out = append(out, need(pin, p.groundOf(pin), m.span(f[1], f[2]), f[3] != "" || m.least(f[1]))...)
		}
	}
	for _, f := range pinsThen().FindAllStringSubmatch(m.text, -1) {
		for _, x := range aPin().FindAllString(f[1], -1) {
			pin := m.pins[atoi(x[1:])]
			out = append(out, need(pin, p.groundOf(pin), m.span(f[3], ""), f[2] != "")...)
		}
	}
	if f := atThePin().FindStringSubmatch(m.text); f != nil && q.pin != "" && len(out) == 0 {
		out = need(q.pin, p.groundOf(q.pin), m.span(f[1]+f[4], f[2]+f[5]), f[3]+f[6] != "" || m.least(f[1]+f[4]))
	}
	return out
}

// span writes one value, or the range of two.
func (m marked) span(a, b string) string {
	v := spaced(m.values[atoi(a)])
	if b != "" {
		return v + " to " + spaced(m.values[atoi(b)])
	}
	return v
}

// least says whether "at least" stands before a value.
func (m marked) least(v string) bool {
	for _, f := range atLeastV().FindAllStringSubmatch(m.text, -1) {
		if f[2] == v {
			return true
		}
	}
	return false
}

var valueUnit = pattern(`^([0-9.]+) ?(\S+)(.*)$`)

// spaced puts one blank between number and unit.
func spaced(v string) string { return valueUnit().ReplaceAllString(v, "$1 $2$3") }

// kindOf names the part by the unit of its value; "" where the words speak of
// another kind.
func kindOf(value, text string) string {
	text = strings.ToLower(text)
	switch {
	case strings.Contains(value, "F") && strings.Contains(text, "capacit"), strings.Contains(value, "F") &&
		(strings.Contains(text, "decoupl") || strings.Contains(text, "bypass")):
		return "capacitor"
	case strings.Contains(value, "Ω") && strings.Contains(text, "resistor") && !strings.Contains(text, "ntc") &&
		!strings.Contains(text, "thermistor"):
		return "resistor"
	case strings.Contains(value, "H") && strings.Contains(text, "inductor"):
		return "inductor"
	}
	return ""
}
