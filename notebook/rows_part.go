package notebook

import (
	"cmp"
	"fmt"
	"strconv"
	"strings"

	"guardband/units"
)

// This file reads the rows of a part: pins and application needs.

// pinRow reads "NUMBERS NAME TYPE {FLAG} [FACTS] {, OPTION}".
func (r *reader) pinRow(e *Entry, t Text) bool {
	p := &PinRow{}
	rest, ok := r.pinNumbers(p, t)
	if !ok {
		return false
	}
	p.NameText, rest = word(rest)
	p.Name = pinName(p.NameText.S)
	if p.Name == "" || rest.S == "" {
		r.errorAt("row-pin", t, 0, len(t.S), "a row of pins needs number, name and type", pinHint(t))
		return false
	}
	opts := r.options(rest)
	p.More = opts[1:]
	typ, after, found := longest(opts[0], pinTypes)
	if !found {
		first, _ := word(opts[0])
		hint := cmp.Or(meant(first.S, tableWords(pinTypes)), "the types are supply, supply output, ground, input, output, "+
			"bidirectional, analog, passive, clock, reserved, NC, DNC, thermal pad")
		if typ := sheetPinTypes[strings.ToLower(first.S)]; typ != "" {
			hint = "write " + quote(typ)
		}
		r.errorAt("pin-type", first, 0, len(first.S), fmt.Sprintf("%q is not a pin type", units.Clip(first.S)), hint)
		return false
	}
	p.Type = typ
	r.pinFlags(p, after)
	e.Pin = p
	return true
}

// pinName is a pin or net as it is looked up: quotes off, look-alikes folded.
func pinName(s string) string { return units.FoldName(unquote(s)) }

func pinHint(t Text) string {
	if strings.HasSuffix(t.S, "#") || t.S == "" {
		return "a \"#\" after a space begins a comment; quote the name of such a pin"
	}
	return "write 1  VIN  supply"
}

// pinNumbers reads "1", "A1, A2", "EP", "4-6".
func (r *reader) pinNumbers(p *PinRow, t Text) (Text, bool) {
	rest := t
	for {
		var w Text
		w, rest = word(rest)
		more := strings.HasSuffix(w.S, ",") || strings.HasPrefix(rest.S, ",")
		for _, s := range strings.Split(w.S, ",") {
			if s == "" {
				continue
			}
			list, ok := openRange(s)
			if !ok {
				r.errorAt("range-bad", w, 0, len(w.S), fmt.Sprintf("%q is not an ascending pin range", units.Clip(s)), "write 4-6")
				return rest, false
			}
			p.Numbers = append(p.Numbers, list...)
		}
		if strings.HasPrefix(rest.S, ",") {
			rest = rest.Slice(1, len(rest.S)).Trim()
		}
		if !more || rest.S == "" {
			break
		}
	}
	if len(p.Numbers) == 0 {
		r.errorAt("row-pin", t, 0, len(t.S), "a row of pins needs number, name and type", "write 1  VIN  supply")
	}
	return rest, len(p.Numbers) > 0
}

// openRange opens "4-6" or "A1-A3"; a text without a hyphen stays one.
func openRange(s string) ([]string, bool) {
	a, b, ok := strings.Cut(s, "-")
	if !ok || a == "" || b == "" {
		return []string{s}, true
	}
	if _, _, numbers := numbered(a); !numbers {
		return []string{s}, true // a label such as "EP-1" or "A-B"
	}
	if _, _, numbers := numbered(b); !numbers {
		return []string{s}, true
	}
	list := countUp(a, b)
	return list, list != nil
}

// countUp lists "A1", "A2" ... from one to another, which may leave out the
// letters; nil where that is no rising run.
func countUp(a, b string) (out []string) {
	pa, na, okA := numbered(a)
	pb, nb, okB := numbered(b)
	if !okA || !okB || pb != "" && pa != pb || nb-na >= MaxRefs {
		return nil
	}
	for k := na; k <= nb; k++ {
		out = append(out, pa+strconv.Itoa(k))
	}
	return out
}

// numbered parts a designator into letters and number.
func numbered(s string) (prefix string, n int, ok bool) {
	k := len(s)
	for k > 0 && isDigit(s[k-1]) {
		k--
	}
	if k == len(s) || len(s)-k > 9 || len(s)-k > 1 && s[k] == '0' {
		return s, 0, false
	}
	n, err := strconv.Atoi(s[k:])
	return s[:k], n, err == nil
}

// pinFlags reads the words after the type: flags, then at most one name of
// the facts that the pin obeys.
func (r *reader) pinFlags(p *PinRow, t Text) {
	for t.S != "" {
		if flag, rest, ok := longest(t, pinFlags); ok {
			p.Flags = append(p.Flags, flag)
			t = rest
			continue
		}
		first, rest := word(t)
		if p.Facts == "" && IsName(first.S) && looksLikeFact(first.S) {
			p.Facts = units.FoldName(first.S)
			t = rest
			continue
		}
		hint := cmp.Or(meant(first.S, tableWords(pinFlags)), "flags follow the type, such as open drain, pull-up, strap, "+
			"or the name of the facts the pin obeys; other remarks follow a comma")
		r.errorAt("pin-flag", first, 0, len(first.S), fmt.Sprintf("%q is not a pin flag", units.Clip(first.S)), hint)
		return
	}
}

// looksLikeFact tells V_DD, VDD, PA3 from a misspelt flag.
func looksLikeFact(s string) bool {
	return strings.ContainsAny(s, "_0123456789") || strings.ToUpper(s) == s
}

// needRow reads "PIN PIN KIND QUANTITY {, NAME QUANTITY}".
func (r *reader) needRow(e *Entry, t Text) bool {
	n := &NeedRow{}
	a, rest := word(t)
	b, rest := word(rest)
	if rest.S == "" {
		r.errorAt("row-need", t, 0, len(t.S), "a need names two pins and what is between them", "write VIN  GND  capacitor min 2.2 µF")
		return false
	}
	n.A, n.B, n.AText, n.BText = pinName(a.S), pinName(b.S), a, b
	opts := r.options(rest)
	kind, value, ok := longest(opts[0], placedKinds)
	if !ok {
		first, _ := word(opts[0])
		hint := cmp.Or(meant(first.S, tableWords(placedKinds)), "a need starts with a kind such as capacitor, resistor, inductor, link")
		r.errorAt("kind-unknown", first, 0, len(first.S), fmt.Sprintf("%q is not a kind of part", units.Clip(first.S)), hint)
		return false
	}
	n.Kind = kind.kind
	n.Needs = append(n.Needs, Need{Value: value})
	for _, o := range opts[1:] {
		n.Needs = append(n.Needs, need(o))
	}
	e.Need = n
	return true
}

// need parts a further need into its name and its quantity.
func need(o Text) Need {
	first, rest := word(o)
	if IsName(first.S) && rest.S != "" {
		return Need{Name: units.FoldName(first.S), Value: rest}
	}
	return Need{Value: o}
}
