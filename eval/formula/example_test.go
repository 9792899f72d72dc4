package formula_test

import (
	"fmt"

	"guardband/eval/formula"
)

// Complaints carry the byte range of the text they speak of.
func ExampleParse() {
	text := "R1 // R2 <= 4,7 kΩ"
	_, errs := formula.Parse(text)
	for _, e := range errs {
		fmt.Printf("%q: %s\n", text[e.Off:e.End], e.Msg)
	}
	// Output:
	// "//": `//` is not an operator of formulas
	// "4,7": the decimal mark is a point
}

// The canonical text has one spelling for blanks, signs and units.
func ExampleNode_Canonical() {
	text := "2.2uF·R1≤-40 to 125 °C"
	e, _ := formula.Parse("V×2 ≤ 4k7 ohm*I")
	fmt.Println(e.Root.Canonical("V×2 ≤ 4k7 ohm*I"))
	_, errs := formula.Parse(text)
	fmt.Println(errs[0].Code)
	// Output:
	// V * 2 <= 4.7 kΩ * I
	// formula-range
}
