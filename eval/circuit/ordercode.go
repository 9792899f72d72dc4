package circuit

import (
	"fmt"
	"strings"
)

// CodePiece is one piece of an order-code pattern: fixed text or a field.
type CodePiece struct {
	Text  string
	Field string
}

// CodeOption is one code of a field and what it means.
type CodeOption struct{ Code, Means string }

// CodeField is one field of an order code worked out.
type CodeField struct {
	Field string
	CodeOption
}

// CodeParts takes "QX30-{volts}{case}" apart.
func CodeParts(pattern string) ([]CodePiece, string) {
	var out []CodePiece
	for pattern != "" {
		i := strings.IndexByte(pattern, '{')
		if i < 0 {
			return append(out, CodePiece{Text: pattern}), ""
		}
		if i > 0 {
			out = append(out, CodePiece{Text: pattern[:i]})
		}
		j := strings.IndexByte(pattern[i:], '}')
		if j < 0 {
			return nil, "a `{` has no `}`"
		}
		out = append(out, CodePiece{Field: strings.TrimSpace(pattern[i+1 : i+j])})
		pattern = pattern[i+j+1:]
	}
	return out, ""
}

// FieldOptions reads "18 = 1.8 V, 30 = 3.0 V". The word `none` stands for an
// optional field that is left out.
func FieldOptions(text string) []CodeOption {
	var out []CodeOption
	for _, x := range strings.Split(text, ",") {
		code, means, ok := strings.Cut(x, "=")
		code, means = strings.TrimSpace(code), strings.TrimSpace(means)
		if !ok && len(out) > 0 { // a comma inside a meaning
			out[len(out)-1].Means += ", " + strings.TrimSpace(x)
			continue
		}
		if code == "none" {
			code = ""
		}
		out = append(out, CodeOption{code, means})
	}
	return out
}

// Runs are the words that stand for a code of any length: `digits = value in
// pF`, `letters = marking`.
var Runs = map[string]func(b byte) bool{
	"digits":  func(b byte) bool { return b >= '0' && b <= '9' },
	"letters": func(b byte) bool { return b >= 'A' && b <= 'Z' || b >= 'a' && b <= 'z' },
}

// lengths are how much of a text an option can take, the most first.
func (o CodeOption) lengths(rest string) []int {
	is, ok := Runs[o.Code]
	if !ok {
		if strings.HasPrefix(rest, o.Code) {
			return []int{len(o.Code)}
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
func (o CodeOption) meaning(code string) string {
	if _, ok := Runs[o.Code]; ok {
		return o.Means + " " + code
	}
	return o.Means
}

// OptionsOf of every field of a part, by name.
func OptionsOf(p *Part) map[string][]CodeOption {
	out := map[string][]CodeOption{}
	for _, e := range p.Fields {
		out[e.Arg] = append(out[e.Arg], FieldOptions(e.Trimmed())...)
	}
	return out
}

// Decode reads an order code by the part's pattern. All readings are given:
// none means that the code does not fit, two that the pattern is ambiguous.
func Decode(code string, pieces []CodePiece, opts map[string][]CodeOption) [][]CodeField {
	var out [][]CodeField
	type place struct{ left, piece int }
	dead := map[place]bool{} // nothing is read from here: keeps many optional fields from taking exponential time
	var walk func(rest string, i int, got []CodeField)
	walk = func(rest string, i int, got []CodeField) {
		at, before := place{len(rest), i}, len(out)
		if before > 1 || dead[at] {
			return
		}
		defer func() { dead[at] = len(out) == before }()
		if i == len(pieces) {
			if rest == "" {
				out = append(out, append([]CodeField(nil), got...))
			}
			return
		}
		if p := pieces[i]; p.Field == "" {
			if after, ok := strings.CutPrefix(rest, p.Text); ok {
				walk(after, i+1, got)
			}
			return
		}
		for _, o := range opts[pieces[i].Field] {
			for _, n := range o.lengths(rest) {
				read := CodeOption{rest[:n], o.meaning(rest[:n])}
				walk(rest[n:], i+1, append(got, CodeField{pieces[i].Field, read}))
			}
		}
	}
	walk(code, 0, nil)
	return out
}

// Ambiguous finds a code that the pattern reads two ways; "" if none of the
// first codes it can make is.
func Ambiguous(pieces []CodePiece, opts map[string][]CodeOption) string {
	seen := map[string]bool{}
	const most, mostBytes = 20000, 1 << 22
	codes := []string{""}
	for _, p := range pieces {
		var next []string
		size := 0
		list := []CodeOption{{Code: p.Text}}
		if p.Field != "" {
			list = opts[p.Field]
		}
		for _, c := range codes {
			for _, o := range list {
				next, size = append(next, c+o.Code), size+len(c)+len(o.Code)
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

// CodeOf is the order code of a placed part: the first its type names.
func CodeOf(m *Component) string {
	if m.Part == nil || len(m.Part.Orders) == 0 {
		return ""
	}
	return m.Part.Orders[0].Code
}

// DecodedOf is the order code of a part taken apart, with what is wrong.
func DecodedOf(p *Part, code string) ([]CodeField, string) {
	if p.Code == nil {
		return nil, "part " + p.ID + " has no `code:` pattern"
	}
	pieces, bad := CodeParts(p.Code.Trimmed())
	if bad != "" {
		return nil, bad
	}
	switch all := Decode(code, pieces, OptionsOf(p)); len(all) {
	case 0:
		return nil, fmt.Sprintf("order code %s does not fit the pattern %s", code, p.Code.Trimmed())
	case 1:
		return all[0], ""
	default:
		return nil, fmt.Sprintf("order code %s can be read in two ways", code)
	}
}
