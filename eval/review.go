package eval

import (
	"strings"

	"guardband/eval/record"
	"guardband/notebook"
)

// readReview reads participants and actions of a design review.
func (c reader) readReview(b *notebook.Block) {
	for _, e := range b.Entries {
		switch e.Label {
		case "participants", "participant":
			for _, x := range notebook.SplitList(e.Trimmed()) {
				name, role := x, ""
				if i := strings.IndexByte(x, '('); i > 0 && strings.HasSuffix(x, ")") {
					name, role = strings.TrimSpace(x[:i]), x[i+1:len(x)-1]
				}
				c.review.Participants = append(c.review.Participants, record.Field{Name: name, Value: role})
			}
		case "action":
			f := splitN(e.Trimmed(), 4)
			if len(f) > 2 {
				if _, told := day(f[2]); told {
					continue
				}
			}
			if _, err := notebook.ParseDate(f[min(2, len(f)-1)]); len(f) < 4 || err != nil {
				c.diagnose(notebook.Err, "action-form", e.Value, "an action names its claim, owner, due date and text",
					"`action A3: rail-inside, J. Doe, 2026-12-01, measure the rail cold`")
				continue
			}
			c.review.Actions = append(c.review.Actions, record.Action{ID: e.Arg, Claim: f[0], Owner: f[1], Due: f[2], Text: f[3]})
		case "closed":
			c.closeAction(e)
		}
	}
	c.readCommon(b, "the review")
}

func (c reader) closeAction(e *notebook.Entry) {
	on, told := day(splitN(e.Trimmed(), 2)[0])
	if told {
		return
	}
	if on.IsZero() {
		c.diagnose(notebook.Err, "closed-form", e.Value, "what closes an action begins with the day", "`closed "+e.Arg+": 2026-11-18, what was done`")
		return
	}
	for i := range c.review.Actions {
		if a := &c.review.Actions[i]; a.ID == e.Arg {
			a.Closed = e.Trimmed()
			return
		}
	}
	var ids []string
	for _, a := range c.review.Actions {
		ids = append(ids, a.ID)
	}
	c.diagnose(notebook.Err, "action-unknown", e.Text, "there is no action named `"+e.Arg+"`", notebook.HintNear(e.Arg, ids))
}

// actionsOf are the actions on a claim.
func (c reader) actionsOf(id string) []record.Action {
	var out []record.Action
	for _, a := range c.review.Actions {
		if a.Claim == id {
			out = append(out, a)
		}
	}
	return out
}

// uncovered lists requirements that a source states and no claim answers.
func (c reader) uncovered(by map[string]int) []record.Requirement {
	var out []record.Requirement
	for _, s := range c.sources.List {
		for _, e := range s.block.Entries {
			switch e.Label {
			case "requirement":
				if _, ok := by[s.id+" "+e.Arg]; !ok {
					out = append(out, record.Requirement{ID: e.Arg, Source: s.id, Text: e.Trimmed(), Claims: []string{}})
				}
			case "requirements":
				for _, id := range notebook.SplitList(e.Trimmed()) {
					if _, ok := by[s.id+" "+id]; !ok {
						out = append(out, record.Requirement{ID: id, Source: s.id, Claims: []string{}})
					}
				}
			}
		}
	}
	return out
}
