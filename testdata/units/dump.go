// Command dump writes the catalogue of package units as JSON, for
// outside.py. Run it from the root: go run ./testdata/units/dump.go
package main

import (
	"encoding/json"
	"os"

	"guardband/units"
)

type line struct {
	Symbol, Name string
	Dim          units.Dim
	Factor       float64
	Offset       float64
	Kind         units.Kind
}

func main() {
	var out []line
	for _, u := range units.Catalogue() {
		l := line{Symbol: u.Symbol, Name: u.Name, Dim: u.Unit.Type.Dim, Kind: u.Unit.Type.Kind, Factor: units.Float(u.Unit.Factor)}
		if u.Unit.Offset != nil {
			l.Offset = units.Float(u.Unit.Offset)
		}
		out = append(out, l)
	}
	if err := json.NewEncoder(os.Stdout).Encode(out); err != nil {
		panic(err)
	}
}
