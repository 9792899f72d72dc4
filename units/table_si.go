package units

var baseRows = []row{
	{spellings: "m meter metre", name: "metre", dim: "m", factor: "1", prefixes: siPrefix, source: srcBase},
	{spellings: "g gram", name: "gram", dim: "kg", factor: "1/1000", prefixes: siPrefix, source: srcBase},
	{spellings: "s sec", name: "second", dim: "s", factor: "1", prefixes: siPrefix, source: srcBase},
	{spellings: "A amp", name: "ampere", dim: "A", factor: "1", prefixes: siPrefix, source: srcBase},
	{spellings: "K kelvin", name: "kelvin", dim: "K", factor: "1", prefixes: siPrefix, source: srcBase, kind: Kelvin},
	{spellings: "mol", name: "mole", dim: "mol", factor: "1", prefixes: siPrefix, source: srcBase},
	{spellings: "cd", name: "candela", dim: "cd", factor: "1", prefixes: siPrefix, source: srcBase},
}

var derivedRows = []row{
	{spellings: "rad", name: "radian", factor: "1", prefixes: siPrefix, source: srcDerived, word: "an angle"},
	{spellings: "sr", name: "steradian", factor: "1", prefixes: siPrefix, source: srcDerived, word: "a solid angle"},
	{spellings: "Hz", name: "hertz", dim: "Hz", factor: "1", prefixes: siPrefix, source: srcDerived},
	{spellings: "N newton", name: "newton", dim: "N", factor: "1", prefixes: siPrefix, source: srcDerived},
	{spellings: "Pa pascal", name: "pascal", dim: "Pa", factor: "1", prefixes: siPrefix, source: srcDerived},
	{spellings: "J joule", name: "joule", dim: "J", factor: "1", prefixes: siPrefix, source: srcDerived},
	{spellings: "W watt", name: "watt", dim: "W", factor: "1", prefixes: siPrefix, source: srcDerived},
	{spellings: "C coulomb", name: "coulomb", dim: "C", factor: "1", prefixes: siPrefix, source: srcDerived},
	{spellings: "V volt", name: "volt", dim: "V", factor: "1", prefixes: siPrefix, source: srcDerived},
	{spellings: "F farad", name: "farad", dim: "F", factor: "1", prefixes: siPrefix, source: srcDerived},
	{spellings: "Ω ohm Ohm ohms", name: "ohm", dim: "Ω", factor: "1", prefixes: siPrefix, source: srcDerived},
	{spellings: "S siemens", name: "siemens", dim: "S", factor: "1", prefixes: siPrefix, source: srcDerived},
	{spellings: "Wb weber", name: "weber", dim: "Wb", factor: "1", prefixes: siPrefix, source: srcDerived},
	{spellings: "T tesla", name: "tesla", dim: "T", factor: "1", prefixes: siPrefix, source: srcDerived},
	{spellings: "H henry", name: "henry", dim: "H", factor: "1", prefixes: siPrefix, source: srcDerived},
	{spellings: "lm", name: "lumen", dim: "cd", factor: "1", prefixes: siPrefix, source: srcDerived, word: "a luminous flux"},
	{spellings: "lx", name: "lux", dim: "cd m-2", factor: "1", prefixes: siPrefix, source: srcDerived, word: "an illuminance"},
	{spellings: "Bq", name: "becquerel", dim: "Hz", factor: "1", prefixes: siPrefix, source: srcDerived, word: "an activity"},
	{spellings: "Gy", name: "gray", dim: "J kg-1", factor: "1", prefixes: siPrefix, source: srcDerived, word: "an absorbed dose"},
	{spellings: "Sv", name: "sievert", dim: "J kg-1", factor: "1", prefixes: siPrefix, source: srcDerived, word: "a dose equivalent"},
	{spellings: "kat", name: "katal", dim: "mol s-1", factor: "1", prefixes: siPrefix, source: srcDerived},
}

// Temperature scales. °C and °F name points; in a compound unit, with an
// exponent or as an amount after ± they count as differences.
var thermalRows = []row{
	{spellings: "°C degC ℃", name: "degree Celsius", dim: "K", factor: "1", source: srcDerived, kind: Point, offset: "273.15"},
	{spellings: "°F degF ℉", name: "degree Fahrenheit", dim: "K", factor: "5/9", source: src811, kind: Point, offset: "45967/180"},
	{spellings: "°R degR °Ra", name: "degree Rankine", dim: "K", factor: "5/9", source: src811, kind: Kelvin},
	{spellings: "K/W °C/W", name: "kelvin per watt", dim: "K W-1", factor: "1", source: srcCoherent},
	{spellings: "W/K W/°C", name: "watt per kelvin", dim: "W K-1", factor: "1", source: srcCoherent},
	{spellings: "W/(m·K)", name: "watt per metre kelvin", dim: "W m-1 K-1", factor: "1", source: srcCoherent},
	{spellings: "W/(m²·K)", name: "watt per square metre kelvin", dim: "W m-2 K-1", factor: "1", source: srcCoherent},
	{spellings: "J/K J/°C", name: "joule per kelvin", dim: "J K-1", factor: "1", source: srcCoherent},
	{spellings: "J/(kg·K)", name: "joule per kilogram kelvin", dim: "J kg-1 K-1", factor: "1", source: srcCoherent},
	{spellings: "J/(g·K)", name: "joule per gram kelvin", dim: "J kg-1 K-1", factor: "1000", source: srcCoherent},
	{spellings: "W/m²", name: "watt per square metre", dim: "W m-2", factor: "1", source: srcCoherent},
	{spellings: "W/cm²", name: "watt per square centimetre", dim: "W m-2", factor: "10000", source: srcCoherent},
	{spellings: "K/s °C/s", name: "kelvin per second", dim: "K s-1", factor: "1", source: srcCoherent},
	{spellings: "K/min °C/min", name: "kelvin per minute", dim: "K s-1", factor: "1/60", source: srcAccepted},
	{spellings: "K/m", name: "kelvin per metre", dim: "K m-1", factor: "1", source: srcCoherent},
	{spellings: "K·cm²/W °C·cm²/W", name: "kelvin square centimetre per watt", dim: "K W-1 m2", factor: "1/10000", source: srcCoherent, word: "a thermal impedance per area"},
	{spellings: "ppm/K ppm/°C", name: "part per million per kelvin", dim: "K-1", factor: "1/1000000", source: srcCommon},
	{spellings: "ppb/K ppb/°C", name: "part per billion per kelvin", dim: "K-1", factor: "1/1000000000", source: srcCommon},
	{spellings: "%/K %/°C", name: "percent per kelvin", dim: "K-1", factor: "1/100", source: srcCommon},
	{spellings: "V/K V/°C", name: "volt per kelvin", dim: "V K-1", factor: "1", source: srcCoherent},
	{spellings: "mV/K mV/°C", name: "millivolt per kelvin", dim: "V K-1", factor: "1/1000", source: srcCoherent},
	{spellings: "µV/K µV/°C uV/K uV/°C", name: "microvolt per kelvin", dim: "V K-1", factor: "1/1000000", source: srcCoherent},
	{spellings: "mm·K", name: "millimetre kelvin", dim: "m K", factor: "1/1000", source: srcCoherent, word: "a radiation displacement"},
	{spellings: "W/(m²·K⁴)", name: "watt per square metre kelvin to the fourth", dim: "W m-2 K-4", factor: "1", source: srcCoherent},
}
