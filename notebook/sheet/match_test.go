package sheet

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// typed makes a page of lines of words set 10 points high, blanks between.
func typed(lines ...string) *Page {
	p := &Page{Number: 1, Width: 600, Height: 800}
	for i, text := range lines {
		var l Line
		x := 50.0
		for _, w := range splitBlanks(text) {
			if w == "" { // an extra blank widens the gap
				x += 12
				continue
			}
			width := 5 * float64(len([]rune(w)))
			l.Words = append(l.Words, Word{Text: w, Size: 10,
				Box: Box{Page: 1, X0: x, Y0: 50 + 14*float64(i), X1: x + width, Y1: 58 + 14*float64(i)}})
			x += width + 3
		}
		p.Lines = append(p.Lines, l.sum(1))
	}
	return p
}

func splitBlanks(s string) []string {
	var out []string
	word := ""
	for _, r := range s {
		if r != ' ' {
			word += string(r)
			continue
		}
		out = append(out, word)
		word = ""
	}
	return append(out, word)
}

func TestQuotes(t *testing.T) {
	for _, c := range []struct {
		page  []string
		quote string
		found bool
	}{
		{[]string{"Dropout voltage 130 250 mV"}, "Dropout voltage", true},
		{[]string{"DROPOUT VOLTAGE"}, "Dropout voltage", true},
		{[]string{"the dropout", "voltage rises"}, "Dropout voltage", true},
		{[]string{"the low-drop-", "out regulator"}, "low-dropout regulator", true},
		{[]string{"a two-", "layer board"}, "two-layer board", true},
		{[]string{"Quies\u00adcent current"}, "Quiescent current", true},
		{[]string{"Dropout voltage(1)"}, "Dropout voltage", true},
		{[]string{"Dropout voltage1"}, "Dropout voltage", true},
		{[]string{"Input voltages"}, "Input voltage", true}, // a long quote may end inside a word
		{[]string{"10 µ A"}, "10 µA", true},
		{[]string{"10 μA"}, "10 µA", true},
		{[]string{"R = 4.7 kΩ"}, "4.7 kΩ", true},
		{[]string{"T = −40 °C"}, "-40 °C", true},
		{[]string{"eﬃcient"}, "efficient", true},
		{[]string{"supply of 3.3 V"}, "3 V", false},
		{[]string{"supply of 33 V"}, "3 V", false},
		{[]string{"supply of 1.3 V"}, "3 V", false},
		{[]string{"5 mW"}, "5 MW", false}, // the case of units counts
		{[]string{"stage"}, "age", false},
		{[]string{"3 V and 4 V"}, "3 V", true},
		{[]string{"up to 3.0"}, "3", false},
		{[]string{"up to 3."}, "3", true},
		{[]string{"Load regulation"}, "Line regulation", false},
	} {
		p := typed(c.page...)
		text, quote := foldPage(p), foldQuote(c.quote)
		require.Equal(t, c.found, len(findQuote(p, &text, &quote)) > 0, "%q in %q", c.quote, c.page)
	}
}

// TestQuoteInCell finds words that wrap inside a table cell while the line goes on.
func TestQuoteInCell(t *testing.T) {
	p := typed("Quiescent  no load  15  25", "current")
	text, quote := foldPage(p), foldQuote("Quiescent current")
	found := findQuote(p, &text, &quote)
	require.Len(t, found, 1)
	require.Len(t, found[0].boxes, 2)
}

