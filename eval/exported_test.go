package eval

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/eval/lists"
)

// exportedBoard is a board of invented parts; extra goes into its circuit block.
func exportedBoard(extra string) string {
	return "```part DRV\ntitle: driver\norder: DRV-S4\npackage: SOT23-4\noperating V_DD = 2.7 V to 3.6 V\npins:\n" +
		"  1 VDD supply V_DD\n  2 GND ground\n  3 Q output\n  4 D input\n```\n\n" +
		"```values\nVCC = 3.3 V\n```\n\n" +
		"```circuit\nU1  DRV  VDD=VCC GND=GND Q=SIG D=IN\nU2  DRV  VDD=VCC GND=GND Q=IN D=SIG\nR1  resistor 4k7 ± 1 %, 0402  SIG GND\n" +
		"R2  resistor 10k, do not populate  SIG VCC\n" + extra + "```\n"
}

const goodPins = "Ref;Number;Signal;Function\nU1;1;VCC;VDD\nU1;2;GND;GND\nU1;3;SIG;Q\nU1;4;IN;D\nU2;1;VCC;VDD\nU2;2;GND;GND\nU2;3;IN;Q\nU2;4;SIG;D\nR1;1;GND;\nR1;2;SIG;\n"

const pinColumns = "pin list: pins.csv\ncolumns: designator = Ref, pin = Number, net = Signal, name = Function\n"

// many says how often a text is replaced: the name of a net everywhere.
func many(from string) int {
	if strings.ContainsAny(from, ";\n") {
		return 1
	}
	return -1
}

func TestExportedPinList(t *testing.T) {
	for _, x := range []struct {
		name, from, to string
		expect         [][]string
	}{
		{"agrees", "", "", [][]string{{"passed", "pin-list.U1"}, {"passed", "pin-list.U2"}, {"passed", "pin-list.others"}}},
		{"renamed", "SIG", "N$7", [][]string{{"passed", "pin-list.U1"}, {"passed", "pin-list.U2"}, {"passed",
			"pin-list.others", "the file names the net SIG N$7"}}},
		{"two nets named one", "SIG", "IN", [][]string{{"failed", "pin-list.U1"}}},
		{"one net named two", "U2;4;SIG;D", "U2;4;SIG2;D", [][]string{{"failed", "pin-list.U2",
			"pin 4 (D) is on SIG2 in the file, on SIG in the notes"}}},
		{"names exchanged on two pins", "U2;3;IN;Q\nU2;4;SIG;D", "U2;3;SIG;Q\nU2;4;IN;D", [][]string{{"failed", "pin-list.U2", "swapped"}}},
		{"swapped", "U1;3;SIG;Q\nU1;4;IN;D", "U1;3;IN;Q\nU1;4;SIG;D", [][]string{{"failed", "pin-list.U1",
			"pins 3 (Q) and 4 (D) are swapped"}, {"passed", "pin-list.U2"}}},
		{"mirrored", "U1;1;VCC;VDD\nU1;2;GND;GND\nU1;3;SIG;Q\nU1;4;IN;D",
			"U1;4;VCC;VDD\nU1;3;GND;GND\nU1;2;SIG;Q\nU1;1;IN;D", [][]string{{"failed", "pin-list.U1", "mirrored"}}},
		{"missing", "U1;4;IN;D\n", "", [][]string{{"failed", "pin-list.U1", "pin 4 (D) is missing"}}},
		{"extra", "U2;4;SIG;D\n", "U2;4;SIG;D\nU2;5;GND;EP\n", [][]string{{"failed", "pin-list.U2", "pin 5 on GND is not in the notes"}}},
		{"another net", "U2;4;SIG;D", "U2;4;VCC;D", [][]string{{"failed", "pin-list.U2", "pin 4 (D) is on VCC in the file, on SIG in the notes"}}},
		{"another name", "U2;4;SIG;D", "U2;4;SIG;OE", [][]string{{"failed", "pin-list.U2", "is named OE in the file, D in the notes"}}},
		{"part missing", "U2;1;VCC;VDD\nU2;2;GND;GND\nU2;3;IN;Q\nU2;4;SIG;D\n", "", [][]string{{"failed", "pin-list.U2", "U2 is not in pins.csv"}}},
		{"others differ", "R1;2;SIG;\n", "R1;2;VCC;\nC9;1;VCC;\n", [][]string{{"failed", "pin-list.others",
			"R1 joins GND, VCC in the file, GND, SIG in the notes; C9 is in the file, not in the notes"}}},
	} {
		t.Run(x.name, func(t *testing.T) {
			if x.from != "" {
				require.Contains(t, goodPins, x.from)
			}
			r := compileFolder(t, map[string]string{"board.md": exportedBoard(pinColumns),
				"pins.csv": strings.Replace(goodPins, x.from, x.to, many(x.from))})
			require.Zero(t, r.Summary.Errors, "%v", r.Diagnostics)
			for _, e := range x.expect {
				requireClaim(t, r, e)
			}
		})
	}
}

