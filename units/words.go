package units

import (
	_ "embed"
	"strconv"
	"strings"
	"sync"
)

//go:embed dimensions.txt
var dimensionText string

// dimension is a row of dimensions.txt.
type dimension struct {
	words     string // "a voltage"
	display   *display
	plausible bool
	lo, hi    int // powers of ten between which values are plausible
}

// dimensions are those that have a name or a unit of their own.
var dimensions = sync.OnceValue(func() map[Dim]*dimension {
	out := map[Dim]*dimension{}
	for _, f := range tableRows(dimensionText, 5, 0) {
		d := &dimension{words: f[1], plausible: f[4] != ""}
		d.lo, d.hi = powers(f[4])
		if f[2] != "" {
			k, _, known, err := lookupTable().scanUnit(f[2], 0)
			if !known || err != nil {
				panic("units: bad unit " + f[2])
			}
			d.display = &display{symbol: f[2], factor: k.unit.Factor, one: isOne(k.unit.Factor)}
			d.display.lo, d.display.hi = powers(f[3])
		}
		out[mustDim(f[0])] = d
	}
	area, volume := out[mustDim("m2")].display, out[mustDim("m3")].display
	area.small, area.below = &display{symbol: "mm²", lo: -6}, -2
	volume.small, volume.below = &display{symbol: "mm³", lo: -9}, -4
	return out
})

// powers reads "-15 to 12".
func powers(s string) (lo, hi int) {
	from, to, _ := strings.Cut(s, " to ")
	lo, _ = strconv.Atoi(from)
	hi, _ = strconv.Atoi(to)
	return lo, hi
}

// Words names the type for a message: "a power", "a temperature", "a ratio",
// "a level in dBm"; a dimension without a name is written with base units.
func (t Type) Words() string { return waveWords[t.Wave] + t.plainWords() }

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
	switch t.Sense {
	case Angular:
		return "an angular frequency"
	case Torque:
		return "a torque"
	}
	if d := dimensions()[t.Dim]; d != nil && d.words != "" {
		return d.words
	}
	return "a quantity in " + t.Dim.String()
}

var (
	waveTags  = [...]string{NoWave: "", RMS: "rms", Peak: "pk", PeakToPeak: "pp"}
	waveWords = [...]string{NoWave: "", RMS: "the rms value of ", Peak: "the peak value of ", PeakToPeak: "the peak-to-peak value of "}
)

// String gives the tag as it is written after a unit: "rms", "pk", "pp".
func (w Wave) String() string { return waveTags[w] }
