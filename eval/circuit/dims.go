package circuit

import (
	"slices"
	"strings"

	"guardband/units"
)

// Volt is the type of a voltage: kg·m²·s⁻³·A⁻¹, exponents in halves.
var Volt = units.Type{Dim: units.Dim{4, 2, -6, -2}}

// dimensions, exponents in halves (metre, kilogram, second, ampere).
var (
	DimOhm    = units.Dim{4, 2, -6, -4}
	DimAmpere = units.Dim{0, 0, 0, 2}
	DimFarad  = units.Dim{-4, -2, 8, 4}
	DimSecond = units.Dim{0, 0, 2}
)

// DimKelvin is the dimension of a temperature.
var DimKelvin = units.Dim{0, 0, 0, 0, 2}

// NeverNegative says that a fact is a resistance, a capacitance, an inductance or
// a thermal resistance as such, by its symbol, and no error of one.
func NeverNegative(name string, dim units.Dim) bool {
	of := map[units.Dim][]string{DimOhm: {"R", "ESR", "DCR"}, DimFarad: {"C"}, {4, 2, -4, -4}: {"L"}, {-4, -2, 6, 0, 2}: {"R"}}
	return !strings.Contains(name, "ERR") && !strings.Contains(name, "TOL") &&
		slices.ContainsFunc(of[dim], func(s string) bool { return strings.HasPrefix(name, s) })
}

// Watt is the type of a power.
var Watt = units.Type{Dim: units.Dim{4, 2, -6}}
