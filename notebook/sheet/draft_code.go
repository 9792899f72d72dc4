package sheet

import (
	"fmt"
	"regexp"
	"sort"
	"strings"
)

// This file works on the pattern of the order codes once all pages were seen.

// codeField matches a field of a pattern.
var codeField = pattern(`\{([^}]*)\}`)

// settleOrders names the fields of the pattern, infers the pattern from printed
// codes where the sheet prints none, and puts a code together where only one
// can be made.
func (d *drafter) settleOrders() {
	d.sortOrders()
	d.namesOfFields()
	if d.Code.Text == "" {
		d.inferCode()
	}
	if d.Code.Text != "" {
		d.checkCode()
	}
	if d.Code.Text == "" {
		return
	}
	d.dropUnfit()
	if len(d.Orders) > 0 {
		return
	}
	switch all := d.makeCodes(mostMade); {
	case len(all) == 1:
		d.Orders = append(d.Orders, DraftOrder{Quoted: Quoted{Text: all[0], Page: d.Code.Page, Label: d.Code.Label,
			Quote: d.Code.Quote}, Code: all[0], Made: true})
	case len(all) <= mostMade:
		d.Made = all
	}
}

// mostMade is how many codes are made from a pattern for a person to choose from.
const mostMade = 12

// mostCodes bounds the codes that are compared to tell whether two are alike.
const mostCodes = 20000

// checkCode gives the pattern up if a field of it has no table or two ways of
// filling it give one code: it would decode nothing.
func (d *drafter) checkCode() {
	why := ""
	if re, _ := d.codePattern(); re == nil {
		why = "a field of it has no table"
	} else {
		seen := map[string]bool{}
		for _, c := range d.makeCodes(mostCodes) {
			if seen[c] {
				why = "the code " + c + " can be read in two ways"
			}
			seen[c] = true
		}
	}
	if why != "" {
		d.PassedOver = append(d.PassedOver, fmt.Sprintf("pattern %s on page %d: %s", d.Code.Text, d.Code.Page, why))
		d.Code = Quoted{}
	}
}

// sortOrders puts the lines of tables before codes named in passing, and takes
// each code once.
func (d *drafter) sortOrders() {
	sort.SliceStable(d.Orders, func(i, j int) bool {
		return len(d.Orders[i].More)+len(d.Orders[i].Package) > 0 && len(d.Orders[j].More)+len(d.Orders[j].Package) == 0
	})
	seen := map[string]bool{}
	kept := d.Orders[:0]
	for _, o := range d.Orders {
		if !seen[o.Code] {
			seen[o.Code] = true
			kept = append(kept, o)
		}
	}
	d.Orders = kept
}

// FieldName brings the name of a field to a name of the language: small
// letters, digits, "_".
func FieldName(s string) string {
	var b strings.Builder
	for _, r := range strings.ToLower(strings.TrimSpace(foldString(s))) {
		switch {
		case r >= 'a' && r <= 'z', r >= '0' && r <= '9' && b.Len() > 0:
			b.WriteRune(r)
		case b.Len() > 0 && !strings.HasSuffix(b.String(), "_"):
			b.WriteByte('_')
		}
	}
	return strings.TrimRight(b.String(), "_")
}

func (d *drafter) namesOfFields() {
	for i := range d.Options {
		d.Options[i].Field = FieldName(d.Options[i].Field)
		switch c := foldString(d.Options[i].Code); {
		case isBlankMark(c), strings.EqualFold(c, "blank"), strings.EqualFold(c, "(blank)"), strings.EqualFold(c, "none"):
			d.Options[i].Code = ""
		}
	}
	d.Code.Text = codeField().ReplaceAllStringFunc(d.Code.Text, func(f string) string { return "{" + FieldName(f) + "}" })
}

// fields gives the codes of each field, in the order of the tables.
func (d *drafter) fields() (names []string, codes map[string][]string) {
	codes = map[string][]string{}
	for _, o := range d.Options {
		if o.Field == "" {
			continue
		}
		if codes[o.Field] == nil {
			names = append(names, o.Field)
		}
		codes[o.Field] = append(codes[o.Field], o.Code)
	}
	return names, codes
}

