package units

import (
	_ "embed"
	"math/big"
	"strings"
	"sync"
)

// Reference is what 0 dB of an absolute level stands for.
type Reference struct {
	Ref   string // as after "dB": "m", "V", "µV"
	Name  string
	Value *big.Rat // SI; nil where the level stands for a ratio to something unstated
	Type  Type     // of Value; voltages and currents are rms values
	Step  int      // decibels per decade: 10 for powers, 20 for amplitudes
}

//go:embed levels.txt
var levelText string

// levelTable is levels.txt by rows.
var levelTable = sync.OnceValue(func() [][]string { return tableRows(levelText, 7, 6) })

func levelRows() (out []row) {
	for _, f := range levelTable() {
		spell := "dB" + strings.ReplaceAll(f[0], " ", " dB")
		ref, _, _ := strings.Cut(f[0], " ")
		out = append(out, row{spellings: spell, name: f[1], factor: "1", source: f[6], kind: Level, ref: ref})
	}
	return out
}

// LevelReference tells what 0 dB of levels with this Type.Ref stands for.
// The reference of dBu is irrational and given to 60 digits.
func LevelReference(ref string) (Reference, bool) {
	for _, f := range levelTable() {
		if own, _, _ := strings.Cut(f[0], " "); own != ref {
			continue
		}
		r := Reference{Ref: ref, Name: f[1], Step: mustInt(f[4]), Type: Type{Dim: mustDim(f[2])}}
		if f[5] != "" {
			r.Type.Wave = RMS
		}
		if f[3] != "" {
			r.Value, _ = mustFactor(f[3])
		}
		return r, true
	}
	return Reference{}, false
}
