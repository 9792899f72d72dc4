package draw

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// NameParts is a name as it is set: Path upright before it, Base (italic
// where it is one letter), Sub as subscript.
type NameParts struct {
	Path, Base, Sub string
	Italic          bool
}

// SplitName takes "U1.operating.V_DD" apart: the path "U1.operating.", the
// base "V", the subscript "DD". Only a base of one letter is a symbol and set
// italic with its subscript (ISO 80000-1 sets quantity symbols in italic and
// descriptive subscripts upright); other names stay as typed.
func SplitName(name string) NameParts {
	var p NameParts
	if !isName(name) {
		return NameParts{Base: name}
	}
	if i := strings.LastIndexByte(name, '.'); i >= 0 {
		last := name[i+1:]
		switch last {
		case "min", "typ", "max": // a column belongs to its fact
			inner := SplitName(name[:i])
			if inner.Sub == "" {
				return NameParts{Path: inner.Path, Base: inner.Base + "." + last}
			}
			inner.Sub += ", " + last
			return inner
		}
		p.Path, name = name[:i+1], last
	}
	base, sub, has := strings.Cut(name, "_")
	if has && base != "" && sub != "" && utf8.RuneCountInString(base) <= 2 {
		p.Base, p.Sub = base, sub
	} else {
		p.Base = name
	}
	p.Italic = utf8.RuneCountInString(p.Base) == 1
	return p
}

// isName says that s is a dotted name and no expression.
func isName(s string) bool {
	for _, r := range s {
		if r != '_' && r != '.' && !unicode.IsLetter(r) && !unicode.IsDigit(r) {
			return false
		}
	}
	return s != ""
}
