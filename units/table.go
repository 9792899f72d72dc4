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

//go:embed catalogue.txt
var catalogueText string

// rows is the whole catalogue, in the order in which it is listed.
func rows() []row {
	var out []row
	sources := map[string]string{}
	for line := range strings.Lines(catalogueText) {
		f := strings.Split(line, "|")
		for i := range f {
			f[i] = strings.TrimSpace(f[i])
		}
		if len(f) == 2 {
			sources[f[0]] = f[1]
		}
		if len(f) != 7 || strings.HasPrefix(line, "//") {
			continue
		}
		r := row{spellings: f[0], name: f[1], dim: f[2], factor: f[3], source: cmp.Or(sources[f[4]], f[4]), word: f[6]}
		for _, w := range strings.Fields(f[5]) {
			switch w {
			case "SI":
				r.prefixes = siPrefix
			case "info":
				r.prefixes = infoPrefix
			case "kelvin":
				r.kind = Kelvin
			case "step":
				r.kind = LevelStep
			case "point":
				r.kind = Point
			case "cyclic":
				r.sense = Cyclic
			case "angular":
				r.sense = Angular
			case "energy":
				r.sense = Energy
			case "torque":
				r.sense = Torque
			default:
				r.offset = w
			}
		}
		out = append(out, r)
	}
	return append(out, levelRows()...)
}
