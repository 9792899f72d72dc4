package trade_test

import (
	"fmt"

	"guardband/eval/trade"
)

// The table is plain data: help, the record and the computation all read the
// same body.
func ExampleFunctions() {
	for _, f := range trade.Functions() {
		if f.Name == "pull_up_upper" {
			fmt.Println(f.Name, "=", f.Body, f.Unit)
			fmt.Println(f.Source)
		}
	}
	// Output:
	// pull_up_upper = t_rise / (ln(0.7 / 0.3) * C_bus) Ω
	// I²C-bus specification UM10204, section 7.1
}
