// Package font holds the mathematical font that the HTML record embeds, so
// that brackets and roots stretch on every machine. math.woff is a subset of
// DejaVu Math TeX Gyre (see LICENCE.txt), made and checked by the test of
// this package: go test ./report/html/font -update.
package font

import _ "embed"

// Family is the name under which pages declare the font.
const Family = "Guardband Math"

// Math is the font as WOFF 1.0.
//
//go:embed math.woff
var Math []byte