func TestExportedFilesThatCannotBeRead(t *testing.T) {
	for _, x := range []struct{ extra, file, says string }{
		{"pin list: ../secret.csv\n", "", "is outside"},
		{"pin list: gone.csv\n", "", "cannot be found"},
		{"pin list: pins.csv\n", goodPins, "has no column `pin`"},
		{"pin list: pins.csv\ncolumns: designator = Part\n", goodPins, "has no column `Part`"},
		{"pin list: pins.csv\ncolumns: reference = Ref\n", goodPins, "does not name a column"},
		{"pin list: pins.csv\n", "", "has no heading line"},
		{pinColumns, goodPins + "U1;1;GND;VDD\n", "pin 1 of U1 is on VCC and on GND"},
		{pinColumns, strings.Replace(goodPins, "U1;3;SIG;Q", "U1;3;SIG;\"Q", 1), "a quotation mark opens here and is not closed"},
		{"pin list: pins.csv\n", "designator,pin,net,Net\nU1,1,VCC,SIG\n", "has two columns `Net`"},
		{pinColumns, goodPins + "U1;;GND;VDD\n", "a net without a designator or a pin is left out: GND"},
		{"netlist: pins.csv\n", goodPins, "no access record"},
		{"netlist: pins.csv\n", goodNetlist() + " \n" + record356("327", "SIG\u202e", "R9", "1"), "the designator and the pin are not in their columns"},
		{"netlist: pins.csv\n", goodNetlist() + strings.Replace(record356("327", "IN", "R9", "1"), "-", " ", 1), "not in their columns"},
		{"pin list: .\n", "", "cannot be read"},
		{"pads: 1 = 2\n", "", "does not name the end that a pad is"},
		{"pads: K\n", "", "does not name the end that a pad is"},
		{"pads U1: 1 = K\n", "", "is not a placed part of a plain kind"},
		{"pads R9: 1 = K\n", "", "is not a placed part of a plain kind"},
	} {
		r := compileFolder(t, map[string]string{"board.md": exportedBoard(x.extra), "pins.csv": x.file})
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

// record356 writes an access record by the columns of IPC-D-356A.
func record356(code, net, ref, pin string) string {
	return fmt.Sprintf("%-3s%-14s   %-6s-%-4s      A01X+000000Y+000000\n", code, net, ref, pin)
}

func goodNetlist() string {
	return "C  test\nP  JOB   BOARD\nP  NNAME00001 SIG\n" +
		record356("327", "VCC", "U1", "1") + record356("327", "GND", "U1", "2") + record356("327", "NNAME00001", "U1",
		"3") + record356("327", "IN", "U1", "4") +
		record356("327", "VCC", "U2", "1") + record356("327", "GND", "U2", "2") + record356("327", "IN", "U2", "3") +
		record356("327", "NNAME00001", "U2", "4") +
		record356("327", "NNAME00001", "R1", "1") + record356("327", "GND", "R1", "2") +
		"317GND              VIA         D0098PA00X+023895Y+022535\n999\n"
}

func TestExportedNetlist(t *testing.T) {
	for _, x := range []struct {
		name, from, to string
		expect         [][]string
	}{
		{"agrees", "", "", [][]string{{"passed", "netlist.SIG"}, {"passed", "netlist.VCC"}, {"passed", "netlist.others"}}},
		{"renamed", "P  NNAME00001 SIG", "P  NNAME00001 N$7", [][]string{{"passed", "netlist.SIG", "the file names the net N$7"}}},
		{"pin elsewhere", record356("327", "NNAME00001", "U2", "4"), record356("327", "IN", "U2", "4"),
			[][]string{{"failed", "netlist.SIG", "U2.4 is on IN in the file"}, {"failed", "netlist.IN",
				"U2.4 is on it in the file, not in the notes"}}},
		{"pin missing", record356("327", "GND", "U2", "2"), "", [][]string{{"failed", "netlist.GND", "U2.2 is not in the file"}}},
		{"two nets joined", "P  NNAME00001 SIG", "P  NNAME00001 IN", [][]string{{"failed", "netlist.SIG"}, {"failed", "netlist.IN"}}},
		{"further part", "999", record356("327", "VCC", "C9", "1") + "999", [][]string{{"failed", "netlist.VCC",
			"C9.1"}, {"failed", "netlist.others", "C9 is in the file"}}},
	} {
		t.Run(x.name, func(t *testing.T) {
			if x.from != "" {
				require.Contains(t, goodNetlist(), x.from)
			}
			r := compileFolder(t, map[string]string{"board.md": exportedBoard("netlist: board.ipc\n"),
				"board.ipc": strings.Replace(goodNetlist(), x.from, x.to, 1)})
			require.Zero(t, r.Summary.Errors, "%v", r.Diagnostics)
			for _, e := range x.expect {
				requireClaim(t, r, e)
			}
		})
	}
}

func TestExportedPartsList(t *testing.T) {
	const good = "designator,order code,value,package,quantity\n\"U1, U2\",DRV-S4,,SOT23-4,2\nR1,,4.7k,0402,1\n"
	for _, x := range []struct {
		name, from, to string
		expect         [][]string
	}{
		{"agrees", "", "", [][]string{{"passed", "parts-list.U1"}, {"passed", "parts-list.U2"}, {"passed", "parts-list.others"}}},
		{"another code", "DRV-S4", "DRV-Q4", [][]string{{"failed", "parts-list.U1", "the file orders DRV-Q4, the notes DRV-S4"}}},
		{"another package", "SOT23-4", "DFN4", [][]string{{"failed", "parts-list.U1", "package DFN4"}}},
		{"another value", "4.7k", "47k", [][]string{{"failed", "parts-list.others", "R1 is 47k in the file, 4k7 ± 1 % in the notes"}}},
		{"missing and further", "R1,,4.7k,0402,1", "R2,,10k,0402,1\nR3,,1k,0402,1",
			[][]string{{"failed", "parts-list.others",
				"R1 is not in the file; R2 is not fitted by the notes, but is in the file; R3 is in the file, not in the " +
					"notes"}}},
		{"quantity", "SOT23-4,2", "SOT23-4,3", [][]string{{"failed", "parts-list.others", "the quantity is 3, but there are 2 designators"}}},
		{"nothing to compare", "order code,value,package", "a,value,b", [][]string{{"open", "parts-list.U1", "neither an order code nor a package"}}},
	} {
		t.Run(x.name, func(t *testing.T) {
			if x.from != "" {
				require.Contains(t, good, x.from)
			}
			r := compileFolder(t, map[string]string{"board.md": exportedBoard("parts list: parts.csv\n"),
				"parts.csv": strings.Replace(good, x.from, x.to, 1)})
			require.Zero(t, r.Summary.Errors, "%v", r.Diagnostics)
			for _, e := range x.expect {
				requireClaim(t, r, e)
			}
		})
	}
}

func TestExportedCanBeSkipped(t *testing.T) {
	r := compileFolder(t, map[string]string{"pins.csv": strings.Replace(goodPins, "U1;4;IN;D\n", "", 1),
		"board.md": exportedBoard(pinColumns + "skip pin-list.U1: the symbol is being redrawn\n")})
	requireClaim(t, r, []string{"skipped", "pin-list.U1", "redrawn"})
}

// A list and a board have bounds, told where they are named.
func TestCostOfListsAndBoards(t *testing.T) {
	require.True(t, lists.Bounded([]byte(strings.Repeat("R1,1k\n", lists.MaxRows))))
	require.False(t, lists.Bounded([]byte(strings.Repeat("R1,1k\n", lists.MaxRows+1))))
	require.False(t, lists.Bounded([]byte(strings.Repeat(strings.Repeat(",", 1000)+"\n", 1001))))
	var b strings.Builder
	b.WriteString("```circuit\n")
	for i := range 10 {
		fmt.Fprintf(&b, "R%d-R%d  resistor 10k ± 1 %%, 0402  A B\n", i*4096, i*4096+4095)
	}
	r := compileText(t, b.String()+"```\n\n```claim asked\nstatement: It holds.\ncriterion: net(\"A\") <= 3 V and R8.use.P <= 1 W\n```\n")
	require.Contains(t, codes(r), "error placed-many")
	requireClaim(t, r, []string{"open", "asked", "parts hang together"})
}

// What hangs together is worked out up to a size, and open beyond it.
func TestCostOfMeshes(t *testing.T) {
	var b strings.Builder
	b.WriteString("```values\nVCC = 3.3 V ± 5 %\n```\n\n```circuit\n")
	for i := range 190 {
		fmt.Fprintf(&b, "R%d  resistor 10k ± 1 %%  A%d A%d\n", i+1, i%20, (7*i+i/20+1)%20)
	}
	b.WriteString("R200  resistor 1k ± 1 %  A0 VCC\nR201  resistor 1k ± 1 %  A10 GND\n```\n\n```claim asked\nstatement: It holds.\ncriterion: net(\"A5\") <= 3.3 V\n```\n")
	requireClaim(t, compileText(t, b.String()), []string{"open", "asked", "hang together too closely"})
}
