package units

// Calories and British thermal units: th is thermochemical, IT is of the
// International Table (NIST SP 811, appendix B, footnotes 9 and 10).
var energyRows = []row{
	{spellings: "Wh W·h", name: "watt hour", dim: "J", factor: "3600", prefixes: siPrefix, source: src811},
	{spellings: "W·s Ws", name: "watt second", dim: "J", factor: "1", source: src811},
	{spellings: "eV", name: "electronvolt", dim: "J", factor: "1.602176634e-19", prefixes: siPrefix, source: srcAccepted},
	{spellings: "erg", name: "erg", dim: "J", factor: "1e-7", source: srcCGS},
	{spellings: "cal cal_th", name: "calorie (thermochemical)", dim: "J", factor: "4.184", source: src811},
	{spellings: "kcal", name: "kilocalorie (thermochemical)", dim: "J", factor: "4184", source: src811},
	{spellings: "cal_IT", name: "calorie (International Table)", dim: "J", factor: "4.1868", source: src811},
	{spellings: "Btu BTU Btu_IT", name: "British thermal unit (International Table)", dim: "J", factor: "4.1868*453.59237/1.8", source: src811},
	{spellings: "Btu_th", name: "British thermal unit (thermochemical)", dim: "J", factor: "4.184*453.59237/1.8", source: src811},
	{spellings: "ftlbf ft·lbf", name: "foot pound-force", dim: "J", factor: "0.45359237*9.80665*0.3048", source: src811},
	{spellings: "thm", name: "therm (EC)", dim: "J", factor: "105505585.262", source: src811},
	{spellings: "tTNT", name: "ton of TNT (energy equivalent)", dim: "J", factor: "4184000000", source: src811},
	{spellings: "hp", name: "horsepower (550 ft·lbf/s)", dim: "W", factor: "550*0.45359237*9.80665*0.3048", source: src811},
	{spellings: "hp_e", name: "horsepower (electric)", dim: "W", factor: "746", source: src811},
	{spellings: "PS", name: "metric horsepower", dim: "W", factor: "75*9.80665", source: src811},
	{spellings: "Btu/h BTU/h Btu_IT/h", name: "British thermal unit (IT) per hour", dim: "W", factor: "4.1868*453.59237/1.8/3600", source: src811},
	{spellings: "J/m³", name: "joule per cubic metre", dim: "J m-3", factor: "1", source: srcCoherent},
	{spellings: "J/kg", name: "joule per kilogram", dim: "J kg-1", factor: "1", source: srcCoherent},
	{spellings: "Wh/kg", name: "watt hour per kilogram", dim: "J kg-1", factor: "3600", source: srcAccepted},
	{spellings: "Wh/L Wh/l", name: "watt hour per litre", dim: "J m-3", factor: "3600000", source: srcAccepted},
	{spellings: "W/kg", name: "watt per kilogram", dim: "W kg-1", factor: "1", source: srcCoherent},
	{spellings: "J·s", name: "joule second", dim: "J s", factor: "1", source: srcCoherent},
	{spellings: "kgf·m", name: "kilogram-force metre", dim: "J", factor: "9.80665", source: src811, word: "a torque"},
	{spellings: "W/m³", name: "watt per cubic metre", dim: "W m-3", factor: "1", source: srcCoherent},
	{spellings: "W/inch²", name: "watt per square inch", dim: "W m-2", factor: "1/0.0254/0.0254", source: src811},
	{spellings: "J/mol", name: "joule per mole", dim: "J mol-1", factor: "1", source: srcCoherent},
	{spellings: "J/(mol·K)", name: "joule per mole kelvin", dim: "J mol-1 K-1", factor: "1", source: srcCoherent},
}
