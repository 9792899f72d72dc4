package eval

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/eval/circuit"
	"guardband/eval/record"
)

// placedNotes is a note of an invented driver; rows go into its circuit block.
func placedNotes(rows string) string {
	return "```part DRV\ntitle: driver\norder: DRV-S4\npackage: SOT23-4\noperating V_DD = 2.7 V to 3.6 V\npins:\n" +
		"  1 VDD supply V_DD\n  2 GND ground\n  3 Q output\n  4 D input\n```\n\n" +
		"```values\nVCC = 3.3 V ± 5 %\n```\n\n```circuit\nplaced from: pins.csv\nplaced from: parts.csv\n" + rows + "```\n"
}

const (
	placedPins = "Ref,Pin,Net,Pin name\nU1,1,+3V3,VDD\nU1,2,GND,GND\nU1,3,/SIG,Q\nU1,4,IN,D\nU2,1,+3V3,VDD\nU2,2,GND,GND\nU2,3,IN,Q\n" +
		"U2,4,/SIG,D\nR1,1,/SIG,\nR1,2,GND,\nC1,1,+3V3,\nC1,2,GND,\nJ1,1,GND,\nD1,1,GND,\nD1,2,LIT,\n"
	placedList = "Ref,Value,Footprint,MPN,DNP\n\"U1, U2\",DRV,SOT23-4,DRV-S4,\nR1,4k7 1%,R0402,,\nC1,100nF 10% 16V X7R,C0402,,\n" +
		"J1,HDR,HDR-1,,\nD1,red,LED0603,,\nR9,10k,R0402,,DNP\n"
	placedNets = "nets: \"+3V3\" = VCC\n"
)

func placed(t *testing.T, rows string, change ...string) *record.Record {
	t.Helper()
	pins, list := placedPins, placedList
	for i := 0; i+1 < len(change); i += 2 {
		require.Contains(t, pins+list, change[i])
		pins, list = strings.ReplaceAll(pins, change[i], change[i+1]), strings.ReplaceAll(list, change[i], change[i+1])
	}
	return compileFolder(t, map[string]string{"board.md": placedNotes(rows), "pins.csv": pins, "parts.csv": list})
}

func requireClean(t *testing.T, r *record.Record) {
	t.Helper()
	require.Zero(t, r.Summary.Errors, "%v", r.Diagnostics)
}

func TestPlacedFromFiles(t *testing.T) {
	r := placed(t, placedNets)
	requireClean(t, r)
	by := map[string]record.Placement{}
	for _, p := range r.Placements {
		by[p.Ref] = p
	}
	require.Equal(t, "DRV", by["U2"].Part)
	require.True(t, strings.HasSuffix(by["U2"].From, "/parts.csv:2"), by["U2"].From)
	require.Equal(t, "resistor", by["R1"].Part)
	require.Equal(t, "4.7 kΩ ± 1 %, 0402", by["R1"].Text)
	require.Equal(t, []record.Field{{Name: "1", Value: "SIG"}, {Name: "2", Value: "GND"}}, by["R1"].Nets)
	require.Equal(t, "100 nF ± 10 %, 16 V, X7R, 0402", by["C1"].Text)
	require.Equal(t, circuit.WithoutNote, by["D1"].Part)
	require.Equal(t, "red", by["D1"].Text)
	require.Contains(t, by["R9"].Text, "do not populate")
	require.Len(t, by, 7)
	for _, e := range [][]string{{"passed", "supply-range.U1.VDD"}, {"passed", "pin-list.U1"}, {"passed", "drivers.SIG"}, {"passed", "pin-map.U1"}} {
		requireClaim(t, r, e)
	}
}

// A pin of the file that the note has otherwise is told.
func TestPlacedPinsAreThoseOfTheNote(t *testing.T) {
	requireClaim(t, placed(t, placedNets, "U1,3,/SIG,Q", "U1,3,/SIG,OE"), []string{"failed", "pin-list.U1", "named OE in the file, Q in the notes"})
	requireClaim(t, placed(t, placedNets, "U1,4,IN,D\n", ""), []string{"failed", "pin-list.U1", "pin 4 (D) is missing"})
}

// A part that a row places is the one that the list orders.
func TestPlacedPartIsTheOneOrdered(t *testing.T) {
	requireClaim(t, placed(t, placedNets), []string{"passed", "parts-list.U1"})
	requireClaim(t, placed(t, placedNets+"U1  DRV\n", "SOT23-4,DRV-S4", "SOT23-4,DRV-S5"), []string{"failed",
		"parts-list.U1", "the file orders DRV-S5"})
	requireClaim(t, placed(t, placedNets, "SOT23-4,DRV-S4", "SO-8,DRV-S4"), []string{"failed", "parts-list.U1", "the file has package SO-8"})
}

