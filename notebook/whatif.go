package notebook

import (
	"fmt"
	"slices"
	"strings"

	"guardband/units"
)

// Change puts another text in the place of what one entry states: a what-if.
// The file itself stays as it is.
type Change struct {
	Name     string // as asked for: "V_CELL", "U2.V_DO", "ambient"
	file     string // absolute path of the notebook, "" for standard input
	from, to int    // bytes of it
	text     string
}

// Supplement reads further text as if a notebook of that name stood behind
// those of the book.
func (b *Book) Supplement(name, text string) {
	n, diags := Read(NewSource(name, "", []byte(text)))
	b.Diags.list = append(b.Diags.list, diags.list...)
	b.Notebooks = append(b.Notebooks, n)
}

// Change finds what `NAME=VALUE` puts another value to: a value of the notes,
// `ambient`, or a fact of one row of a part: PART.NAME, or by designator.
func (b *Book) Change(assignment string) (Change, error) {
	name, value, ok := strings.Cut(assignment, "=")
	name, value = units.FoldName(strings.TrimSpace(name)), strings.TrimSpace(value)
	if !ok || name == "" || value == "" || strings.ContainsAny(value, "\r\n") {
		return Change{}, fmt.Errorf("%q is not NAME=VALUE, as in V_CELL='3.0 V to 4.2 V'", Clean(assignment))
	}
	found := b.stated(name)
	switch {
	case len(found) == 0:
		return Change{}, fmt.Errorf("there is no value or fact of a part named %q", Clean(name))
	case len(found) > 1:
		return Change{}, fmt.Errorf("%q is stated %d times, first in %s:%d; change it in the notebook", Clean(name),
			len(found), found[0].Pos(0).File, found[0].Pos(0).Line)
	}
	t := found[0].Trim()
	return Change{Name: name, file: t.Src.Abs, from: t.Offset(0), to: t.Offset(len(t.S)-1) + 1, text: value}, nil
}

// stated lists the texts that state what goes by a name.
func (b *Book) stated(name string) []Text {
	owner, fact, dotted := strings.Cut(name, ".")
	section, rest, three := strings.Cut(fact, ".")
	if three {
		fact = rest
	} else {
		section = ""
	}
	owner = b.partOf(owner)
	var out []Text
	for _, n := range b.Notebooks {
		for _, k := range n.Blocks {
			for _, e := range k.Entries {
				switch {
				case k.Kind == "design" && e.Label == "ambient" && name == "ambient":
					out = append(out, e.Value)
				case e.Kind != Definition:
				case k.Kind == "values" && e.Name == name,
					dotted && k.Kind == "part" && k.ID == owner && e.Name == fact && (section == "" || section == e.Section):
					out = append(out, e.RHS)
				}
			}
		}
	}
	return out
}

// partOf is the type of a placed part, or the name itself.
func (b *Book) partOf(ref string) string {
	for _, n := range b.Notebooks {
		for _, k := range n.Blocks {
			for _, e := range k.Entries {
				if e.Placement == nil || e.Placement.Part == "" {
					continue
				}
				if slices.Contains(e.Placement.Refs, ref) {
					return e.Placement.Part
				}
			}
		}
	}
	return ref
}

// apply makes the changes of one file, the last place first.
func apply(changes []Change, abs string, data []byte) []byte {
	bom := len(data) - len(strings.TrimPrefix(string(data), byteOrderMark))
	back := slices.Clone(changes)
	slices.SortFunc(back, func(a, b Change) int { return b.from - a.from })
	for _, c := range back {
		if c.file == abs && c.to <= len(data)-bom {
			data = append(append(append([]byte{}, data[:bom+c.from]...), c.text...), data[bom+c.to:]...)
		}
	}
	return data
}
