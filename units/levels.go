package units

import "math/big"

// Reference is what 0 dB of an absolute level stands for.
type Reference struct {
	Ref   string // as after "dB": "m", "V", "µV"
	Name  string
	Value *big.Rat // SI; nil where the level stands for a ratio to something unstated
	Type  Type     // of Value; voltages and currents are rms values
	Step  int      // decibels per decade: 10 for powers, 20 for amplitudes
}

type levelRow struct {
	ref, alias, name, dim, value string
	step                         int
	wave                         Wave
	source                       string
}

const (
	srcIEC27  = "IEC 60027-3 (logarithmic quantities)"
	srcCommon = "common practice"
)

// levelTable: 10 dB a decade for power-like, 20 dB for amplitude-like
// quantities (IEC 60027-3). sqrt0.6 is the voltage of 1 mW in 600 Ω.
var levelTable = []levelRow{
	{"m", "", "decibel above 1 mW", "W", "1/1000", 10, NoWave, "ITU-R V.574"},
	{"W", "", "decibel above 1 W", "W", "1", 10, NoWave, "ITU-R V.574"},
	{"pW", "", "decibel above 1 pW", "W", "1e-12", 10, NoWave, "ITU-R V.574"},
	{"V", "", "decibel above 1 V", "V", "1", 20, RMS, "ITU-R V.574"},
	{"mV", "", "decibel above 1 mV", "V", "1/1000", 20, RMS, "ITU-R V.574"},
	{"µV", "uV", "decibel above 1 µV", "V", "1/1000000", 20, RMS, "ITU-R V.574"},
	{"u", "", "decibel above 0.775 V (1 mW in 600 Ω)", "V", "sqrt0.6", 20, RMS, "ITU-R V.574"},
	{"A", "", "decibel above 1 A", "A", "1", 20, RMS, srcIEC27},
	{"mA", "", "decibel above 1 mA", "A", "1/1000", 20, RMS, srcIEC27},
	{"µA", "uA", "decibel above 1 µA", "A", "1/1000000", 20, RMS, srcIEC27},
	{"Ω", "ohm", "decibel above 1 Ω", "Ω", "1", 20, NoWave, srcIEC27},
	{"V/m", "", "decibel above 1 V/m", "V m-1", "1", 20, RMS, srcIEC27},
	{"µV/m", "uV/m", "decibel above 1 µV/m", "V m-1", "1/1000000", 20, RMS, "ITU-R V.574"},
	{"µA/m", "uA/m", "decibel above 1 µA/m", "A m-1", "1/1000000", 20, RMS, srcIEC27},
	{"pT", "", "decibel above 1 pT", "T", "1e-12", 20, RMS, srcIEC27},
	{"m/Hz", "", "decibel above 1 mW per hertz", "J", "1/1000", 10, NoWave, srcCommon},
	{"W/Hz", "", "decibel above 1 W per hertz", "J", "1", 10, NoWave, srcCommon},
	{"SPL", "", "decibel above 20 µPa", "Pa", "0.00002", 20, RMS, "IEC 61672-1"},
	{"sm", "", "decibel above 1 m²", "m2", "1", 10, NoWave, srcCommon},
	{"c", "", "decibel above the carrier", "", "", 10, NoWave, srcCommon},
	{"c/Hz", "", "decibel above the carrier, per hertz", "", "", 10, NoWave, srcCommon},
	{"i", "", "decibel above an isotropic antenna", "", "", 10, NoWave, srcCommon},
	{"d", "", "decibel above a half-wave dipole", "", "", 10, NoWave, srcCommon},
	{"FS", "", "decibel above full scale", "", "", 20, NoWave, "IEC 61606"},
	{"r", "", "decibel above a stated reference", "", "", 10, NoWave, "ITU-R V.574"},
}

func levelRows() []row {
	out := make([]row, 0, len(levelTable))
	for _, l := range levelTable {
		spell := "dB" + l.ref
		if l.alias != "" {
			spell += " dB" + l.alias
		}
		out = append(out, row{spellings: spell, name: l.name, factor: "1", source: l.source, kind: Level, ref: l.ref})
	}
	return out
}

// LevelReference tells what 0 dB of levels with this Type.Ref stands for.
// The reference of dBu is irrational and given to 60 digits.
func LevelReference(ref string) (Reference, bool) {
	for _, l := range levelTable {
		if l.ref != ref {
			continue
		}
		r := Reference{Ref: l.ref, Name: l.name, Step: l.step, Type: Type{Dim: mustDim(l.dim), Wave: l.wave}}
		if l.value != "" {
			r.Value, _ = mustFactor(l.value)
		}
		return r, true
	}
	return Reference{}, false
}
