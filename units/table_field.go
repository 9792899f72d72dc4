package units

var fieldRows = []row{
	{spellings: "Gs gauss", name: "gauss", dim: "T", factor: "0.0001", prefixes: siPrefix, source: srcCGS},
	{spellings: "Mx", name: "maxwell", dim: "Wb", factor: "1e-8", source: srcCGS},
	{spellings: "Oe", name: "oersted", dim: "A m-1", factor: "1000/4/pi", prefixes: siPrefix, source: srcCGS},
	{spellings: "gilbert", name: "gilbert", dim: "A", factor: "10/4/pi", source: srcCGS},
	{spellings: "At", name: "ampere turn", dim: "A", factor: "1", source: srcCommon, word: "a magnetomotive force"},
	{spellings: "A/m", name: "ampere per metre", dim: "A m-1", factor: "1", source: srcCoherent},
	{spellings: "kA/m", name: "kiloampere per metre", dim: "A m-1", factor: "1000", source: srcCoherent},
	{spellings: "V/m", name: "volt per metre", dim: "V m-1", factor: "1", source: srcCoherent},
	{spellings: "kV/mm", name: "kilovolt per millimetre", dim: "V m-1", factor: "1000000", source: srcCoherent, word: "a dielectric strength"},
	{spellings: "V/mil", name: "volt per mil", dim: "V m-1", factor: "1/0.0000254", source: src811, word: "a dielectric strength"},
	{spellings: "abA", name: "abampere", dim: "A", factor: "10", source: srcCGS},
	{spellings: "abC", name: "abcoulomb", dim: "C", factor: "10", source: srcCGS},
	{spellings: "abF", name: "abfarad", dim: "F", factor: "1e9", source: srcCGS},
	{spellings: "abH", name: "abhenry", dim: "H", factor: "1e-9", source: srcCGS},
	{spellings: "abV", name: "abvolt", dim: "V", factor: "1e-8", source: srcCGS},
	{spellings: "abohm", name: "abohm", dim: "Ω", factor: "1e-9", source: srcCGS},
	{spellings: "statC", name: "statcoulomb", dim: "C", factor: "1/2997924580", source: srcCGS},
	{spellings: "statV", name: "statvolt", dim: "V", factor: "299.792458", source: srcCGS},
	{spellings: "debye", name: "debye", dim: "C m", factor: "1e-21/299792458", source: srcCommon},
	{spellings: "C·m", name: "coulomb metre", dim: "C m", factor: "1", source: srcCoherent},
	{spellings: "A·m²", name: "ampere square metre", dim: "A m2", factor: "1", source: srcCoherent},
	{spellings: "H⁻¹", name: "reciprocal henry", dim: "H-1", factor: "1", source: srcCoherent},
}

var radiationRows = []row{
	{spellings: "Ci", name: "curie", dim: "Hz", factor: "37000000000", source: src811, word: "an activity"},
	{spellings: "roentgen", name: "roentgen", dim: "C kg-1", factor: "0.000258", source: src811},
	{spellings: "rem", name: "rem", dim: "J kg-1", factor: "0.01", prefixes: siPrefix, source: src811, word: "a dose equivalent"},
	{spellings: "rd", name: "rad (absorbed dose)", dim: "J kg-1", factor: "0.01", prefixes: siPrefix, source: src811, word: "an absorbed dose"},
	{spellings: "C/kg", name: "coulomb per kilogram", dim: "C kg-1", factor: "1", source: srcCoherent},
	{spellings: "fc", name: "footcandle", dim: "cd m-2", factor: "1/0.3048/0.3048", source: src811, word: "an illuminance"},
	{spellings: "sb", name: "stilb", dim: "cd m-2", factor: "10000", source: srcCGS, word: "a luminance"},
	{spellings: "ph", name: "phot", dim: "cd m-2", factor: "10000", source: srcCGS, word: "an illuminance"},
	{spellings: "nit", name: "nit", dim: "cd m-2", factor: "1", source: srcCommon, word: "a luminance"},
	{spellings: "cd/m²", name: "candela per square metre", dim: "cd m-2", factor: "1", source: srcCoherent, word: "a luminance"},
	{spellings: "lm/W", name: "lumen per watt", dim: "cd W-1", factor: "1", source: srcCoherent},
	{spellings: "mol/L", name: "mole per litre", dim: "mol m-3", factor: "1000", source: srcAccepted},
	{spellings: "m⁻¹", name: "reciprocal metre", dim: "m-1", factor: "1", source: srcCoherent},
	{spellings: "cm⁻¹", name: "reciprocal centimetre", dim: "m-1", factor: "100", source: srcCoherent},
}

// coherentRows are the products that have a use of their own at a bench and
// stand in no other part of the table.
var coherentRows = []row{
	{spellings: "s⁻¹", name: "reciprocal second", dim: "Hz", factor: "1", source: srcCoherent},
	{spellings: "K⁻¹", name: "reciprocal kelvin", dim: "K-1", factor: "1", source: srcCoherent},
	{spellings: "V²", name: "volt squared", dim: "V2", factor: "1", source: srcCoherent},
	{spellings: "A²", name: "ampere squared", dim: "A2", factor: "1", source: srcCoherent},
	{spellings: "C/V", name: "coulomb per volt", dim: "F", factor: "1", source: srcCoherent},
	{spellings: "V·A·h", name: "volt ampere hour", dim: "J", factor: "3600", source: srcCommon},
}