// A row adds to what the files say, or overrules it.
func TestPlacedRowsComeFirst(t *testing.T) {
	r := placed(t, placedNets+"U1  DRV  D=VCC  in use: I_OH <= 1 mA\nJ1  connector\nD1  LED\nR1  resistor 2k ± 1 %\n")
	requireClean(t, r)
	for _, p := range r.Placements {
		switch p.Ref {
		case "U1":
			require.Len(t, p.Nets, 4)
			require.Contains(t, p.From, "the row overrules pins 4")
			require.Equal(t, "I_OH <= 1 mA", p.InUse)
		case "R1":
			require.Equal(t, "2k ± 1 %", p.Text)
			require.Len(t, p.Nets, 2)
		case "D1":
			require.Equal(t, "LED", p.Part)
			require.Len(t, p.Nets, 2)
		}
	}
	requireClaim(t, r, []string{"passed", "pin-list.U1"})
}

// A part without a note may do anything on its nets: what it has a say in is
// open, and neither passes nor fails.
func TestPlacedPartWithoutNote(t *testing.T) {
	const other = "D1,2,LIT,\n"
	for _, net := range []string{"/SIG", "IN"} {
		r := placed(t, placedNets, other, other+"U7,1,"+net+",\nU7,2,GND,\n")
		requireClean(t, r)
		requireClaim(t, r, []string{"open", "drivers." + strings.TrimPrefix(net, "/"), "U7"})
		requireClaim(t, r, []string{"passed", "supply-range.U1.VDD"})
	}
	// behind a resistor
	r := placed(t, placedNets, "R1,2,GND,", "R1,2,FAR,", other, other+"U7,1,FAR,\nU7,2,GND,\n")
	requireClaim(t, r, []string{"open", "drivers.SIG", "U7"})
	// a supply without a capacitor that is known
	requireClaim(t, placed(t, placedNets, "R9,10k", "C1,??,,\nR9,10k", "C1,100nF 10% 16V X7R,C0402,,\n", ""),
		[]string{"open", "decoupling.U1.VDD", "C1"})
	// a designator that no row can have
	r = placed(t, placedNets, other, other+"REF**,1,IN,\nUSB-A1,1,IN,\nUSB-A1,2,GND,\n", "R9,10k", "USB-A1,100nF 10% X7R,C0402,DRV-S4,\nR9,10k")
	requireClean(t, r)
	requireClaim(t, r, []string{"open", "drivers.IN", "USB-A1"})
	// an input that only it may drive is not told to float
	r = placed(t, placedNets, "U2,3,IN,Q", "U2,3,OUT2,Q", other, other+"U7,1,IN,\nU7,2,GND,\n")
	requireClaim(t, r, []string{"open", "unused-inputs.U1", "U7"})
	r = placed(t, placedNets, "U2,3,IN,Q", "U2,3,OUT2,Q")
	requireClaim(t, r, []string{"failed", "unused-inputs.U1"})
}

// Nor does a claim of the notes pass that asks the voltage of its net.
func TestPlacedPartWithoutNoteInFormulas(t *testing.T) {
	ask := "```\n\n```claim low\nstatement: it is low.\ncriterion: net(\"LIT\") <= 9 V\n"
	requireClaim(t, placed(t, placedNets+ask), []string{"open", "low"})
	requireClaim(t, placed(t, placedNets+ask, "D1,1,GND,\nD1,2,LIT,", "D1,1,GND,\nR2,1,LIT,\nR2,2,FAR,\nD1,2,FAR,",
		"R9,10k", "R2,1k 1%,R0402,,\nR9,10k"), []string{"open", "low"})
}

// A budget does not know what it takes.
func TestPlacedPartWithoutNoteInBudgets(t *testing.T) {
	ask := "```\n\n```budget VCC\nU1  1 mA\nU2  1 mA\n```\n\n```claim few\nstatement: it is little.\ncriterion: budget(\"VCC\").peak <= 1 A\n"
	requireClaim(t, placed(t, placedNets+ask), []string{"passed", "few"})
	requireClaim(t, placed(t, placedNets+ask, "D1,2,LIT,", "D1,2,+3V3,"), []string{"open", "few", "the budget has no row for D1"})
}

