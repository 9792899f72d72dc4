package eval

import (
	"cmp"
	"fmt"
	"strings"

	"guardband/eval/circuit"
	"guardband/eval/formula"
	"guardband/notebook"
	"guardband/units"
)

// codePiece is one piece of an order-code pattern: fixed text or a field.
type codePiece struct {
	text  string
	field string
}

// option is one code of a field and what it means.
type option struct{ code, means string }

// decoded is one field of an order code worked out.
type decoded struct {
	field string
	option
}

// codeParts takes "QX30-{volts}{case}" apart.
func codeParts(pattern string) ([]codePiece, string) {
	var out []codePiece
	for pattern != "" {
		i := strings.IndexByte(pattern, '{')
		if i < 0 {
			return append(out, codePiece{text: pattern}), ""
		}
		if i > 0 {
			out = append(out, codePiece{text: pattern[:i]})
		}
		j := strings.IndexByte(pattern[i:], '}')
		if j < 0 {
			return nil, "a `{` has no `}`"
		}
		out = append(out, codePiece{field: strings.TrimSpace(pattern[i+1 : i+j])})
		pattern = pattern[i+j+1:]
	}
	return out, ""
}

// fieldOptions reads "18 = 1.8 V, 30 = 3.0 V". The word `none` stands for an
// optional field that is left out.
func fieldOptions(text string) []option {
	var out []option
	for _, x := range strings.Split(text, ",") {
		code, means, ok := strings.Cut(x, "=")
		code, means = strings.TrimSpace(code), strings.TrimSpace(means)
		if !ok && len(out) > 0 { // a comma inside a meaning
			out[len(out)-1].means += ", " + strings.TrimSpace(x)
			continue
		}
		if code == "none" {
			code = ""
		}
		out = append(out, option{code, means})
	}
	return out
}

// runs are the words that stand for a code of any length: `digits = value in
// pF`, `letters = marking`.
var runs = map[string]func(b byte) bool{
	"digits":  func(b byte) bool { return b >= '0' && b <= '9' },
	"letters": func(b byte) bool { return b >= 'A' && b <= 'Z' || b >= 'a' && b <= 'z' },
}

// lengths are how much of a text an option can take, the most first.
func (o option) lengths(rest string) []int {
	is, ok := runs[o.code]
	if !ok {
		if strings.HasPrefix(rest, o.code) {
			return []int{len(o.code)}
		}
		return nil
	}
	n := 0
	for n < len(rest) && is(rest[n]) {
		n++
	}
	var out []int
	for ; n > 0; n-- {
		out = append(out, n)
	}
	return out
}

// meaning is what a code means; of a run it shows the code itself.
func (o option) meaning(code string) string {
	if _, ok := runs[o.code]; ok {
		return o.means + " " + code
	}
	return o.means
}

// optionsOf of every field of a part, by name.
func optionsOf(p *circuit.Part) map[string][]option {
	out := map[string][]option{}
	for _, e := range p.Fields {
		out[e.Arg] = append(out[e.Arg], fieldOptions(e.Trimmed())...)
	}
	return out
}

// decode reads an order code by the part's pattern. All readings are given:
// none means that the code does not fit, two that the pattern is ambiguous.
func decode(code string, pieces []codePiece, opts map[string][]option) [][]decoded {
	var out [][]decoded
	type place struct{ left, piece int }
	dead := map[place]bool{} // nothing is read from here: keeps many optional fields from taking exponential time
	var walk func(rest string, i int, got []decoded)
	walk = func(rest string, i int, got []decoded) {
		at, before := place{len(rest), i}, len(out)
		if before > 1 || dead[at] {
			return
		}
		defer func() { dead[at] = len(out) == before }()
		if i == len(pieces) {
			if rest == "" {
				out = append(out, append([]decoded(nil), got...))
			}
			return
		}
		if p := pieces[i]; p.field == "" {
			if after, ok := strings.CutPrefix(rest, p.text); ok {
				walk(after, i+1, got)
			}
			return
		}
		for _, o := range opts[pieces[i].field] {
			for _, n := range o.lengths(rest) {
				read := option{rest[:n], o.meaning(rest[:n])}
				walk(rest[n:], i+1, append(got, decoded{pieces[i].field, read}))
			}
		}
	}
	walk(code, 0, nil)
	return out
}

// ambiguous finds a code that the pattern reads two ways; "" if none of the
// first codes it can make is.
func ambiguous(pieces []codePiece, opts map[string][]option) string {
	seen := map[string]bool{}
	const most, mostBytes = 20000, 1 << 22
	codes := []string{""}
	for _, p := range pieces {
		var next []string
		size := 0
		list := []option{{code: p.text}}
		if p.field != "" {
			list = opts[p.field]
		}
		for _, c := range codes {
			for _, o := range list {
				next, size = append(next, c+o.code), size+len(c)+len(o.code)
				if len(next) > most || size > mostBytes {
					return ""
				}
			}
		}
		codes = next
	}
	for _, c := range codes {
		if seen[c] {
			return c
		}
		seen[c] = true
	}
	return ""
}

