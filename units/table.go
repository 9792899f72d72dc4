package units

import (
	"cmp"
	_ "embed"
	"strings"
)

// prefixSet says which multiples a unit takes.
type prefixSet uint8

const (
	noPrefix   prefixSet = iota
	siPrefix             // all of the SI Brochure's table 7
	infoPrefix           // decimal multiples from kilo up and the binary ones
)

// row is one line of the catalogue. A unit is added by adding a line.
type row struct {
	spellings string // canonical first, then what is read too, separated by spaces
	name      string
	dim       string // as mustDim reads it
	factor    string // SI base units per unit, as mustFactor reads it
	prefixes  prefixSet
	source    string
	kind      Kind
	sense     Sense
	ref       string // of a level
	offset    string // of a temperature scale, in kelvin
	word      string // what is measured, where Type.Words says something else
}

// Words of a row of the catalogue.
var (
	prefixWords = map[string]prefixSet{"SI": siPrefix, "info": infoPrefix}
	kindWords   = map[string]Kind{"kelvin": Kelvin, "step": LevelStep, "point": Point}
	senseWords  = map[string]Sense{"cyclic": Cyclic, "angular": Angular, "energy": Energy, "torque": Torque}
)

//go:embed catalogue.txt
var catalogueText string

// rows is the whole catalogue, in the order in which it is listed.
func rows() []row {
	var out []row
	for _, f := range tableRows(catalogueText, 7, 4) {
		r := row{spellings: f[0], name: f[1], dim: f[2], factor: f[3], source: f[4], word: f[6]}
		for _, w := range strings.Fields(f[5]) {
			kind, ofKind := kindWords[w]
			sense, ofSense := senseWords[w]
			prefixes, ofPrefixes := prefixWords[w]
			switch {
			case ofKind:
				r.kind = kind
			case ofSense:
				r.sense = sense
			case ofPrefixes:
				r.prefixes = prefixes
			default:
				r.offset = w
			}
		}
		out = append(out, r)
	}
	return append(out, levelRows()...)
}

// tableRows gives the rows of so many columns of an embedded text, separated by
// "|". Lines of two columns are short names of what one of the columns holds.
func tableRows(text string, columns, named int) [][]string {
	var out [][]string
	names := map[string]string{}
	for line := range strings.Lines(text) {
		f := strings.Split(line, "|")
		for i := range f {
			f[i] = strings.TrimSpace(f[i])
		}
		switch {
		case strings.HasPrefix(line, "//"):
		case len(f) == columns:
			f[named] = cmp.Or(names[f[named]], f[named])
			out = append(out, f)
		case len(f) == 2:
			names[f[0]] = f[1]
		}
	}
	return out
}
