package units

import (
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"testing"
)

var literalSeeds = []string{
	"3.3 V", "-40 °C", "4.7 kΩ", "230 V rms", "10 %", "5", "4k7 ohm", "1.5×10⁻³ A", "10\u202f000 V", "5 nV/√Hz", "2 W/(m·K)",
	"0x1F", "1e-6 A", "17 % 5", "1 A /V", "3V3", "2πf", "5 dBµV/m", "1 m/s/s", "3,3 V", "1e999 V", "5 √(", "5 V^-", "5 V⁻", "99999999999999999999 µ",
	"5 V/(", "5 V/(m", "5 V*", "5 %/K", "°", "5°", "5 º", "\u2212", "5\u00a0", "5 \u00a0V", "1×10", "1×10^", ".5e+", "0x", "5 rt", "5 K\u212a",
}

var unitSeeds = []string{"kΩ", "V/√Hz", "degC", "W/(m·K)", "1/s", "V rms", "dBµV/m", "m^-9", "√Hz²", "√√Hz", "1/(m",
	"dB/m", "dB²", "mVpp", "%/°C", "1/", "rtHz"}

var valueSeeds = []string{"1.9 V to 5.6 V", "(1.9 to 5.6) V", "3.3 V ± 2 %", "3.3 V +5 % -3 %", "min 2.7 V, typ 3.3 V, max 3.6 V",
	"41.2 mA ± (1.2 % + 3 µA)", "max ± 2 mV", "1.9 V min", "± 2 °C", "min(2 V, 3 V)", `net("a`, "X ± 2 %", "10 V -1 V",
	"(", ") to (", ",", "min,", "± (", "± ( + )"}

var markingSeeds = []string{"4k7", "R47", "0R", "100n", "4µ7", "470", "3L3", "", "k", "4k7J", "999999999999999999k9"}

// checkError holds an error to its promises.
func checkError(t *testing.T, s string, err *Error) {
	if err.Off < 0 || err.End < err.Off || err.End > len(s) || err.Code == "" || err.Msg == "" {
		t.Fatalf("%q: bad error %+v", s, err)
	}
}

func FuzzScanLiteral(f *testing.F) {
	for _, s := range literalSeeds {
		f.Add(s, true)
	}
	f.Fuzz(func(t *testing.T, s string, signed bool) { checkLiteral(t, s, signed) })
}

func checkLiteral(t *testing.T, s string, signed bool) {
	q, end, ok, err := ScanLiteral(s, 0, signed)
	if err != nil {
		checkError(t, s, err)
		if !ok || end < 0 || end > len(s) {
			t.Fatalf("%q: end %d, ok %v", s, end, ok)
		}
		return
	}
	if !ok {
		if end != 0 {
			t.Fatalf("%q: nothing read, end %d", s, end)
		}
		return
	}
	if end <= 0 || end > len(s) || q.Text != s[:end] || q.SI == nil {
		t.Fatalf("%q: end %d, text %q", s, end, q.Text)
	}
	alone, stop, ok, err := ScanLiteral(s[:end], 0, signed)
	if err != nil || !ok || stop != end || alone.SI.Cmp(q.SI) != 0 || alone.Type != q.Type {
		t.Fatalf("%q alone reads differently: %v %v", s[:end], alone, err)
	}
	printed := q.String()
	again, err := ParseLiteral(printed)
	if err != nil || again.SI.Cmp(q.SI) != 0 || again.Type != q.Type {
		t.Fatalf("%q printed as %q: %v", s[:end], printed, err)
	}
}

func FuzzParseUnit(f *testing.F) {
	for _, s := range unitSeeds {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) { checkUnit(t, s) })
}

func checkUnit(t *testing.T, s string) {
	u, err := ParseUnit(s)
	if err != nil {
		checkError(t, s, err)
		return
	}
	if u.Factor == nil || u.Factor.Sign() <= 0 {
		t.Fatalf("%q: factor %v", s, u.Factor)
	}
	for _, spelled := range []string{u.Symbol, asciiUnit(u.Symbol)} {
		if spelled == "" {
			continue
		}
		again, err := ParseUnit(spelled + " " + u.Type.Wave.String())
		if err != nil || again.Type != u.Type || again.Factor.Cmp(u.Factor) != 0 {
			t.Fatalf("%q printed as %q: %v", s, spelled, err)
		}
	}
}

