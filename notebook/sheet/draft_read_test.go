package sheet

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// TestPackageNames reads captions and headings; a sentence names no package.
func TestPackageNames(t *testing.T) {
	for text, want := range map[string][2]string{
		"Package dimensions, SC70-5": {"SC70-5", ""},
		"Outline drawing, DFN4 1x1 + EP, top view and side view, dimensions in millimetres": {"DFN4 1x1 + EP", ""},
		"8  Package SC70-5 (code D5)":                       {"SC70-5", "D5"},
		"SOIC8 (code S8)":                                   {"SOIC8", "S8"},
		"Table 12. Mechanical data of QFN24":                {"QFN24", ""},
		"Figure 3: Package outline – box, pitch 15 mm":      {"box, pitch 15 mm", ""},
		"Package dimensions, 3.2 x 1.5, two pads":           {"3.2 x 1.5, two pads", ""},
		"Package and ordering information":                  {"", ""},
		"The package is soldered to ground.":                {"", ""},
		"Dimensions in millimetres":                         {"", ""},
		"Outline drawing, top view, dimensions in inches":   {"", ""},
		"Package options":                                   {"", ""},
		"Mechanical data":                                   {"", ""},
		"Packages are delivered dry, see page 4.":           {"", ""},
		"Package dimensions, in the table, are nominal and": {"in the table, are nominal and", ""}, // a sentence that breaks off cannot be told
	} {
		name, code, ok := namesPackage(text)
		require.Equal(t, want[0], name, text)
		require.Equal(t, want[0] != "", ok, text)
		if ok {
			require.Equal(t, want[1], code, text)
		}
	}
}

// TestSizesByLetter reads dimension tables that print letters alone.
func TestSizesByLetter(t *testing.T) {
	flat := map[string]bool{"A": true, "D": true, "D1": true, "E": true, "E1": true, "e": true}
	leads := map[string]bool{"A": true, "D": true, "E": true, "E1": true}
	none := map[string]bool{"A": true, "D": true, "E": true, "D2": true}
	for _, c := range []struct {
		letter string
		all    map[string]bool
		want   SizeOf
	}{
		{"D1", flat, BodyLength}, {"E1", flat, BodyWidth}, {"D", flat, ""}, {"E", flat, ""}, {"A", flat, BodyHeight}, {"e", flat, LeadPitch},
		{"D", leads, BodyLength}, {"E", leads, ""}, {"E1", leads, BodyWidth},
		{"D", none, BodyLength}, {"E", none, BodyWidth}, {"D2", none, PadLength}, {"b", none, ""},
	} {
		require.Equal(t, c.want, byLetter(c.letter, "", c.all), "%s of %v", c.letter, c.all)
	}
	require.Equal(t, SizeOf(""), byLetter("D", "Span", none), "words count before letters")
}

// TestPinRuns opens lines that stand for several pins.
func TestPinRuns(t *testing.T) {
	open := func(number, name string) (out []string) {
		for _, p := range (DraftPin{Number: number, Name: name}).open() {
			out = append(out, p.Number+" "+p.Name)
		}
		return out
	}
	require.Equal(t, []string{"3 P08", "4 P09", "5 P10"}, open("3 to 5", "P08 to P10"))
	require.Equal(t, []string{"A1 D0", "A2 D1"}, open("A1–A2", "D0 – D1"))
	require.Equal(t, []string{"17-24 NC"}, open("17 to 24", "NC"))
	require.Equal(t, []string{"17 to 24 P0 to P3"}, open("17 to 24", "P0 to P3"), "eight pins have no four names")
	require.Equal(t, []string{"1, 3 VDD"}, open("1, 3", "VDD"))
}

// order makes a drafter of codes and options, "field code meaning" each.
func order(pattern string, codes []string, options ...[3]string) *drafter {
	d := &drafter{}
	d.Code = Quoted{Text: pattern}
	for _, c := range codes {
		d.Orders = append(d.Orders, DraftOrder{Code: c, Package: "box"})
	}
	for _, o := range options {
		d.Options = append(d.Options, DraftOption{Field: o[0], Code: o[1], Meaning: o[2]})
	}
	d.settleOrders()
	return d
}

