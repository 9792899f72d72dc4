package circuit

import (
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

// Watt is the type of a power.
var Watt = units.Type{Dim: units.Dim{4, 2, -6}}
