package eval

import (
	"fmt"
	"strings"

	"guardband/eval/circuit"
	"guardband/eval/record"
	"guardband/notebook"
	"guardband/units"
)

// OrderCode is an order code that a part's pattern makes, with what it buys.
type OrderCode struct {
	Code   string         `json:"code"`
	Fields []record.Field `json:"fields"` // name, code of the field, what it means
}

// mostCodes bounds how many codes are listed.
const mostCodes = 10000

// OrderCodes lists the order codes of a part that buy what is wanted: field
// name to a meaning ("volts": "3.3 V"), compared as quantities where both are,
// else as packages and words without blanks and case. No wants list every
// code. Fields of any length (digits, letters) stand in braces. It is an error
// if the part or a field is not noted, or if the pattern makes more than 10000
// codes.
func OrderCodes(book *notebook.Book, part string, want map[string]string) ([]OrderCode, error) {
	var found *notebook.Block
	for _, n := range book.Notebooks {
		for _, b := range n.Blocks {
			if b.Kind == "part" && b.ID == part {
				found = b
			}
		}
	}
	if found == nil {
		return nil, fmt.Errorf("no part %s is noted", part)
	}
	pattern, options := "", map[string][]circuit.CodeOption{}
	for _, e := range found.Entries {
		switch e.Label {
		case "code":
			pattern = e.Trimmed()
		case "field":
			options[e.Arg] = append(options[e.Arg], circuit.FieldOptions(e.Trimmed())...)
		}
	}
	if pattern == "" {
		return nil, fmt.Errorf("part %s has no code: pattern", part)
	}
	for f := range want {
		if options[f] == nil {
			return nil, fmt.Errorf("the order code of part %s has no field %s", part, f)
		}
	}
	return codesOf(pattern, options, want)
}

func codesOf(pattern string, options map[string][]circuit.CodeOption, want map[string]string) ([]OrderCode, error) {
	pieces, bad := circuit.CodeParts(pattern)
	if bad != "" {
		return nil, fmt.Errorf("%s: %s", pattern, bad)
	}
	all := []OrderCode{{}}
	for _, x := range pieces {
		var next []OrderCode
		for _, c := range all {
			if x.Field == "" {
				next = append(next, OrderCode{c.Code + x.Text, c.Fields})
				continue
			}
			for _, o := range options[x.Field] {
				if w, ok := want[x.Field]; ok && !sameMeaning(o.Means, w) {
					continue
				}
				code := o.Code
				if _, run := circuit.Runs[code]; run {
					code = "{" + x.Field + "}"
				}
				fields := append(append([]record.Field(nil), c.Fields...), record.Field{Name: x.Field, Value: code, Means: o.Means})
				if next = append(next, OrderCode{c.Code + code, fields}); len(next) > mostCodes {
					return nil, fmt.Errorf("the pattern %s makes more than %d codes", pattern, mostCodes)
				}
			}
		}
		all = next
	}
	return all, nil
}

// sameMeaning compares what a field means with what is wanted.
func sameMeaning(means, want string) bool {
	if a, err := units.ParseLiteral(strings.TrimSpace(means)); err == nil {
		if b, err := units.ParseLiteral(strings.TrimSpace(want)); err == nil {
			return a.Type == b.Type && a.SI.Cmp(b.SI) == 0
		}
	}
	return circuit.SamePackage(means, want)
}
