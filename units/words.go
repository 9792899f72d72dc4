package units

import "sync"

// wordTable names dimensions for messages. The first entry of a dimension
// wins, so torque (the dimension of energy) is only found by Search.
var wordTable = [][2]string{
	{"a voltage", "V"}, {"a current", "A"}, {"a power", "W"}, {"an energy", "J"}, {"a charge", "C"},
	{"a capacitance", "F"}, {"an inductance", "H"}, {"a resistance", "Ω"}, {"a conductance", "S"},
	{"a time", "s"}, {"a frequency", "Hz"}, {"a length", "m"}, {"an area", "m2"}, {"a volume", "m3"},
	{"a mass", "kg"}, {"a speed", "m s-1"}, {"an acceleration", "m s-2"}, {"a force", "N"},
	{"a pressure", "Pa"}, {"a magnetic flux", "Wb"}, {"a magnetic flux density", "T"},
	{"a magnetic field strength", "A m-1"}, {"an electric field strength", "V m-1"},
	{"a current density", "A m-2"}, {"a charge per area", "C m-2"}, {"a charge density", "C m-3"},
	{"a resistivity", "Ω m"}, {"a conductivity", "S m-1"}, {"a permittivity", "F m-1"}, {"a permeability", "H m-1"},
	{"a thermal resistance", "K W-1"}, {"a thermal conductance", "W K-1"}, {"a thermal conductivity", "W m-1 K-1"},
	{"a heat transfer coefficient", "W m-2 K-1"}, {"a heat capacity", "J K-1"}, {"a specific heat capacity", "J kg-1 K-1"},
	{"a voltage noise density", "V s1/2"}, {"a current noise density", "A s1/2"},
	{"a voltage noise power density", "V2 s"}, {"a current noise power density", "A2 s"},
	{"a slew rate", "V s-1"}, {"a rate of change of current", "A s-1"}, {"a chirp rate", "Hz2"},
	{"a voltage temperature coefficient", "V K-1"}, {"a current temperature coefficient", "A K-1"},
	{"a resistance temperature coefficient", "Ω K-1"}, {"a relative temperature coefficient", "K-1"},
	{"a power density", "W m-2"}, {"a volume power density", "W m-3"}, {"an energy density", "W s m-3"},
	{"a relative voltage coefficient", "V-1"}, {"a relative current coefficient", "A-1"},
	{"a transconductance parameter", "A V-2"}, {"a squared current", "A2"}, {"a squared voltage", "V2"},
	{"a squared current times time", "A2 s"}, {"a squared time", "s2"}, {"a squared temperature", "K2"},
	{"a resistance per length", "Ω m-1"}, {"a density", "kg m-3"}, {"an areal density", "kg m-2"},
	{"a linear density", "kg m-1"}, {"a flow rate", "m3 s-1"}, {"a mass flow rate", "kg s-1"},
	{"a dynamic viscosity", "Pa s"}, {"a kinematic viscosity", "m2 s-1"}, {"a wave number", "m-1"},
	{"a specific energy", "J kg-1"}, {"a specific power", "W kg-1"}, {"a momentum", "kg m s-1"},
	{"an action", "J s"}, {"an electric dipole moment", "C m"}, {"a magnetic moment", "A m2"},
	{"a delay per length", "s m-1"}, {"a spring rate", "N m-1"}, {"a moment of inertia", "kg m2"},
	{"a heating rate", "K s-1"}, {"a temperature gradient", "K m-1"}, {"a sensor sensitivity", "V T-1"},
	{"a reluctance", "H-1"}, {"an amount of substance", "mol"}, {"a concentration", "mol m-3"},
	{"a catalytic activity", "mol s-1"}, {"a molar energy", "J mol-1"}, {"a molar heat capacity", "J mol-1 K-1"},
	{"a luminous intensity", "cd"}, {"an illuminance or luminance", "cd m-2"}, {"a luminous efficacy", "cd W-1"},
	{"an ionising exposure", "C kg-1"}, {"a radiant emission coefficient", "W m-2 K-4"},
	{"a root of a frequency", "s-1/2"}, {"a root of a time", "s1/2"},
}

var wordMap = sync.OnceValue(func() map[Dim]string {
	m := make(map[Dim]string, len(wordTable))
	for _, w := range wordTable {
		d := mustDim(w[1])
		if _, taken := m[d]; !taken {
			m[d] = w[0]
		}
	}
	return m
})

// Words names the type for a message: "a power", "a temperature", "a ratio",
// "a level in dBm"; a dimension without a name is written with base units.
func (t Type) Words() string { return waveWord(t.Wave) + t.plainWords() }

func (t Type) plainWords() string {
	switch {
	case t.Kind == Level:
		return "a level in dB" + t.Ref
	case t.Kind == LevelStep && t.Dim.IsZero():
		return "a level difference in dB"
	case t.Kind == LevelStep:
		return "a level difference per unit, in dB·" + t.Dim.String()
	case t.Dim == temperature && t.Kind == Plain:
		return "a temperature difference"
	case t.Dim == temperature:
		return "a temperature"
	case t.Dim.IsZero():
		return "a ratio"
	}
	if w, ok := wordMap()[t.Dim]; ok {
		return w
	}
	return "a quantity in " + t.Dim.String()
}

func waveWord(w Wave) string {
	switch w {
	case RMS:
		return "the rms value of "
	case Peak:
		return "the peak value of "
	case PeakToPeak:
		return "the peak-to-peak value of "
	}
	return ""
}

// String gives the tag as it is written after a unit: "rms", "pk", "pp".
func (w Wave) String() string {
	switch w {
	case RMS:
		return "rms"
	case Peak:
		return "pk"
	case PeakToPeak:
		return "pp"
	}
	return ""
}
