package lists

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// The first lines of a public sample of the form, as a page on it prints them
// (artwork.com/gerber/netex-g/ipc356).
func TestNetlistPublishedSample(t *testing.T) {
	got, faults := Read("board.ipc", []byte("P  JOB   BPN 710064-0001\n\n"+
		"317+3.3V            J13   -2    D0400PA00X+043550Y+006480\n"+
		"327+3.3V            C171  -1          A01X+041900Y+006660\n"+
		"317BSP_R0_B5        VIA         D0098PA00X+023895Y+022535\n"+
		"327BSP_R0_B6        U26   -35         A01X+030400Y+019515\n"+
		"327PCI_CLK          J1A1  -25         A01X+028198Y+000600\r\n"), "", Netlist, Pins)
	require.Empty(t, faults)
	require.Equal(t, Netlist, got.Form)
	pin := func(line int, net, ref, pin string) Row {
		return Row{Line: line, Cells: map[string]string{"net": net, "designator": ref, "pin": pin}}
	}
	require.Equal(t, []Row{pin(3, "+3.3V", "J13", "2"), pin(4, "+3.3V", "C171", "1"), pin(6, "BSP_R0_B6", "U26", "35"),
		pin(7, "PCI_CLK", "J1A1", "25")}, got.Rows)
}

// TestCellsOfLists: quotes by RFC 4180 may hold line ends; where the file does
// not follow it they are text.
func TestCellsOfLists(t *testing.T) {
	lines, err := readCells("Ref,Value,Note\nR1,\"4k7\",\"two\nlines, \"\"quoted\"\"\"\nR2,10k,\n", ',', 1)
	require.NoError(t, err)
	require.Equal(t, []cellLine{{1, []string{"Ref", "Value", "Note"}}, {2, []string{"R1", "4k7",
		"two\nlines, \"quoted\""}}, {4, []string{"R2", "10k", ""}}}, lines)
	lines, err = readCells("Ref,Value\nH1,3.5\" spacer\nH2,2\" spacer\n", ',', 1)
	require.NoError(t, err)
	require.Equal(t, "3.5\" spacer", lines[1].cells[1])
	_, err = readCells("Ref,Value\nH1,\"spacer\nH2,2 spacer\n", ',', 1)
	require.ErrorContains(t, err, "line 2")
}

func TestDesignatorsOpenRanges(t *testing.T) {
	require.Equal(t, []string{"R1", "C4", "C5", "C6", "J-1"}, Designators("R1, C4-C6 J-1"))
	require.Equal(t, []string{"C1", "C2"}, Designators("C1-2"))
}