func FuzzParseValue(f *testing.F) {
	for _, s := range slices.Concat(valueSeeds, literalSeeds) {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) { checkValue(t, s) })
}

func checkValue(t *testing.T, s string) {
	p, err := Split(s)
	if err != nil {
		checkError(t, s, err)
	} else {
		checkParts(t, s, p)
	}
	v, err := ParseValue(s)
	if err != nil {
		checkError(t, s, err)
		return
	}
	if v.Min != nil && v.Max != nil && v.Min.SI.Cmp(v.Max.SI) > 0 {
		t.Fatalf("%q: %v above %v", s, v.Min, v.Max)
	}
	for _, q := range []*Quantity{v.Min, v.Typ, v.Max} {
		if q == nil {
			continue
		}
		if _, err := ParseLiteral(Format(q.SI, q.Type, Style{ASCII: true})); err != nil {
			t.Fatalf("%q: %s: %v", s, Format(q.SI, q.Type, Style{ASCII: true}), err)
		}
	}
}

func checkParts(t *testing.T, s string, p Parts) {
	leaves := append([]Leaf{p.Single, p.Lo, p.Hi, p.Unit, p.Centre, p.Min, p.Typ, p.Max, p.MaxDev}, p.Plus...)
	for _, l := range append(leaves, p.Minus...) {
		if l.Off < 0 || l.End < l.Off || l.End > len(s) || l.Present() && l.Off == l.End {
			t.Fatalf("%q: bad leaf %+v", s, l)
		}
	}
	ok := true
	switch p.Shape {
	case Single:
		ok = p.Single.Present()
	case Range:
		ok = p.Lo.Present() && p.Hi.Present()
	case Deviated:
		ok = len(p.Plus) > 0 && len(p.Minus) > 0
	case Columns:
		ok = p.Min.Present() || p.Typ.Present() || p.Max.Present() || p.MaxDev.Present()
	}
	if !ok {
		t.Fatalf("%q: empty parts %+v", s, p)
	}
}

func FuzzParseMarking(f *testing.F) {
	for _, s := range markingSeeds {
		f.Add(s, uint8(0))
		f.Add(s, uint8(1))
	}
	f.Fuzz(func(t *testing.T, s string, k uint8) { checkMarking(t, s, k) })
}

func checkMarking(t *testing.T, s string, k uint8) {
	kind := []string{"resistor", "capacitor", "inductor", "relay"}[k%4]
	if _, err := ParseMarking(s, kind); err != nil {
		checkError(t, s, err)
	}
}

// TestMutatedSeeds holds the fuzz targets to seeds that are cut, joined and
// changed at random, from a fixed seed: 20 000 a target, or as many as
// GUARDBAND_EXECUTIONS says in total, starting from GUARDBAND_SEED.
func TestMutatedSeeds(t *testing.T) {
	total, seed := 80_000, uint64(1)
	if n, err := strconv.Atoi(os.Getenv("GUARDBAND_EXECUTIONS")); err == nil {
		total = n
	}
	if n, err := strconv.ParseUint(os.Getenv("GUARDBAND_SEED"), 10, 64); err == nil {
		seed = n
	}
	m := mutator{rand.New(rand.NewPCG(seed, 2)), slices.Concat(literalSeeds, unitSeeds, valueSeeds, markingSeeds)}
	for range total / 4 {
		s := m.text()
		checkLiteral(t, s, m.IntN(2) == 0)
		checkUnit(t, m.text())
		checkValue(t, s)
		checkMarking(t, m.text(), uint8(m.IntN(4)))
	}
}

type mutator struct {
	*rand.Rand
	seeds []string
}

// text joins parts of one to three seeds and changes a few bytes.
func (m mutator) text() string {
	var b []byte
	for range 1 + m.IntN(3) {
		s := m.seeds[m.IntN(len(m.seeds))]
		from := m.IntN(len(s) + 1)
		if m.IntN(2) == 0 {
			from = 0
		}
		b = append(b, s[from:from+m.IntN(len(s)-from+1)]...)
	}
	const alphabet = "0123456789 .,+-/*^()%eExVAkKmMGRFµΩ°√"
	for range m.IntN(4) {
		if len(b) == 0 {
			break
		}
		at := m.IntN(len(b))
		switch m.IntN(4) {
		case 0:
			b[at] = byte(m.IntN(256))
		case 1:
			b = slices.Delete(b, at, at+1)
		default:
			b[at] = alphabet[m.IntN(len(alphabet))]
		}
	}
	return string(b)
}
