package eval

import (
	"cmp"
	"maps"
	"slices"
	"strings"

	"guardband/eval/circuit"
	"guardband/eval/record"
	"guardband/notebook"
)

// Check is one check that nobody has to write: facts and placement give its
// claims. Those of the trade are in `eval/checks`, one file each.
type Check struct {
	Name   string // "supply-range": the first word of its claims' IDs
	Rule   string // what it asks, in words
	Source string // where the rule stands, or "common practice"
	Run    func(b Board, k *Check)

	Withstands bool // it asks what parts withstand, whatever is on: also while a supply is turned round
}

// on is a check of this package, which sees all of the compiler.
func on(f func(c *compiler, b *Check)) func(Board, *Check) {
	return func(b Board, k *Check) { f(b.(answers).compiler, k) }
}

// builtinClaims makes the claims of every built-in check.
func (c *compiler) builtinClaims() {
	c.checkCodes()
	for _, b := range c.opt.Checks {
		c.runCheck(b)
	}
}

// Claim starts a claim of a built-in check. subject tells it apart from
// the others of the same check: "U1.VDD".
func (c *compiler) Claim(b *Check, subject, statement string, at *notebook.Entry) *Claim {
	id := strings.TrimSuffix(b.Name+"."+subject, ".") // a claim of the whole design has no subject
	cl := &Claim{id: id, kind: "built-in", check: b}
	cl.begin(statement)
	cl.Out.Check, cl.Out.Rule, cl.Out.RuleSource = b.Name, b.Rule, b.Source
	if at != nil {
		cl.Out.Position = position(at.Text.Pos(0))
		cl.Entries = append(cl.Entries, at)
	}
	c.addClaim(cl)
	return cl
}

// begin is what the record says of a claim before anything is known of it.
func (cl *Claim) begin(statement string) {
	cl.Out = record.Claim{ID: cl.id, Kind: cl.kind, Statement: statement, Method: "analysis", Analysis: "worst case",
		Cites: []record.Cite{}, RestsOn: []record.Basis{}, Criteria: []record.Criterion{}}
	if cl.block != nil {
		cl.Out.Position = position(cl.block.Pos)
	}
}

// Ask adds a criterion in the language itself, so that a reviewer can check it
// like one that was written.
func (c *compiler) Ask(cl *Claim, criterion string) {
	claimant{c}.addCriterion(cl, notebook.Text{S: criterion})
}

// At says where a claim has its place in the notes.
func (cl *Claim) At(p notebook.Pos) { cl.Out.Position = position(p) }

// Settle gives a claim that needs no arithmetic its verdict.
func (cl *Claim) Settle(v record.Verdict, text string) {
	cl.Out.Criteria = append(cl.Out.Criteria, record.Criterion{Text: text, Verdict: v, Tests: []record.Test{}})
	cl.plain = worse(cl.plain, v)
}

// Lacks opens a claim that cannot be judged, with what would settle it.
func (cl *Claim) Lacks(reason, text, settle string) {
	cl.Out.Open = append(cl.Out.Open, record.OpenPoint{Reason: reason, Text: text, Settle: settle})
	cl.plain = worse(cl.plain, record.Open)
}

// unusedSkips complains about skips and waivers of checks that do not exist.
func (c *compiler) unusedSkips() {
	for _, id := range slices.Sorted(maps.Keys(c.skips)) {
		s := c.skips[id]
		if s.used || c.restsUnplaced(s) {
			continue
		}
		c.diagnose(notebook.Err, "check-unknown", s.entry.Text, "there is no check named `"+id+"`", unknownCheckHint(id, c.claimIDs()))
	}
}

// unknownCheckHint names the claims that begin with an ID cut short, or the
// one that was probably meant.
func unknownCheckHint(id string, among []string) string {
	var longer []string
	known := false
	check, about, _ := strings.Cut(id, ".")
	for _, x := range among {
		if strings.HasPrefix(x, id+".") && len(longer) < 4 {
			longer = append(longer, "`"+x+"`")
		}
		known = known || strings.HasPrefix(x, check+".")
	}
	switch {
	case len(longer) > 0:
		return "name each claim: " + strings.Join(longer, ", ")
	case known && about != "":
		return "`" + check + "` makes no claim about `" + about + "`: drop this line, or name one that `check -v` lists"
	}
	return cmp.Or(notebook.HintNear(id, among), "`check -v` lists the claims there are")
}

// restsUnplaced says that a skip stands in the note of a part that this board
// does not place: a note is shared by several boards.
func (c *compiler) restsUnplaced(s *skip) bool {
	return slices.ContainsFunc(c.Parts.List, func(p *circuit.Part) bool {
		return len(p.Placed) == 0 && slices.Contains(p.Block.Entries, s.entry)
	})
}

// LacksOnce opens a claim for a reason that it does not name yet.
func (cl *Claim) LacksOnce(done map[string]bool, reason, text, settle string) {
	if !SeenBefore(done, text) {
		cl.Lacks(reason, text, settle)
	}
}

// SeenBefore says that something of that key is done, and notes that it is: of
// two pins on one net of one part the second says nothing new.
func SeenBefore(done map[string]bool, key ...string) bool {
	k := strings.Join(key, "\x00")
	if done[k] {
		return true
	}
	done[k] = true
	return false
}