// A part whose note has no pins takes what it likes, placed by a row or a file.
func TestPartWithoutPinsIsAStranger(t *testing.T) {
	for _, row := range []string{"U1  EMPTY  1=A 2=GND", "U1  EMPTY  1=A 2=GND\nR2  resistor 1k ± 1 %  A GND"} {
		r := compileFolder(t, map[string]string{"board.md": "```part EMPTY\ntitle: gate\norder: EMPTY\n```\n\n```values\nVCC = 3.3 V\n```\n\n```circuit\n" +
			"R1  resistor 1k ± 1 %  VCC A\n" + row + "\n```\n\n```claim cold\nstatement: it is cold.\ncriterion: net(\"A\") >= 1 V\n```\n"})
		requireClean(t, r)
		requireClaim(t, r, []string{"open", "cold"})
	}
}

// What a value can be taken for is taken only where nothing else is meant.
func TestPlacedKindByValue(t *testing.T) {
	for _, x := range []struct{ ref, value, pack, part, text string }{
		{"R1", "4k7 1%", "R0402", "resistor", "4.7 kΩ ± 1 %, 0402"},
		{"R1", "4k7", "R0402", "resistor", "0402"}, // how far off is not said
		{"R1", "10k NTC 1%", "R0402", circuit.WithoutNote, ""},
		{"R1", "4,700 1%", "R0402", circuit.WithoutNote, ""},
		{"R1", "0R", "R0402", "resistor", "0R, 0402"},
		{"R1", "zero ohm jumper", "R0402", "resistor", "0R, 0402"},
		{"C1", "10pF ±0.5pF C0G", "C0402", "capacitor", "C0G, 0402"},
		{"C1", "10uF -20% +80% Y5V", "C0805", "capacitor", "Y5V, 0805"},
		{"R1", "SHUNT", "", circuit.WithoutNote, ""},
		{"C1", "10uF 20% 16V", "CASE-D", circuit.WithoutNote, ""},
		{"C1", "10uF 20% 6.3V", "C0805", "capacitor", "10 µF ± 20 %, 6.3 V, 0805"},
		{"C1", "1m5", "C0805", circuit.WithoutNote, ""},
		{"C1", "POLYMER 100nF 20%", "", circuit.WithoutNote, ""},
		{"D1", "10k 1%", "R0402", circuit.WithoutNote, ""},
	} {
		old := map[string]string{"R1": "R1,4k7 1%,R0402", "C1": "C1,100nF 10% 16V X7R,C0402", "D1": "D1,red,LED0603"}[x.ref]
		r := placed(t, placedNets+"tolerances: capacitor 1 %\n", old, x.ref+",\""+x.value+"\","+x.pack)
		requireClean(t, r)
		for _, p := range r.Placements {
			if p.Ref == x.ref {
				require.Equal(t, x.part, p.Part, x.value)
				if x.part != circuit.WithoutNote {
					require.Equal(t, x.text, p.Text, x.value)
				}
			}
		}
	}
	r := placed(t, placedNets+"tolerances: resistor 5 %\n", "4k7 1%", "4k7")
	require.Contains(t, r.Placements[4].Text+r.Placements[2].Text, "4.7 kΩ ± 5 %")
}

func TestPlacedFilesThatCannotBe(t *testing.T) {
	for _, x := range []struct{ rows, from, to, says string }{
		{"pin list: pins.csv\n", "", "", "places parts, and is compared with them"},
		{"parts list: ./parts.csv\n", "", "", "places parts, and is compared with them"},
		{"", "U1,4,IN,D", "U1,4,IN,D\nU1,4,GND,D", "pin 4 of U1 is on IN and on GND"},
		{"", "R9,10k", "R1,10k", "R1 appears twice"},
		{"", "0402,,DNP", "0402,,perhaps", "does not say whether R9 is fitted"},
		{"", "U1,4,IN,D", "U1,4,IN,D\nU1,9,IN,X", "has no pin `9`"},
		{"", "R1,2,GND,", "R1,2,GND,\nR1,3,IN,", ""}, // no resistor then
		{"R1  resistor 1k ± 1 %\n", "R1,2,GND,", "R1,2,GND,\nR1,3,IN,", "joins 3 nets"},
		{"nets: \"+9V\" = V9\n", "", "", "no file has a net `+9V`"},
		{"nets: \"/SIG\" = +S\n", "", "", "does not name a net"},
		{"nets: \"/SIG\" = IN\n", "", "", "are two nets of the file"},
		{"tolerances: resistor lots\n", "", "", "does not state the tolerance"},
	} {
		change := []string{}
		if x.from != "" {
			change = []string{x.from, x.to}
		}
		r := placed(t, x.rows, change...)
		if x.says == "" {
			requireClean(t, r)
			continue
		}
		found := false
		for _, d := range r.Diagnostics {
			if strings.Contains(d.Message, x.says) {
				found = true
				require.NotZero(t, d.Line, x.says)
				require.NotEmpty(t, d.Source, x.says)
			}
		}
		require.True(t, found, "%s: %v", x.says, r.Diagnostics)
	}
}
