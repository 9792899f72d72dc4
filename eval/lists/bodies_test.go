package lists

import (
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/eval/record"
)

// TestSameBody: names of packages as lists write them against those of the
// notes. Names of bodies by JEDEC Publication 95, IEC 60191 and IPC-7351.
func TestSameBody(t *testing.T) {
	for _, x := range []struct {
		cell, noted string
		pads        int
		want        record.Verdict
	}{
		{"SOT-23-5", "SOT23-5", 5, record.Passed}, {"Package_X:SOT-23-5", "SOT-23-5", 5, record.Passed}, {"SOT-23-5_HandSoldering",
			"SOT23-5", 5, record.Passed},
		{"SOT-23-6", "SOT-23-5", 5, record.Open}, {"SOT-23-8", "SOT-23-5", 5, record.Failed}, {"SOT-23", "SOT23-5", 5,
			record.Open}, {"SOT-23", "SOT23", 3, record.Passed}, {"Lib:SOT-23_Wide", "SOT23", 3, record.Passed},
		{"TSOT-23-5", "SOT-23-5", 5, record.Open}, {"SC-70-5", "SOT-23-5", 5, record.Failed}, {"SOT-323", "SC70-3", 3,
			record.Open}, {"SOT95P280X145-5N", "SOT23-5", 5, record.Open},
		{"SOIC-8_3.9x4.9mm_P1.27mm", "SOIC-8", 8, record.Passed}, {"SOIC-8_3.9x4.9mm_P1.27mm", "SO8", 8, record.Open}, {"SOIC-14",
			"SOIC-8", 8, record.Failed}, {"8-SOIC (0.154\", 3.90mm Width)", "SOIC-8", 8, record.Passed},
		{"SOIC127P600X175-8N", "SOIC-8", 8, record.Passed}, {"SOIC127P600X175-16N", "SOIC-8", 8,
			record.Failed}, {"TSSOP-20_4.4x6.5mm", "SOIC-20", 20, record.Failed}, {"SSOP-20", "TSSOP-20", 20, record.Open},
		{"32TQFN", "TQFN-32", 32, record.Passed}, {"QFN-24-1EP_4x4mm_P0.5mm_EP2.6x2.6mm", "QFN-24, 4 x 4 mm", 25,
			record.Passed}, {"QFN-24-1EP_3x3mm", "QFN-24, 4 x 4 mm", 25, record.Open},
		{"QFN-25_4x4mm", "QFN-24, 4 x 4 mm", 25, record.Open}, {"QFN-32", "QFN-24", 25, record.Failed}, {"VQFN-24", "QFN-24", 25,
			record.Open}, {"SON50P300X200X60-9N", "WSON-8", 9, record.Open},
		{"LQFP-48_7x7mm_P0.5mm", "LQFP-48", 48, record.Passed}, {"TO-252-3_TabPin2", "DPAK", 3, record.Open}, {"TO-263-3",
			"TO-252-3", 3, record.Failed}, {"D_SMA", "SMA", 2, record.Passed}, {"D_SMB", "SMA", 2, record.Failed},
		{"DO-214AC", "SMA", 2, record.Open}, {"SOT-23 or SOT-223", "SOT-23-3", 3, record.Open}, {"LED-RGB-5DS", "RGB-4", 4,
			record.Open}, {"PinHeader_1x02_P2.54mm", "header 2", 2, record.Open},
		{"TSSOP_HANDSOLDER_2", "TSSOP-20", 20, record.Open}, {"", "SOIC-8", 8, record.Open}, {"Lib:R_0402_1005Metric", "0402", 2,
			record.Passed}, {"R_0201_0603Metric", "0603", 2, record.Failed},
		{"BGA-169", "NFBGA-169", 169, record.Open}, {"TSSOP-8_3x3mm_P0.65mm", "VSSOP-8", 8, record.Open}, {"X1-DFN1006-2", "DFN-2",
			2, record.Open},
	} {
		require.Equal(t, x.want, SameBody(x.cell, x.noted, x.pads), "%s against %s", x.cell, x.noted)
	}
}
