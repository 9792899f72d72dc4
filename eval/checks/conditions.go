package checks

import "guardband/eval"

// operatingConditions asks that every use the notes state lies inside the
// operating limits of the part: temperature, current, input levels.
var operatingConditions = &eval.Check{
	Name:   "conditions",
	Rule:   "Each stated condition of use stays inside the recommended operating conditions of the part.",
	Source: "common practice; recommended operating conditions of the part's own sheet",
	Run: on(func(c *board, b *eval.Check) {
		limitsOfUse(c, b, "operating", "stays inside its operating conditions")
	}),
}
