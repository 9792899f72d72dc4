package eval

import "strings"

// sixSectionsNoted asks that the first look at each placed part's sheet is
// complete.
var sixSectionsNoted = &builtin{
	name:   "sections",
	rule:   "Of each part the six sections of a first look are noted: ordering code, package, pins, characteristics, absolute maximum ratings, application circuit.",
	source: "common practice",
	run: func(c *compiler, b *builtin) {
		for _, p := range c.parts.list {
			if len(p.placed) == 0 {
				continue
			}
			cl := c.builtClaim(b, p.id, "The six sections of part "+p.id+" are noted.", nil)
			cl.out.Position = position(p.block.Pos)
			s := c.sections(p)
			var missing []string
			for _, n := range sixSections {
				if !s[n].Noted {
					missing = append(missing, n)
				}
			}
			if len(missing) == 0 {
				cl.settle(Passed, "all six sections are noted")
			} else {
				cl.lacks("no fact", "not noted yet: "+strings.Join(missing, ", "), "read these sections of the sheet of part "+p.id)
			}
		}
	},
}
