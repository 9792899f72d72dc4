package eval

import (
	"guardband/eval/record"
	"guardband/notebook"
	"guardband/notebook/sheet"
)

// isolate does one piece of the work. A panic in it, a fault of this program,
// loses that piece and not the run: it is returned in words, "" for none.
func isolate(f func()) (fault string) {
	defer func() {
		if x := recover(); x != nil {
			fault = sheet.FaultText(x)
		}
	}()
	f()
	return ""
}

// tellFault makes a fault a diagnostic at the place it was met, and the run
// one that failed.
func (c *compiler) tellFault(at notebook.Text, in, fault string) {
	if at.Src == nil && len(c.book.Notebooks) > 0 {
		at = notebook.TextAt(c.book.Notebooks[0].Src, 0, 0)
	}
	c.faults++
	c.diagnose(notebook.Err, "fault", at, in+": "+fault, "what rests on it is open, the rest is not affected")
}

// lacksFault opens a claim that met a fault.
func (cl *Claim) lacksFault(fault string) {
	cl.Lacks("fault", fault, "report it with the notebook, and use another version meanwhile")
}

// place is where a claim is written, or what it is about.
func (cl *Claim) place() notebook.Text {
	switch {
	case cl.block != nil:
		return cl.block.IDText
	case len(cl.Entries) > 0:
		return cl.Entries[0].Text
	}
	return notebook.Text{}
}

// runCheck makes the claims of one built-in check. After a fault those it had
// begun are open, and so is one that says that the rest is missing.
func (c *compiler) runCheck(b *Check) {
	before := len(c.claims)
	c.inquiry.Check = b.Name
	fault := isolate(func() { b.Run(answers{c}, b) })
	c.inquiry.Check = ""
	if fault == "" {
		return
	}
	c.Claim(b, "fault", "the check runs to its end", nil)
	for _, cl := range c.claims[before:] {
		cl.lacksFault(fault)
	}
	c.tellFault(notebook.Text{}, "check `"+b.Name+"`", fault)
}

// isolateClaim does one step of a claim's way; after a fault the claim is open.
func (c *compiler) isolateClaim(cl *Claim, f func()) {
	if fault := isolate(f); fault != "" {
		c.claimFault(cl, fault)
	}
}

func (c *compiler) claimFault(cl *Claim, fault string) {
	cl.lacksFault(fault)
	cl.Out.Verdict = record.Open
	cl.Out.Headline = "open: " + fault
	c.tellFault(cl.place(), "claim `"+cl.id+"`", fault)
}