// codePattern makes the pattern an expression with one group per field; nil if
// a field has no table.
func (d *drafter) codePattern() (*regexp.Regexp, []string) {
	_, codes := d.fields()
	var b strings.Builder
	var names []string
	rest := d.Code.Text
	b.WriteString("^")
	for _, m := range codeField().FindAllStringSubmatchIndex(d.Code.Text, -1) {
		name := d.Code.Text[m[2]:m[3]]
		if codes[name] == nil {
			return nil, nil
		}
		off := len(d.Code.Text) - len(rest)
		b.WriteString(regexp.QuoteMeta(rest[:m[0]-off]))
		b.WriteString("(" + alternatives(codes[name]) + ")")
		names, rest = append(names, name), d.Code.Text[m[1]:]
	}
	b.WriteString(regexp.QuoteMeta(rest) + "$")
	re, err := regexp.Compile(b.String())
	if err != nil {
		return nil, nil
	}
	return re, names
}

// alternatives joins codes, longer ones first.
func alternatives(codes []string) string {
	list := append([]string(nil), codes...)
	sort.SliceStable(list, func(i, j int) bool { return len(list[i]) > len(list[j]) })
	for i := range list {
		list[i] = regexp.QuoteMeta(list[i])
	}
	return strings.Join(list, "|")
}

// decode gives the code of each field in an order code, nil if it does not fit.
func (d *drafter) decode(code string) map[string]string {
	re, names := d.codePattern()
	if re == nil {
		return nil
	}
	m := re.FindStringSubmatch(code)
	if m == nil {
		return nil
	}
	out := map[string]string{}
	for i, n := range names {
		out[n] = m[i+1]
	}
	return out
}

// dropUnfit takes out codes found in running text that the pattern does not
// make; the lines of an ordering table stay whatever the pattern says.
func (d *drafter) dropUnfit() {
	kept := d.Orders[:0]
	for _, o := range d.Orders {
		if o.Package != "" || len(o.More) > 0 || d.decode(o.Code) != nil {
			kept = append(kept, o)
		}
	}
	d.Orders = kept
}

// makeCodes lists the codes that the pattern makes, at most a few; nil if a
// field has no table.
func (d *drafter) makeCodes(most int) []string {
	if re, _ := d.codePattern(); re == nil {
		return nil
	}
	_, codes := d.fields()
	out := []string{d.Code.Text}
	for codeField().MatchString(out[0]) { // all have as many fields left
		var next []string
		for _, s := range out {
			m := codeField().FindStringSubmatchIndex(s)
			for _, c := range codes[s[m[2]:m[3]]] {
				if next = append(next, s[:m[0]]+c+s[m[1]:]); len(next) > most {
					return next
				}
			}
		}
		out = next
	}
	return out
}

// inferCode finds the one way to lay the fields, in the order of their tables,
// over every printed code so that what is left is the same text. A single code
// tells only by option codes of two characters or more.
func (d *drafter) inferCode() {
	names, codes := d.fields()
	if len(names) == 0 || len(d.Orders) == 0 {
		return
	}
	tabled := len(d.Orders[0].More)+len(d.Orders[0].Package) > 0
	common := map[string]int{}
	n := 0
	for _, o := range d.Orders {
		if tabled && len(o.More)+len(o.Package) == 0 { // named in passing
			continue
		}
		n++
		for p := range layFields(o.Code, names, codes) {
			common[p]++
		}
	}
	if n == 1 && !longCodes(codes) {
		return
	}
	found := ""
	for p, k := range common {
		if k != n {
			continue
		}
		if found != "" {
			return // two ways: the person decides
		}
		found = p
	}
	if found != "" {
		first := d.Orders[0].Quoted
		d.Code = Quoted{Text: found, Page: first.Page, Label: first.Label, Quote: first.Quote}
	}
}

func longCodes(codes map[string][]string) bool {
	for _, list := range codes {
		for _, c := range list {
			if len(c) < 2 {
				return false
			}
		}
	}
	return true
}

// layFields gives the patterns under which a code can be read with the fields
// in order, each behind some fixed text or another field.
func layFields(code string, names []string, codes map[string][]string) map[string]bool {
	out := map[string]bool{}
	var walk func(rest, pattern string, k int)
	walk = func(rest, pattern string, k int) {
		if k == len(names) {
			if rest == "" || len(out) < 64 {
				out[pattern+rest] = true
			}
			return
		}
		for at := 0; at <= len(rest) && len(out) < 64; at++ {
			for _, c := range codes[names[k]] {
				if c != "" && strings.HasPrefix(rest[at:], c) {
					walk(rest[at+len(c):], pattern+rest[:at]+"{"+names[k]+"}", k+1)
				}
			}
		}
	}
	walk(code, "", 0)
	return out
}
