package eval

// operatingConditions asks that every use the notes state lies inside the
// operating limits of the part: temperature, current, input levels.
var operatingConditions = &builtin{
	name:   "conditions",
	rule:   "Each stated condition of use stays inside the recommended operating conditions of the part.",
	source: "common practice; recommended operating conditions of the part's own sheet",
	run: func(c *compiler, b *builtin) {
		c.limitsOfUse(b, "operating", "stays inside its operating conditions")
	},
}
