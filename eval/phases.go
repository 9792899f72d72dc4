package eval

// The phases of a run in their order, each with the compiler and what it alone
// does. What several need, as names, values and facts, is the compiler's own.
type (
	reader   struct{ *compiler } // notes and exported files: names, parts, nets
	powers   struct{ *compiler } // operating states: which supplies are up in which
	claimant struct{ *compiler } // claims as written: labels, margins, waivers, criteria
	answers  struct{ *compiler } // what built-in checks are told: the Board
	proof    struct{ *compiler } // documents: what cited pages show
	bench    struct{ *compiler } // readings on the built board
	judge    struct{ *compiler } // verdicts, margins, and what they rest on
	chooser  struct{ *compiler } // alternates and shortlists
	ledger   struct{ *compiler } // budgets of supplies
	warden   struct{ *compiler } // cautions
	recorder struct{ *compiler } // the record
)
