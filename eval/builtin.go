package eval

import (
	"slices"
	"sort"
	"strings"

	"guardband/eval/circuit"
	"guardband/eval/record"
	"guardband/notebook"
)

// builtin is one check that nobody has to write: facts and placement give its
// claims. One file each, one row here.
type builtin struct {
	name   string // "supply-range": the first word of its claims' IDs
	rule   string // what it asks, in words
	source string // where the rule stands, or "common practice"
	run    func(c *compiler, b *builtin)
}

// builtins lists the checks in the order their claims appear.
func builtins() []*builtin {
	return slices.Concat(partChecks(), signalChecks(), powerChecks(), []*builtin{limitCoverage})
}

// partChecks are about parts as bought and drawn, and their limits.
func partChecks() []*builtin {
	return []*builtin{supplyRange, absoluteMaximum, operatingConditions, statedUse, orderCodes, pinMap, sixSectionsNoted}
}

// builtinClaims makes the claims of every built-in check.
func (c *compiler) builtinClaims() {
	c.checkCodes()
	for _, b := range builtins() {
		c.runCheck(b)
	}
}

// builtClaim starts a claim of a built-in check. subject tells it apart from
// the others of the same check: "U1.VDD".
func (c *compiler) builtClaim(b *builtin, subject, statement string, at *notebook.Entry) *claim {
	id := strings.TrimSuffix(b.name+"."+subject, ".") // a claim of the whole design has no subject
	cl := &claim{id: id, kind: "built-in", check: b}
	cl.out = record.Claim{ID: id, Kind: "built-in", Check: b.name, Rule: b.rule, RuleSource: b.source, Statement: statement, Method: "analysis", Analysis: "worst case",
		Cites: []record.Cite{}, RestsOn: []record.Basis{}, Criteria: []record.Criterion{}}
	if at != nil {
		cl.out.Position = position(at.Text.Pos(0))
		cl.entries = append(cl.entries, at)
	}
	c.addClaim(cl)
	return cl
}

// ask adds a criterion in the language itself, so that a reviewer can check it
// like one that was written.
func (c *compiler) ask(cl *claim, criterion string) { c.addCriterion(cl, notebook.Text{S: criterion}) }

// at says where a claim has its place in the notes.
func (cl *claim) at(p notebook.Pos) { cl.out.Position = position(p) }

// settle gives a claim that needs no arithmetic its verdict.
func (cl *claim) settle(v record.Verdict, text string) {
	cl.out.Criteria = append(cl.out.Criteria, record.Criterion{Text: text, Verdict: v, Tests: []record.Test{}})
	cl.plain = worse(cl.plain, v)
}

// lacks opens a claim that cannot be judged, with what would settle it.
func (cl *claim) lacks(reason, text, settle string) {
	cl.out.Open = append(cl.out.Open, record.OpenPoint{Reason: reason, Text: text, Settle: settle})
	cl.plain = worse(cl.plain, record.Open)
}

// unusedSkips complains about skips and waivers of checks that do not exist.
func (c *compiler) unusedSkips() {
	ids := make([]string, 0, len(c.skips))
	for id := range c.skips {
		ids = append(ids, id)
	}
	sort.Strings(ids)
	for _, id := range ids {
		s := c.skips[id]
		if s.used || c.restsUnplaced(s) {
			continue
		}
		c.whole(notebook.Err, "check-unknown", s.entry.Text, "no check is named `"+id+"`", notebook.HintNear(id, c.claimIDs()))
	}
}

// restsUnplaced says that a skip stands in the note of a part that this board
// does not place: a note is shared by several boards.
func (c *compiler) restsUnplaced(s *skip) bool {
	for _, p := range c.Parts.List {
		if len(p.Placed) > 0 {
			continue
		}
		for _, e := range p.Block.Entries {
			if e == s.entry {
				return true
			}
		}
	}
	return false
}

// metBy names what meets a need of an application circuit, "" where nothing
// does or nothing is placed.
func (c *compiler) metBy(p *circuit.Part, e *notebook.Entry) string { return c.met[e] }

// lacksOnce opens a claim for a reason that it does not name yet.
func (cl *claim) lacksOnce(done map[string]bool, reason, text, settle string) {
	if !seenBefore(done, text) {
		cl.lacks(reason, text, settle)
	}
}