// TestOrderPatterns takes patterns as printed, infers them where the printed
// codes leave one way, and gives up those that would decode nothing.
func TestOrderPatterns(t *testing.T) {
	volts := [][3]string{{"Output voltage", "18", "1.8 V"}, {"Output voltage", "33", "3.3 V"}, {"Case", "D", "DFN8"}, {"Case", "S", "SO8"}}
	d := order("", []string{"QX30-18D", "QX30-33S", "QX30-18S"}, volts...)
	require.Equal(t, "QX30-{output_voltage}{case}", d.Code.Text)
	require.Equal(t, map[string]string{"output_voltage": "33", "case": "S"}, d.decode("QX30-33S"))
	require.Nil(t, d.decode("QX30-25S"))

	d = order("", []string{"QX18-18D", "QX18-18S"}, volts...)
	require.Empty(t, d.Code.Text, "18 may be the first or the second")
	d = order("", []string{"QX30-18D", "QY30-33S"}, volts...)
	require.Empty(t, d.Code.Text, "what is left of the codes differs")

	d = order("", []string{"QX30-18D"}, volts...)
	require.Empty(t, d.Code.Text, "one code, and D is a letter like any other")
	d = order("", []string{"QX32K-7P"}, [3]string{"Load", "7P", "7 pF"}, [3]string{"Load", "12P", "12 pF"})
	require.Equal(t, "QX32K-{load}", d.Code.Text)

	d = order("QX-{Case}-{packing}", nil, [3]string{"case", "D", "DFN8"}, [3]string{"packing", "R", "reel"})
	require.Equal(t, "QX-D-R", d.Orders[0].Code)
	require.True(t, d.Orders[0].Made)
	d = order("QX-{case}", nil, [3]string{"case", "D", "DFN8"}, [3]string{"case", "S", "SO8"})
	require.Empty(t, d.Orders)
	require.Equal(t, []string{"QX-D", "QX-S"}, d.Made)

	d = order("QX-{case}{grade}", nil, [3]string{"case", "D", "DFN8"})
	require.Empty(t, d.Code.Text, "grade has no table")
	d = order("QX-{a}{b}", nil, [3]string{"a", "1", "x"}, [3]string{"a", "11", "y"}, [3]string{"b", "1", "z"}, [3]string{"b", "11", "w"})
	require.Empty(t, d.Code.Text, "QX-111 can be read in two ways")
	require.Len(t, d.PassedOver, 1)
	d = order("QX{version}", nil, [3]string{"version", "none", "flat"}, [3]string{"version", "H", "tall"})
	require.Equal(t, []string{"QX", "QXH"}, d.Made)
}

// TestNeedsOfSentences reads what asks for a part between pins, and nothing
// that leaves the pins, the kind or the demand open.
func TestNeedsOfSentences(t *testing.T) {
	p := newPinNames([]DraftPin{{Number: "1", Name: "VIN", Type: "supply"}, {Number: "2", Name: "GND", Type: "ground"},
		{Number: "3", Name: "VOUT"}, {Number: "4", Name: "NR"}, {Number: "5", Name: "CP"}, {Number: "6", Name: "CN"},
		{Number: "EP", Name: "PADGND", Type: "ground"}})
	read := func(text, pin string) (out []string) {
		f := foldString(text)
		if !holdsValue().MatchString(f) || !speaksPart().MatchString(f) || doubtful().MatchString(f) {
			return nil
		}
		for _, n := range p.read(sentence{Quoted{Text: text}, pin}) {
			out = append(out, n.A+" "+n.B+" "+n.Kind+" "+n.Value)
		}
		return out
	}
	const u = "μ"
	for text, want := range map[string][]string{
		"Capacitors of 2.2 µF at least at VIN, 2.2 µF to 22 µF at VOUT, 22 nF at NR": {"VIN GND capacitor min 2.2 " +
			u + "F", "VOUT GND capacitor 2.2 " + u + "F to 22 " + u + "F", "NR GND capacitor 22 nF"},
		"Effective capacitance at VIN and at VOUT: at least 1 µF each": {"VIN GND capacitor min 1 " + u +
			"F", "VOUT GND capacitor min 1 " + u + "F"},
		"The capacitor of 100 nF stands between CP and CN, at the pins": {"CP CN capacitor 100 nF"},
		"Place a bypass capacitor of 100nF close to VIN and VOUT":       {"VIN GND capacitor 100 nF", "VOUT GND capacitor 100 nF"},
		"A resistor of 10 kΩ at NR to ground":                           {"NR GND resistor 10 kΩ"},
		"A resistor of 10 kΩ at NR sets the current":                    nil, // its other end is not said
		"A capacitor of 100 nF at the pin keeps bursts away":            nil,
		"The stray capacitance of 3 pF at NR is added":                  nil,
		"If noise matters a capacitor of 22 nF at NR helps":             nil,
		"The input capacitance is 5 pF":                                 nil,
		"Never use a capacitor above 22 µF at VOUT":                     nil,
		"Use the 10 kΩ NTC resistor at NR to ground":                    nil,
	} {
		require.Equal(t, want, read(text, ""), text)
	}
	require.Equal(t, []string{"VIN GND capacitor 1 " + u + "F"}, read("One capacitor of 1 µF close to the pin", "VIN"))
	require.Nil(t, read("One capacitor of 1 µF close to the part", "VIN"))
}

// TestOtherVersions keeps rows of another version apart.
func TestOtherVersions(t *testing.T) {
	mine, others := telling([]string{"3.0 V", "SC70-5", "QX-30"}), telling([]string{"3.3 V", "DFN4 1x1 + EP", "QX-30H", "reel"})
	require.Equal(t, "", otherVersion("Output voltage, 3.0 V version", mine, others))
	require.Equal(t, "3.3 V", otherVersion("Output voltage, 3.3 V version", mine, others))
	require.Equal(t, "DFN4", otherVersion("Junction to ambient, DFN4", mine, others))
	require.Equal(t, "QX-30H", otherVersion("Current, QX-30H", mine, others))
	require.Equal(t, "", otherVersion("Current, QX-30", mine, others))
	require.Equal(t, "", otherVersion("Rise time at 13.3 V", mine, others))
	require.Equal(t, "", otherVersion("Output voltage, 3.0 V and 3.3 V versions", mine, others), "it speaks of this version too")
}
