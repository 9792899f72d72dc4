package checks

import (
	"strings"

	"guardband/eval"
	"guardband/eval/record"
)

// sixSectionsNoted asks that the first look at each placed part's sheet is
// complete.
var sixSectionsNoted = &eval.Check{
	Name:   "sections",
	Rule:   "Of each part the six sections of a first look are noted: ordering code, package, pins, characteristics, absolute maximum ratings, application circuit. A part without a supply pin (a passive, a connector, a sensor fed by others) needs no application circuit of its own, nor does one that notes `application: none`.",
	Source: "common practice",
	Run: on(func(c *board, b *eval.Check) {
		for _, p := range c.Parts.List {
			if len(p.Placed) == 0 || p.Generic {
				continue
			}
			cl := c.Claim(b, p.ID, "The six sections of part "+p.ID+" are noted.", nil)
			cl.At(p.Block.Pos)
			s := c.Sections(p)
			var missing []string
			for _, n := range record.SheetSections {
				if !s[n].Noted {
					missing = append(missing, n)
				}
			}
			if len(missing) == 0 {
				cl.Settle(record.Passed, "all six sections are noted")
			} else {
				cl.Lacks("no fact", "not noted yet: "+strings.Join(missing, ", "), "read these sections of the sheet of part "+p.ID)
			}
		}
	}),
}
