package units

import "slices"

// prefixSet says which multiples a unit takes.
type prefixSet uint8

const (
	noPrefix   prefixSet = iota
	siPrefix             // all of the SI Brochure's table 7
	infoPrefix           // decimal multiples from kilo up and the binary ones
)

// row is one line of the catalogue. A unit is added by adding a row.
type row struct {
	spellings string // canonical first, then what is read too, parted by blanks
	name      string
	dim       string // as mustDim reads it
	factor    string // SI base units per unit, as mustFactor reads it
	prefixes  prefixSet
	source    string
	kind      Kind
	ref       string // of a level
	offset    string // of a temperature scale, in kelvin
	word      string // what is measured, where Type.Words says something else
}

// Sources of the factors.
const (
	srcBase     = "SI Brochure, 9th ed., table 2"
	srcDerived  = "SI Brochure, 9th ed., table 4"
	srcCoherent = "SI Brochure, 9th ed., tables 5 and 6"
	srcAccepted = "SI Brochure, 9th ed., table 8"
	src811      = "NIST SP 811 (2008), appendix B"
	srcYard     = "international yard and pound agreement (1959), as in NIST SP 811, appendix B"
	srcIEC13    = "IEC 80000-13"
	srcIEC27    = "IEC 60027-3 (logarithmic quantities)"
	srcCODATA   = "CODATA 2022"
	srcCGS      = "ISO 80000-1:2009, annex C (CGS units), as in NIST SP 811, appendix B"
	srcCommon   = "common practice"
)

// rows is the whole catalogue, in the order in which it is listed.
func rows() []row {
	return slices.Concat(
		baseRows, derivedRows, electricRows, thermalRows, coherentRows, ratioRows,
		timeRows, lengthRows, massRows, mechanicRows, energyRows, fieldRows, radiationRows, levelRows(),
	)
}
