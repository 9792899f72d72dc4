package checks

import (
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/eval"
	"guardband/eval/circuit"
	"guardband/eval/record"
	"guardband/notebook"
)

// said is what a claim comes to before anything is worked out: the verdict of
// each criterion that is a matter of looking, the text of each that is asked in
// the language, and the reason of each open point.
func said(cl *eval.Claim) []string {
	var out []string
	for _, k := range cl.Out.Criteria {
		if k.Verdict != "" {
			out = append(out, string(k.Verdict))
		} else {
			out = append(out, k.Text)
		}
	}
	for _, p := range cl.Out.Open {
		out = append(out, "open: "+p.Reason)
	}
	return out
}

// Each check alone, on a board of a few parts.
func TestChecksAlone(t *testing.T) {
	limit := func(f *fake) {
		p, _ := f.circuit.Parts.Get("P")
		p.FactOrder = append(p.FactOrder, &circuit.Fact{Part: p, Section: "operating", Name: "VDD", Rows: []*notebook.Entry{entry("")}})
	}
	status := func(text string) func(*fake) {
		return func(f *fake) { f.circuit.Parts.List[0].Status = text }
	}
	part := "P: VDD supply, GND ground, A input"
	for _, k := range []struct {
		name  string
		check *eval.Check
		known string
		rows  []string
		with  func(*fake)
		want  [][]string // of each claim
	}{
		{"a supply without a range", supplyRange, "V3V0", []string{part, "U1 P VDD=V3V0"}, nil, [][]string{{"open: no fact"}}},
		{"a supply inside its range", supplyRange, "V3V0", []string{part, "U1 P VDD=V3V0"}, limit, [][]string{{"V3V0 inside U1.operating.VDD"}}},
		{"a supply of unknown voltage", supplyRange, "", []string{part, "U1 P VDD=V3V0"}, limit, [][]string{{"open: no value"}}},
		{"a part in production", lifecycle, "", []string{part, "U1 P VDD=V"}, status("active, 2026-03-01"), [][]string{{"passed"}}},
		{"an obsolete part", lifecycle, "", []string{part, "U1 P VDD=V"}, status("obsolete, 2026-03-01"), [][]string{{"failed"}}},
		{"a status without a day", lifecycle, "", []string{part, "U1 P VDD=V"}, status("active"), [][]string{{"passed", "open: no date"}}},
		{"an input without a net", unusedInputs, "V", []string{part, "U1 P VDD=V GND=GND"}, nil, [][]string{{"failed"}}},
		{"an input tied to a supply", unusedInputs, "V", []string{part, "U1 P VDD=V GND=GND A=V"}, nil, [][]string{{"passed"}}},
		{"an input behind a connector", unusedInputs, "V", []string{part, "J: X passive", "U1 P VDD=V GND=GND A=N", "J1 J X=N"}, nil,
			[][]string{{"open: no fact"}}},
		{"two outputs on a net", drivers, "", []string{"O: Y output", "U1 O Y=N", "U2 O Y=N"}, nil, [][]string{{"failed"}}},
		{"an output and an input", drivers, "", []string{"O: Y output", part, "U1 O Y=N", "U2 P A=N"}, nil, [][]string{{"passed"}}},
		{"an output on the return", drivers, "", []string{"O: Y output", "U1 O Y=GND"}, nil, [][]string{{"failed"}}},
		{"contacts of a plug on one net", usbContacts, "", []string{"J: CC1 passive, CC2 passive", "J1 J CC1=C CC2=C"}, nil, [][]string{{"failed"}}},
		{"contacts of a plug with a resistor each", usbContacts, "",
			[]string{"J: CC1 passive, CC2 passive", "J1 J CC1=A CC2=B", "R1 resistor A GND", "R2 resistor B GND"}, nil,
			[][]string{{"R1 inside 4.59 kΩ to 5.61 kΩ", "R2 inside 4.59 kΩ to 5.61 kΩ"}}},
		{"sections that are not noted", sixSectionsNoted, "", []string{part, "U1 P VDD=V"}, nil, [][]string{{"open: no fact"}}},
		{"sections that are", sixSectionsNoted, "", []string{part, "U1 P VDD=V"}, func(f *fake) {
			f.sections = map[string]record.Section{}
			for _, s := range record.SheetSections {
				f.sections[s] = record.Section{Noted: true}
			}
		}, [][]string{{"passed"}}},
		{"a thermal pad of which nothing is said", exposedPad, "", []string{"E: EP analog", "U1 E EP=GND"}, nil, [][]string{{"open: no fact"}}},
		{"a thermal pad that stays open", exposedPad, "", []string{"E: EP analog", "U1 E EP=GND"}, func(f *fake) {
			f.circuit.Parts.List[0].Attrs["exposed pad"] = entry("open")
		}, [][]string{{"failed"}}},
		{"supplies of one net", supplySequence, "", []string{"S: V1 supply, V2 supply", "U1 S V1=V V2=V"}, func(f *fake) {
			f.circuit.Parts.List[0].Pins[1].Row.More = []notebook.Text{{S: "after V1"}}
		}, [][]string{{"passed"}}},
		{"supplies whose order nothing makes", supplySequence, "", []string{"S: V1 supply, V2 supply", "U1 S V1=V V2=W"}, func(f *fake) {
			f.circuit.Parts.List[0].Pins[1].Row.More = []notebook.Text{{S: "after V1"}}
		}, [][]string{{"open: no fact"}}},
	} {
		t.Run(k.name, func(t *testing.T) {
			f := newFake(k.known, k.rows...)
			if k.with != nil {
				k.with(f)
			}
			var got [][]string
			for _, cl := range f.run(k.check) {
				got = append(got, said(cl))
			}
			require.Equal(t, k.want, got)
		})
	}
}

// The registry names each check once, with a rule and a source.
func TestRegistry(t *testing.T) {
	seen := map[string]bool{}
	for _, k := range All() {
		require.False(t, seen[k.Name], k.Name)
		require.NotEmpty(t, k.Rule, k.Name)
		require.NotEmpty(t, k.Source, k.Name)
		require.NotNil(t, k.Run, k.Name)
		seen[k.Name] = true
	}
}
