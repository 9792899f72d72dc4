package circuit

import (
	"slices"
	"strings"
)

// packageFamily is one row of the table of common packages: the name without
// its count, the pads of the name alone (0: the count must follow), and the
// open standard that names it.
type packageFamily struct {
	Name     string
	Pads     int
	standard string
}

// PackageFamilies are common packages by the names of JEDEC Publication 95 and
// JESD30 (letters, then the count of terminals), of IEC 60191-6 and, for the
// lands, of IPC-7351. Counts that a bare name stands for are those of the
// registered outline. Longer names stand before the shorter ones they start
// with. Figures from memory of the standards; a sheet's own drawing comes
// first, as `pads:`.
var PackageFamilies = []packageFamily{
	{"SOT223", 4, "JEDEC TO-261"}, {"SOT23", 3, "JEDEC TO-236"}, {"SOT323", 3, "IEC 60191"}, {"SOT353", 5, "IEC 60191"},
	{"SOT363", 6, "JEDEC MO-203"}, {"SOT143", 4, "JEDEC TO-253"}, {"SOT89", 4, "JEDEC TO-243"}, {"SOT523", 3,
		"IEC 60191"}, {"SOT563", 6, "IEC 60191"},
	{"SC70", 3, "JEDEC MO-203"}, {"SC59", 3, "JEDEC TO-236"}, {"SC74", 6, "JEDEC MO-178"},
	{"SOD123", 2, "JEDEC DO-219"}, {"SOD323", 2, "JEDEC DO-219"}, {"SOD523", 2, "IEC 60191"}, {"SOD882", 2,
		"IEC 60191"}, {"SOD80", 2, "JEDEC DO-213"},
	{"MELF", 2, "JEDEC DO-213"}, {"SMA", 2, "JEDEC DO-214"}, {"SMB", 2, "JEDEC DO-214"}, {"SMC", 2, "JEDEC DO-214"},
	{"DPAK", 3, "JEDEC TO-252"}, {"D2PAK", 3, "JEDEC TO-263"}, {"TO252", 3, "JEDEC TO-252"}, {"TO263", 3, "JEDEC TO-263"},
	{"TO220", 3, "JEDEC TO-220"}, {"TO247", 3, "JEDEC TO-247"}, {"TO92", 3, "JEDEC TO-226"},
	{"HTSSOP", 0, "JEDEC MO-153"}, {"TSSOP", 0, "JEDEC MO-153"}, {"VSSOP", 0, "JEDEC MO-187"}, {"MSOP", 0,
		"JEDEC MO-187"}, {"QSOP", 0, "JEDEC MO-137"}, {"SSOP", 0, "JEDEC MO-150"},
	{"SOIC", 0, "JEDEC MS-012"}, {"SOJ", 0, "JEDEC MS-027"}, {"SOP", 0, "JEDEC MO-153"}, {"SON", 0, "JEDEC MO-229"}, {"SO", 0, "JEDEC MS-012"},
	{"LQFP", 0, "JEDEC MS-026"}, {"TQFP", 0, "JEDEC MS-026"}, {"QFP", 0, "JEDEC MS-022"}, {"PLCC", 0, "JEDEC MS-018"},
	{"VQFN", 0, "JEDEC MO-220"}, {"WQFN", 0, "JEDEC MO-220"}, {"UQFN", 0, "JEDEC MO-248"}, {"TQFN", 0, "JEDEC MO-220"}, {"QFN", 0, "JEDEC MO-220"},
	{"WSON", 0, "JEDEC MO-229"}, {"VSON", 0, "JEDEC MO-229"}, {"UDFN", 0, "JEDEC MO-252"}, {"WDFN", 0, "JEDEC MO-229"},
	{"TDFN", 0, "JEDEC MO-229"}, {"DFN", 0, "JEDEC MO-229"},
	{"WLCSP", 0, "JEDEC MO-211"}, {"DSBGA", 0, "JEDEC MO-211"}, {"FBGA", 0, "JEDEC MO-205"}, {"BGA", 0, "JEDEC MS-034"}, {"LGA", 0, "JEDEC MO-222"},
	{"PDIP", 0, "JEDEC MS-001"}, {"DIP", 0, "JEDEC MS-001"}, {"DIL", 0, "JEDEC MS-001"}, {"SIP", 0, "JEDEC MO-030"},
}

// ChipSize is a two-pad chip: its size in hundredths of an inch, and what
// EN 140401-802 rates a thick-film resistor of that size at, at 70 °C. Figures
// from memory of the standard.
type ChipSize struct {
	Code    string
	Power   string // rated dissipation
	Element string // limiting element voltage
}

// chipSizes by the imperial code of IEC 60115-8 and IPC-7351.
var chipSizes = []ChipSize{
	{"0201", "50 mW", "25 V"}, {"0402", "63 mW", "50 V"}, {"0603", "100 mW", "75 V"}, {"0805", "125 mW", "150 V"},
	{"1206", "250 mW", "200 V"}, {"1210", "500 mW", "200 V"}, {"2010", "750 mW", "200 V"}, {"2512", "1 W", "200 V"},
}

// ChipOnly are further sizes of chips with two pads, of capacitors and coils.
var ChipOnly = []string{"01005", "0504", "0612", "1005", "1218", "1808", "1812", "1825", "2220", "2225"}

// ChipOf finds a chip size by its code.
func ChipOf(code string) (ChipSize, bool) {
	for _, s := range chipSizes {
		if s.Code == code {
			return s, true
		}
	}
	return ChipSize{}, false
}

// PackagePads is the count of pads that a package's name stands for, without
// a thermal pad that the name does not count.
func PackagePads(name string) (int, bool) {
	s := strings.ToUpper(name)
	if i := strings.IndexAny(s, " ,+("); i >= 0 {
		s = s[:i]
	}
	if _, ok := ChipOf(s); ok || slices.Contains(ChipOnly, s) {
		return 2, true
	}
	s = strings.ReplaceAll(s, "-", "")
	for _, f := range PackageFamilies {
		rest, ok := strings.CutPrefix(s, f.Name)
		switch {
		case !ok:
		case rest == "" && f.Pads > 0:
			return f.Pads, true
		case rest != "":
			if n, ok := FirstNumber(rest); ok {
				return n, true
			}
		}
	}
	return 0, false
}