func TestNumbers(t *testing.T) {
	num := func(text string, v float64, unit string) Number { return Number{Text: text, Value: v, Unit: unit} }
	for _, c := range []struct {
		page  []string
		n     Number
		found bool
	}{
		{[]string{"max. 250 mV"}, num("0.25", 0.25, "V"), true},
		{[]string{"max. 250 mV"}, num("250", 250, "V"), false},
		{[]string{"max. 250mV"}, num("250", 250, "mV"), true},
		{[]string{"2.7V to 5.5V"}, num("5.5", 5.5, "V"), true},
		{[]string{"2.7 to 5.5 V"}, num("2.7", 2.7, "V"), true},
		{[]string{"2.7-5.5 V"}, num("5.5", 5.5, "V"), true},
		{[]string{"2.7-5.5 V"}, num("-5.5", -5.5, "V"), false},
		{[]string{"2.7 V...5.5 V"}, num("2.7", 2.7, "V"), true},
		{[]string{"−40 °C to +125 °C"}, num("-40", -40, "°C"), true},
		{[]string{"−40 °C to +125 °C"}, num("40", 40, "°C"), false},
		{[]string{"−40 to +125 °C"}, num("125", 125, "degC"), true},
		{[]string{"-40~85°C"}, num("85", 85, "°C"), true},
		{[]string{"± 2 %"}, num("-2", -2, "%"), true},
		{[]string{"±2%"}, num("2", 2, "%"), true},
		{[]string{"33 V"}, num("3", 3, "V"), false},
		{[]string{"3.3 V"}, num("3", 3, "V"), false},
		{[]string{"R3 and U3"}, num("3", 3, ""), false},
		{[]string{"1,5 V"}, num("1.5", 1.5, "V"), false},
		{[]string{"1,5 V"}, num("5", 5, "V"), false},
		{[]string{"10,000 h"}, num("10000", 10000, "h"), true},
		{[]string{"195 °C/W"}, num("195", 195, "K/W"), true},
		{[]string{"10 µ A"}, num("10", 10, "µA"), true},
		{[]string{"10 uA"}, num("0.01", 0.01, "mA"), true},
		{[]string{"4.7 kohm"}, num("4.7", 4.7, "kΩ"), true},
		{[]string{"0.7 x VDD"}, num("0.7", 0.7, ""), true},
		{[]string{"0.7VDD"}, num("0.7", 0.7, ""), true},
		{[]string{"VDD + 0.3 V"}, num("0.3", 0.3, "V"), true},
		{[]string{"VSS - 0.3 V"}, num("-0.3", -0.3, "V"), true},
		{[]string{"VSS-0.3 V"}, num("-0.3", -0.3, "V"), true},
		{[]string{"5 nV/√Hz"}, num("5", 5, "nV/√Hz"), true},
		{[]string{"230 V rms"}, num("230", 230, "V rms"), true},
		{[]string{"1E-6 A"}, num("1", 1, "µA"), true},
		{[]string{"page 14"}, num("14", 14, "V"), false},
		{[]string{"Dropout  130  250  mV"}, num("0.13", 0.13, "V"), true},
		{[]string{"Dropout  130  250  mV"}, num("130", 130, "mA"), false},
		{[]string{"Typ (mA)  Max (mA)", "15  25"}, num("25", 25, "mA"), true},
		{[]string{"1.2, 1.5, 1.8", "or 3.3 V"}, num("1.5", 1.5, "V"), true},
		{[]string{"25° C"}, num("25", 25, "°C"), true},
		{[]string{"1100 hPa"}, num("110", 110, "kPa"), true},
		{[]string{".5 V"}, num("0.5", 0.5, "V"), true},
		{[]string{"2025-03-14"}, num("14", 14, "V"), false},
	} {
		v := newView(typed(c.page...))
		require.Equal(t, c.found, len(v.find(newWanted(c.n))) > 0, "%s %s in %q", c.n.Text, c.n.Unit, c.page)
	}
}

func TestMeasures(t *testing.T) {
	for s, want := range map[string]measure{
		"mV": {"V", 1e-3}, "°C/W": {"K W-1", 1}, "K/W": {"K W-1", 1}, "°C": {"°C", 1}, "kΩ": {"Ω", 1e3},
		"ppm/°C": {"K-1 ppm", 1}, "mm2": {"m2", 1e-6},
		"nV/√Hz": {"V √Hz-1", 1e-9}, "mAh": {"Ah", 1e-3}, "": {"", 1}, "Vrms": {"V", 1}, "V/µs": {"V s-1", 1e6}, "MHz": {"Hz", 1e6}, "min": {"s", 60},
	} {
		m, ok := parseMeasure(s)
		require.True(t, ok, s)
		require.Equal(t, want.kind, m.kind, s)
		require.InEpsilon(t, want.factor, m.factor, 1e-12, s)
	}
	for _, s := range []string{"xyz", "VDD", "mm/q", "km%"} {
		_, ok := parseMeasure(s)
		require.False(t, ok, s)
	}
}

func TestPageReferences(t *testing.T) {
	labelled := &header{Pages: 5, Labels: []string{"i", "ii", "1", "2", "2"}}
	plain := &header{Pages: 9}
	for _, c := range []struct {
		q    Query
		h    *header
		want []int
	}{
		{Query{From: "1"}, labelled, []int{3}}, {Query{From: "ii"}, labelled, []int{2}}, {Query{From: "2"}, labelled,
			[]int{4, 5}}, {Query{From: "3"}, labelled, nil},
		{Query{From: "2", Counted: true}, labelled, []int{2}}, {Query{From: "6", Counted: true}, labelled, nil},
		{Query{From: "i", To: "1"}, labelled, []int{1, 2, 3}},
		{Query{From: "4"}, plain, []int{4}}, {Query{From: "4", FirstPage: 3}, plain, []int{6}}, {Query{From: "4",
			FirstPage: 3, Counted: true}, plain, []int{4}},
		{Query{From: "8", FirstPage: 3}, plain, nil}, {Query{From: "2", To: "4"}, plain, []int{2, 3, 4}},
		{Query{From: "4", To: "2"}, plain, nil}, {Query{From: "8", To: "12"}, plain, nil},
		{Query{From: "x"}, plain, nil}, {Query{From: "0"}, plain, nil}, {Query{From: "99999999999999999999"}, plain, nil},
	} {
		require.Equal(t, c.want, cited(c.q, c.h), "%+v", c.q)
	}
}

