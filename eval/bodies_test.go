package eval

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// TestSameBody: names of packages as lists write them against those of the
// notes. Names of bodies by JEDEC Publication 95, IEC 60191 and IPC-7351.
func TestSameBody(t *testing.T) {
	for _, x := range []struct {
		cell, noted string
		pads        int
		want        Verdict
	}{
		{"SOT-23-5", "SOT23-5", 5, Passed}, {"Package_X:SOT-23-5", "SOT-23-5", 5, Passed}, {"SOT-23-5_HandSoldering",
			"SOT23-5", 5, Passed},
		{"SOT-23-6", "SOT-23-5", 5, Open}, {"SOT-23-8", "SOT-23-5", 5, Failed}, {"SOT-23", "SOT23-5", 5,
			Open}, {"SOT-23", "SOT23", 3, Passed}, {"Lib:SOT-23_Wide", "SOT23", 3, Passed},
		{"TSOT-23-5", "SOT-23-5", 5, Open}, {"SC-70-5", "SOT-23-5", 5, Failed}, {"SOT-323", "SC70-3", 3,
			Open}, {"SOT95P280X145-5N", "SOT23-5", 5, Open},
		{"SOIC-8_3.9x4.9mm_P1.27mm", "SOIC-8", 8, Passed}, {"SOIC-8_3.9x4.9mm_P1.27mm", "SO8", 8, Open}, {"SOIC-14",
			"SOIC-8", 8, Failed}, {"8-SOIC (0.154\", 3.90mm Width)", "SOIC-8", 8, Passed},
		{"SOIC127P600X175-8N", "SOIC-8", 8, Passed}, {"SOIC127P600X175-16N", "SOIC-8", 8,
			Failed}, {"TSSOP-20_4.4x6.5mm", "SOIC-20", 20, Failed}, {"SSOP-20", "TSSOP-20", 20, Open},
		{"32TQFN", "TQFN-32", 32, Passed}, {"QFN-24-1EP_4x4mm_P0.5mm_EP2.6x2.6mm", "QFN-24, 4 x 4 mm", 25,
			Passed}, {"QFN-24-1EP_3x3mm", "QFN-24, 4 x 4 mm", 25, Open},
		{"QFN-25_4x4mm", "QFN-24, 4 x 4 mm", 25, Open}, {"QFN-32", "QFN-24", 25, Failed}, {"VQFN-24", "QFN-24", 25,
			Open}, {"SON50P300X200X60-9N", "WSON-8", 9, Open},
		{"LQFP-48_7x7mm_P0.5mm", "LQFP-48", 48, Passed}, {"TO-252-3_TabPin2", "DPAK", 3, Open}, {"TO-263-3",
			"TO-252-3", 3, Failed}, {"D_SMA", "SMA", 2, Passed}, {"D_SMB", "SMA", 2, Failed},
		{"DO-214AC", "SMA", 2, Open}, {"SOT-23 or SOT-223", "SOT-23-3", 3, Open}, {"LED-RGB-5DS", "RGB-4", 4,
			Open}, {"PinHeader_1x02_P2.54mm", "header 2", 2, Open},
		{"TSSOP_HANDSOLDER_2", "TSSOP-20", 20, Open}, {"", "SOIC-8", 8, Open}, {"Lib:R_0402_1005Metric", "0402", 2,
			Passed}, {"R_0201_0603Metric", "0603", 2, Failed},
		{"BGA-169", "NFBGA-169", 169, Open}, {"TSSOP-8_3x3mm_P0.65mm", "VSSOP-8", 8, Open}, {"X1-DFN1006-2", "DFN-2",
			2, Open},
	} {
		require.Equal(t, x.want, sameBody(x.cell, x.noted, x.pads), "%s against %s", x.cell, x.noted)
	}
}