// codeOf is the order code of a placed part: the first its type names.
func codeOf(m *circuit.Component) string {
	if m.Part == nil || len(m.Part.Orders) == 0 {
		return ""
	}
	return m.Part.Orders[0].Code
}

// decodedOf is the order code of a part taken apart, with what is wrong.
func (c *compiler) decodedOf(p *circuit.Part, code string) ([]decoded, string) {
	if p.Code == nil {
		return nil, "part " + p.ID + " has no `code:` pattern"
	}
	pieces, bad := codeParts(p.Code.Trimmed())
	if bad != "" {
		return nil, bad
	}
	switch all := decode(code, pieces, optionsOf(p)); len(all) {
	case 0:
		return nil, fmt.Sprintf("order code %s does not fit the pattern %s", code, p.Code.Trimmed())
	case 1:
		return all[0], ""
	default:
		return nil, fmt.Sprintf("order code %s can be read in two ways", code)
	}
}

// checkCodes complains about code tables that cannot be used.
func (c *compiler) checkCodes() {
	for _, p := range c.Parts.List {
		if p.Code == nil {
			continue
		}
		pieces, bad := codeParts(p.Code.Trimmed())
		if bad != "" {
			c.whole(notebook.Err, "code-pattern", p.Code.Value, bad, "fields stand in braces: `QX30-{volts}{case}`")
			continue
		}
		opts := optionsOf(p)
		known := []string{}
		for f := range opts {
			known = append(known, f)
		}
		for _, x := range pieces {
			if x.field != "" && opts[x.field] == nil {
				c.whole(notebook.Err, "field-unknown", p.Code.Value, "the pattern names a field `"+x.field+"` that has no table", hintOr(hintNear(x.field, known), "add `field "+x.field+": code = meaning, ...`"))
			}
		}
		if twice := ambiguous(pieces, opts); twice != "" {
			c.whole(notebook.Err, "code-ambiguous", p.Code.Value, "the code "+twice+" can be read in two ways", "put a fixed character between the fields, or make the codes of one length")
		}
	}
}

func hintOr(a, b string) string {
	if a != "" {
		return a
	}
	return b
}

// orderField is U2.order.volts: what the code says, as a quantity where it is
// one, as text else.
func (c *compiler) orderField(m *circuit.Component, fields []string, p *formula.Path) (*formula.Value, *formula.Error) {
	fail := func(msg, hint string) (*formula.Value, *formula.Error) {
		return nil, &formula.Error{Code: "order-field", Msg: msg, Hint: hint}
	}
	code := codeOf(m)
	if code == "" {
		return fail("part `"+m.Part.ID+"` has no order code", "add `order:`")
	}
	if text := c.codesDiffer(m.Part, fields); text != "" {
		return fail(text, "note the one code that is bought, or a part for each")
	}
	if len(fields) == 0 {
		v := formula.TextValue(code)
		return &v, nil
	}
	got, bad := c.decodedOf(m.Part, code)
	if bad != "" {
		return fail(bad, "")
	}
	var names []string
	for _, d := range got {
		names = append(names, d.field)
		if d.field != fields[0] {
			continue
		}
		if q, err := units.ParseLiteral(d.means); err == nil {
			v := c.number(q)
			return &v, nil
		}
		v := formula.TextValue(d.means)
		return &v, nil
	}
	return fail("the order code of "+m.Ref+" has no field `"+fields[0]+"`", hintNear(fields[0], names))
}

// codesDiffer says that the order codes noted for a part, each of which may be
// bought, differ in what is asked of them: the code itself, or a field.
func (c *compiler) codesDiffer(p *circuit.Part, fields []string) string {
	ask := func(code string) string {
		if len(fields) == 0 {
			return code
		}
		got, _ := c.decodedOf(p, code)
		for _, d := range got {
			if d.field == fields[0] {
				return d.means
			}
		}
		return ""
	}
	for _, o := range p.Orders[1:] {
		if a, b := ask(p.Orders[0].Code), ask(o.Code); a != b {
			return fmt.Sprintf("the order codes of part %s differ: by %s it is %s, by %s it is %s", p.ID, p.Orders[0].Code, cmp.Or(a, "(left out)"), o.Code, cmp.Or(b, "(left out)"))
		}
	}
	return ""
}

// orderSymbol is what a claim rests on that speaks of an order code: the row
// that states it.
func (c *compiler) orderSymbol(m *circuit.Component) *symbol {
	key := factKey{comp: m, section: "order"}
	if y, ok := c.facts[key]; ok {
		return y
	}
	y := &symbol{name: m.Ref + ".order", block: m.Part.Block, comp: m, state: done, shown: codeOf(m)}
	y.val = formula.TextValue(codeOf(m))
	if len(m.Part.Orders) > 0 {
		y.entry = m.Part.Orders[0].Entry
		y.cites = c.citesOf(y.entry)
	}
	c.facts[key] = y
	return y
}