// TestPageCoding keeps every page through the store, and never takes a damaged one.
func TestPageCoding(t *testing.T) {
	s := newStore(t.TempDir())
	sha := fmt.Sprintf("%064x", 1)
	rapid.Check(t, func(r *rapid.T) {
		coord := rapid.Custom(func(r *rapid.T) float64 { return float64(rapid.IntRange(-100000, 2000000).Draw(r, "c")) / 100 })
		p := Page{Number: rapid.IntRange(1, 9).Draw(r, "n"), Label: rapid.String().Draw(r, "label"),
			Width: coord.Draw(r, "w"), Height: coord.Draw(r, "h")}
		for range rapid.IntRange(0, 3).Draw(r, "lines") {
			var l Line
			for range rapid.IntRange(1, 4).Draw(r, "words") {
				l.Words = append(l.Words,
					Word{Text: rapid.String().Draw(r, "text"), Size: coord.Draw(r, "size"),
						Turn: uint8(rapid.IntRange(0, 4).Draw(r, "turn")),
						Box:  Box{p.Number, coord.Draw(r, "x0"), coord.Draw(r, "y0"), coord.Draw(r, "x1"), coord.Draw(r, "y1")}})
			}
			p.Lines = append(p.Lines, l.sum(p.Number))
		}
		s.savePage(sha, p)
		got, ok := s.loadPage(sha, p.Number)
		require.True(r, ok)
		require.Equal(r, p, got)

		path := s.path(sha, pageEntry(p.Number))
		data, err := os.ReadFile(path)
		require.NoError(r, err)
		i := rapid.IntRange(0, len(data)-1).Draw(r, "at")
		data[i] ^= byte(1 << rapid.IntRange(0, 7).Draw(r, "bit"))
		require.NoError(r, os.WriteFile(path, data, 0o600))
		_, ok = s.loadPage(sha, p.Number)
		require.False(r, ok)
		require.NoError(r, os.WriteFile(path, data[:i], 0o600))
		_, ok = s.loadPage(sha, p.Number)
		require.False(r, ok)
	})
	leftovers, err := filepath.Glob(filepath.Join(s.dir, "*", "*", ".*"))
	require.NoError(t, err)
	require.Empty(t, leftovers)
}

func FuzzFold(f *testing.F) {
	for _, s := range []string{"Dropout voltage", "−40 °C", "10 µA ± 2 %", "1E-6", "\uf06dA", "eﬃ-\ncient", "3.3V..5.5V"} {
		f.Add(s, s)
	}
	f.Fuzz(func(t *testing.T, text, quote string) {
		p := typed(text)
		v := newView(p)
		q := foldQuote(quote)
		for _, s := range findQuote(p, v.text(), &q) {
			require.NotEmpty(t, s.words)
		}
		v.tokens()
		v.tables()
		readSignals(v)
		parseSearch(quote)
	})
}

func TestCheckIsTheSameFromTheStore(t *testing.T) {
	dir := t.TempDir()
	path := put(t, "p.pdf", onePage(stream("", "BT /F 12 Tf 50 200 Td (Dropout voltage 250 mV) Tj ET")))
	qs := []Query{{From: "1", Quote: "Dropout voltage",
		Numbers: []Number{{Text: "0.25", Value: 0.25, Unit: "V", Column: "max"}}},
		{From: "1", Numbers: []Number{{Text: "3", Value: 3, Unit: "V"}}}, {From: "2", Quote: "Dropout voltage"}}
	open := func() (*Reader, Info, []Finding) {
		l := Open(dir)
		l.eng = newEngine(engineCache())
		in, fs, err := l.Check(context.Background(), path, qs)
		require.NoError(t, err)
		return l, in, fs
	}
	cold, in1, fs1 := open()
	warm, in2, fs2 := open()
	require.Equal(t, 1, cold.eng.starts)
	require.Zero(t, warm.eng.starts, "a warm run starts no engine")
	require.Equal(t, in1, in2)
	require.Equal(t, fs1, fs2)
	require.Equal(t, GradeWords, fs1[0].Grade)
	require.Len(t, fs1[0].Boxes, 2)
	require.Equal(t, GradePage, fs1[1].Grade)
	require.Equal(t, []string{"3 V"}, fs1[1].Missing)
	require.Equal(t, GradeNoPage, fs1[2].Grade)
	require.Equal(t, []int{1}, fs1[2].Elsewhere)

	entries, err := filepath.Glob(filepath.Join(dir, storeVersion, "*", "*", "*"))
	require.NoError(t, err)
	require.NotEmpty(t, entries)
	for _, e := range entries {
		require.NoError(t, os.WriteFile(e, []byte("rubbish"), 0o600))
	}
	_, in3, fs3 := open()
	require.Equal(t, in1, in3)
	require.Equal(t, fs1, fs3)
	require.NoError(t, cold.Close())
	require.NoError(t, warm.Close())
}
