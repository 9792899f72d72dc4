package units

import (
	"math/big"
	"strings"
)

// Constant is a constant of nature. Uncertainty is the standard uncertainty;
// nil means that the value is exact by definition of the SI. Rational is false
// where the value is exact but irrational and is given to 60 digits.
type Constant struct {
	Symbol      string
	Spellings   []string // ASCII and other spellings
	Name        string
	Value       *big.Rat // SI
	Uncertainty *big.Rat
	Rational    bool
	Unit        string
	Type        Type
	Source      string
}

const (
	srcSI       = "SI Brochure, 9th ed., 2.2 (exact)"
	srcFromSI   = "exact, from the defining constants of the SI"
	srcMeasured = "CODATA 2022"
)

// constantRows: measured values are those of CODATA 2022 (P. J. Mohr et al.,
// 2024 adjustment notice of NIST); the exact ones follow from the SI.
var constantRows = []struct {
	spellings, name, value, uncertainty, unit, dim, source string
}{
	{"c", "speed of light in vacuum", "299792458", "", "m/s", "m s-1", srcSI},
	{"h", "Planck constant", "6.62607015e-34", "", "J·s", "J s", srcSI},
	{"ħ hbar", "reduced Planck constant", "6.62607015e-34/2/pi", "", "J·s", "J s", srcFromSI},
	{"e q_e", "elementary charge", "1.602176634e-19", "", "C", "C", srcSI},
	{"k_B kB", "Boltzmann constant", "1.380649e-23", "", "J/K", "J K-1", srcSI},
	{"N_A NA", "Avogadro constant", "6.02214076e23", "", "mol⁻¹", "mol-1", srcSI},
	{"K_cd", "luminous efficacy of 540 THz radiation", "683", "", "lm/W", "cd W-1", srcSI},
	{"Δν_Cs nu_Cs", "hyperfine transition frequency of caesium 133", "9192631770", "", "Hz", "Hz", srcSI},
	{"R_gas R_m", "molar gas constant", "6.02214076e23*1.380649e-23", "", "J/(mol·K)", "J mol-1 K-1", srcFromSI},
	{"F_c F_Faraday", "Faraday constant", "6.02214076e23*1.602176634e-19", "", "C/mol", "C mol-1", srcFromSI},
	{"K_J", "Josephson constant", "2*1.602176634e-19/6.62607015e-34", "", "Hz/V", "Hz V-1", srcFromSI},
	{"R_K", "von Klitzing constant", "6.62607015e-34/1.602176634e-19/1.602176634e-19", "", "Ω", "Ω", srcFromSI},
	{"Φ_0 Phi_0", "magnetic flux quantum", "6.62607015e-34/2/1.602176634e-19", "", "Wb", "Wb", srcFromSI},
	{"G_0", "conductance quantum", "2*1.602176634e-19*1.602176634e-19/6.62607015e-34", "", "S", "S", srcFromSI},
	{"σ sigma_SB", "Stefan-Boltzmann constant",
		"2*pi*pi*pi*pi*pi*1.380649e-23*1.380649e-23*1.380649e-23*1.380649e-23/15/6.62607015e-34/6.62607015e-34/6.62607015e-34/299792458/299792458",
		"", "W/(m²·K⁴)", "W m-2 K-4", srcFromSI},
	{"g_n", "standard acceleration of free fall", "9.80665", "", "m/s²", "m s-2", "3rd CGPM (1901), exact by convention"},
	{"atm_0", "standard atmosphere", "101325", "", "Pa", "Pa", "10th CGPM (1954), exact by convention"},
	{"µ_0 mu_0 mu0", "vacuum magnetic permeability", "1.25663706127e-6", "0.00000000020e-6", "H/m", "H m-1", srcMeasured},
	{"ε_0 eps_0 eps0", "vacuum electric permittivity", "8.8541878188e-12", "0.0000000014e-12", "F/m", "F m-1", srcMeasured},
	{"Z_0", "characteristic impedance of vacuum", "376.730313412", "0.000000059", "Ω", "Ω", srcMeasured},
	{"m_e", "electron mass", "9.1093837139e-31", "0.0000000028e-31", "kg", "kg", srcMeasured},
	{"m_p", "proton mass", "1.67262192595e-27", "0.00000000052e-27", "kg", "kg", srcMeasured},
	{"m_u", "atomic mass constant", "1.66053906892e-27", "0.00000000052e-27", "kg", "kg", srcMeasured},
	{"α alpha_fs", "fine-structure constant", "7.2973525643e-3", "0.0000000011e-3", "", "", srcMeasured},
}

// Constants lists the constants that the package knows, in a fixed order.
func Constants() []Constant {
	out := make([]Constant, 0, len(constantRows))
	for _, r := range constantRows {
		names := strings.Fields(r.spellings)
		c := Constant{Symbol: names[0], Spellings: names[1:], Name: r.name, Unit: r.unit,
			Type: Type{Dim: mustDim(r.dim)}, Source: r.source}
		c.Value, c.Rational = mustFactor(r.value)
		if r.uncertainty != "" {
			c.Uncertainty, _ = mustFactor(r.uncertainty)
		}
		out = append(out, c)
	}
	return out
}

// ConstantNamed finds a constant by symbol, spelling or name.
func ConstantNamed(name string) (Constant, bool) {
	for _, c := range Constants() {
		if c.Symbol == name || c.Name == name {
			return c, true
		}
		for _, s := range c.Spellings {
			if s == name {
				return c, true
			}
		}
	}
	return Constant{}, false
}
