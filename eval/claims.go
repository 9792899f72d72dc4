package eval

import (
	"errors"
	"fmt"
	"math/big"
	"slices"
	"strings"

	"guardband/eval/circuit"
	"guardband/eval/formula"
	"guardband/eval/record"
	"guardband/notebook"
	"guardband/units"
)

// lowerClaims works out the written claims, then the built-in checks.
func (c claimant) lowerClaims() {
	for _, cl := range c.claims {
		c.isolateClaim(cl, func() { c.lowerClaim(cl) })
	}
	chooser(c).lowerShortlists()
	for _, b := range c.budgets {
		for _, n := range []string{"peak", "average", "charge_per_day", "life"} {
			c.lower(b.results[n])
		}
	}
	c.builtinClaims()
}

func (c claimant) lowerClaim(cl *Claim) {
	cl.begin("")
	c.readMargin(cl)
	for _, e := range cl.block.Entries {
		c.readLabel(cl, e)
	}
	for _, e := range cl.block.Entries {
		if e.Label == "criterion" {
			c.addCriterion(cl, e.Value)
		}
	}
	c.checkClaim(cl)
}

// readLabel does to a claim what one of its labels says. Criteria and margin
// are read in their own turn.
func (c claimant) readLabel(cl *Claim, e *notebook.Entry) {
	switch e.Label {
	case "statement":
		cl.Out.Statement = e.Trimmed()
	case "reason":
		cl.Out.Reason = e.Trimmed()
	case "meets":
		cl.Out.Meets = notebook.SplitList(e.Trimmed())
	case "state":
		cl.Out.States = append(cl.Out.States, c.statesIn(e)...)
	case "method":
		c.readMethod(cl, e)
	case "analysis":
		c.readAnalysis(cl, e)
	case "yield":
		c.readYield(cl, e)
	case "spread":
		c.readSpread(cl, e)
	case "inspection":
		if cl.Out.Inspection == nil {
			cl.Out.Inspection = &record.Inspection{}
		}
		cl.Out.Inspection.Text = e.Trimmed()
	case "result":
		c.readResult(cl, e)
	case notebook.Waiver:
		cl.Out.Waiver = c.readWaiver(e)
	case "accepts":
		cl.accepts = e
	}
}

// statesIn reads a list of operating states of the design.
func (c *compiler) statesIn(e *notebook.Entry) (out []string) {
	for _, n := range notebook.SplitList(e.Trimmed()) {
		if !slices.Contains(c.design.states, n) {
			c.diagnose(notebook.Err, "state-unknown", e.Value, "there is no operating state named `"+n+"`", notebook.HintNear(n, c.design.states))
			continue
		}
		out = append(out, n)
	}
	return out
}

var methods = []string{"analysis", "inspection", "test", "review of design"}

func (c claimant) readMethod(cl *Claim, e *notebook.Entry) {
	if m := e.Trimmed(); slices.Contains(methods, m) {
		cl.Out.Method = m
	} else {
		c.diagnose(notebook.Err, "method-unknown", e.Value, "`"+m+"` is not a method of verification", "analysis, inspection, test or review of design")
	}
}

func (c claimant) readAnalysis(cl *Claim, e *notebook.Entry) {
	v := e.Trimmed()
	switch {
	case v == "worst case", v == "root sum square":
		cl.Out.Analysis = v
	case strings.HasPrefix(v, "Monte Carlo"):
		n, ok := new(big.Int).SetString(strings.ReplaceAll(strings.TrimSpace(strings.TrimPrefix(v, "Monte Carlo")), " ", ""), 10)
		if !ok || !n.IsInt64() || n.Int64() < 100 || n.Int64() > 100_000_000 {
			c.diagnose(notebook.Err, "analysis-form", e.Value, "Monte Carlo needs the number of samples, 100 to 100000000",
				"`analysis: Monte Carlo 200000`")
			return
		}
		cl.samples = int(n.Int64())
		cl.Out.Analysis = v
	default:
		c.diagnose(notebook.Err, "analysis-unknown", e.Value, "`"+v+"` is not an analysis", "worst case, root sum square, or Monte Carlo 200000")
	}
}

func (c claimant) readYield(cl *Claim, e *notebook.Entry) {
	q, err := units.ParseLiteral(e.Trimmed())
	if err != nil || q.Type != (units.Type{}) || q.SI.Sign() <= 0 || q.SI.Cmp(one) >= 0 {
		c.diagnose(notebook.Err, "yield-form", e.Value, "a yield is a share of the units built, above 0 and below 100 %", "`yield: 99.7 %`")
		return
	}
	if cl.yield = q.SI; q.SI.Cmp(big.NewRat(1, 2)) < 0 {
		c.diagnose(notebook.Warn, "yield-low", e.Value, "by this yield the claim passes where most units built fail",
			"write the share that has to meet it, `yield: 99.7 %`")
	}
}

func (c claimant) readSpread(cl *Claim, e *notebook.Entry) {
	k, ok := strings.CutPrefix(e.Trimmed(), "normal ")
	if e.Trimmed() == "uniform" {
		return
	}
	q, err := units.ParseLiteral(strings.TrimSpace(k))
	if !ok || err != nil || q.Type != (units.Type{}) || q.SI.Sign() <= 0 {
		c.diagnose(notebook.Err, "spread-form", e.Value,
			"a spread is `uniform` or `normal` with the number of standard deviations at the limits", "`spread: normal 3`")
		return
	}
	cl.normal = units.Float(q.SI)
}

func (c claimant) readResult(cl *Claim, e *notebook.Entry) {
	if cl.Out.Inspection == nil {
		cl.Out.Inspection = &record.Inspection{}
	}
	in := cl.Out.Inspection
	f := splitN(e.Trimmed(), 4)
	for i, at := range []*string{&in.Result, &in.Date, &in.Person, &in.Note} {
		if i < len(f) {
			*at = f[i]
		}
	}
	on, told := day(in.Date)
	switch {
	case !slices.Contains([]string{"passed", "failed", "not applicable"}, in.Result):
		c.diagnose(notebook.Err, "result-form", e.Value, "`"+in.Result+"` is not a result",
			"`result: passed, 2026-11-02, J. Doe, note` (passed, failed or not applicable)")
		in.Result = ""
	case told:
		in.Result = ""
	case on.IsZero() || in.Person == "":
		c.diagnose(notebook.Err, "result-form", e.Value, "a result names its date and who looked", "`result: "+in.Result+", 2026-11-02, J. Doe`")
		in.Result = ""
	case c.notYet(on):
		c.diagnose(notebook.Warn, "date-ahead", e.Value, "this result is dated after the day of this run, "+
			c.today.String()+": nobody can have looked yet", "correct the date")
		in.Result = ""
	}
}

// notYet says that a day comes after that of the run. A day more is allowed: elsewhere it may have begun.
func (c *compiler) notYet(d notebook.Date) bool {
	return !c.today.IsZero() && c.today.Days(d) < -1
}

// longWaiver is how many days ahead a waiver may end without a word (common practice).
const longWaiver = 2*365 + 1

// readWaiver reads "2027-03-01, J. Doe, reason".
func (c claimant) readWaiver(e *notebook.Entry) *record.Waiver {
	f := splitN(e.Trimmed(), 3)
	until, told := day(f[0])
	if told {
		return nil
	}
	if len(f) < 3 || until.IsZero() || f[1] == "" || f[2] == "" {
		c.diagnose(notebook.Err, "waiver-form", e.Value, "a waiver names the day it ends, who accepts, and why", "`waiver: 2027-03-01, J. Doe, reason`")
		return nil
	}
	if days := until.Days(c.today); !c.today.IsZero() && days > longWaiver {
		c.diagnose(notebook.Warn, "waiver-long", e.Value,
			fmt.Sprintf("the waiver ends in %d years: until then nobody is asked again", days/365), "end it within two years")
	}
	return &record.Waiver{Until: until.String(), Person: f[1], Reason: f[2]}
}

// askedMargin is the margin that a claim or a criterion of it asks. It is shared by
// the criteria of a claim.
type askedMargin struct {
	margin *formula.Margin // nil where it cannot be read
	text   notebook.Text
	shown  string // as typed
}

func (a *askedMargin) of() *formula.Margin {
	if a == nil {
		return nil
	}
	return a.margin
}

func (a *askedMargin) words() string {
	if a == nil {
		return ""
	}
	return a.shown
}

// readMargin reads the margin of a claim: "5 %", "5 % of span", "0.2 V".
func (c claimant) readMargin(cl *Claim) {
	for _, e := range cl.block.Entries {
		if e.Label == "margin" {
			m, ok := c.parseMargin(e.Value)
			cl.asked = &askedMargin{m, e.Value, e.Trimmed()}
			cl.errors = cl.errors || !ok
			return
		}
	}
}

var marginBases = []string{"limit", "span", "nominal"}

// parseMargin reads a margin in one of its forms.
func (c claimant) parseMargin(t notebook.Text) (*formula.Margin, bool) {
	amount, of, has := strings.Cut(strings.TrimSpace(t.S), " of ")
	of = strings.TrimSpace(of)
	q, err := units.ParseLiteral(strings.TrimSpace(amount))
	if err != nil {
		c.diagnose(notebook.Err, err.Code, t, err.Msg, "`5 %`, `5 % of span`, `0.2 V`")
		return nil, false
	}
	m := &formula.Margin{Of: "limit"}
	percent := q.Type == (units.Type{}) && q.Unit.Symbol != ""
	switch {
	case has && !slices.Contains(marginBases, of):
		c.diagnose(notebook.Err, "margin-base", t, "a margin is of limit, of span or of nominal, not of `"+of+"`", notebook.HintNear(of, marginBases))
		return nil, false
	case has && !percent:
		c.diagnose(notebook.Err, "margin-base", t, "only a percentage is `of` something", "drop `of "+of+"`")
		return nil, false
	case q.SI.Sign() < 0:
		c.diagnose(notebook.Err, "margin-negative", t, "a margin cannot be negative", "")
		return nil, false
	case percent:
		m.Share = q.SI
		if has {
			m.Of = of
		}
	default:
		m.Absolute = &q
	}
	return m, true
}

// ownMargin cuts "with margin 5 %" off a criterion.
func ownMargin(t notebook.Text) (criterion, margin notebook.Text, has bool) {
	const words = " with margin "
	i := strings.LastIndex(t.S, words)
	if i < 0 || strings.Count(t.S[:i], `"`)%2 == 1 {
		return t, notebook.Text{}, false
	}
	return t.Slice(0, i), t.Slice(i+len(words), len(t.S)), true
}

// addCriterion works out one criterion of a claim.
func (c claimant) addCriterion(cl *Claim, t notebook.Text) {
	k := &Criterion{text: t, src: strings.TrimSpace(t.S), candidate: cl.candidate, asked: cl.asked}
	cl.Crit = append(cl.Crit, k)
	body := c.takeMargin(k)
	expr, errs := formula.Parse(body.S)
	k.expr = expr
	s := &scope{c: c.compiler, candidate: cl.candidate}
	if len(errs) == 0 {
		k.comp, errs = c.check.Criterion(k.expr, s, k.asked.of())
	}
	for _, err := range errs {
		if strings.HasPrefix(err.Code, "margin-") && k.asked != nil && k.asked.text.S != "" {
			c.diagnose(notebook.Err, err.Code, k.asked.text, err.Msg, err.Hint)
			continue
		}
		c.formulaErrors(body, []*formula.Error{err})
	}
	k.bad = k.bad || len(errs) > 0 || k.comp.Class != formula.Bool
	k.uses = s.used
	if cl.check == nil && !k.bad {
		c.checkSlips(k)
	}
	cl.noteAll(k.uses)
}

// takeMargin cuts its own margin off a criterion.
func (c claimant) takeMargin(k *Criterion) (body notebook.Text) {
	body, own, has := ownMargin(k.text)
	if has {
		m, ok := c.parseMargin(own)
		k.asked = &askedMargin{m, own, strings.TrimSpace(own.S)}
		k.bad = !ok
	}
	return body
}

// noteAll notes the symbols of a criterion, each of which is in the list once.
func (cl *Claim) noteAll(ys []*symbol) {
	for _, y := range ys {
		cl.note(y)
	}
}

// NoteQuantity notes that the claim rests on a quantity.
func (cl *Claim) NoteQuantity(q *Quantity) { cl.note(q.y) }

func (cl *Claim) note(y *symbol) { cl.uses = circuit.AddTo(cl.uses, y) }

// checkClaim complains about a claim that does not say what it must.
func (c claimant) checkClaim(cl *Claim) {
	crit, insp := len(cl.Crit) > 0, cl.Out.Inspection != nil && cl.Out.Inspection.Text != ""
	head := cl.block.IDText
	switch {
	case cl.Out.Statement == "":
		c.diagnose(notebook.Err, "statement-missing", head, "claim `"+cl.id+"` has no statement",
			"add `statement:` with the sentence that the record shows")
		cl.errors = true
	case !crit && !insp && cl.Out.Method != "test":
		c.diagnose(notebook.Err, "criterion-missing", head, "claim `"+cl.id+"` has nothing to judge",
			"add `criterion:`, or `inspection:` for what a person must look at")
		cl.errors = true
	}
	if insp && !crit && cl.Out.Method == "analysis" {
		cl.Out.Method = "inspection"
	}
	c.checkYield(cl)
	for _, k := range cl.Crit {
		if !k.bad && len(k.uses) == 0 {
			c.diagnose(notebook.Warn, "nothing-stated", k.text,
				"this criterion uses no fact or value, so it says nothing about the design", "name the quantities it is about")
		}
	}
}

// checkYield complains about a yield or a spread without samples, and samples
// without a yield.
func (c claimant) checkYield(cl *Claim) {
	head := cl.block.IDText
	switch {
	case cl.samples > 0 && cl.yield == nil:
		c.diagnose(notebook.Err, "yield-missing", head, "a Monte Carlo analysis needs the yield it must show", "add `yield: 99.7 %`")
		cl.errors = true
	case cl.samples == 0 && cl.yield != nil:
		c.diagnose(notebook.Err, "yield-place", head, "a yield belongs to a Monte Carlo analysis",
			"write `analysis: Monte Carlo 200000`, and no other analysis; or drop `yield:`")
	case cl.samples == 0 && cl.normal != 0:
		c.diagnose(notebook.Err, "spread-place", head,
			"a spread belongs to a Monte Carlo analysis; the others take what the limits allow", "add `analysis: Monte Carlo 200000`")
	}
}

// splitN cuts a text at its first n-1 commas and trims the pieces.
func splitN(s string, n int) []string {
	f := strings.SplitN(s, ",", n)
	for i := range f {
		f[i] = strings.TrimSpace(f[i])
	}
	return f
}

// day reads a date. One that the calendar does not have was told where it was
// read, so it is not called a wrong form here.
func day(s string) (d notebook.Date, told bool) {
	d, err := notebook.ParseDate(s)
	return d, errors.Is(err, notebook.ErrNoSuchDay)
}

func position(p notebook.Pos) *record.Position {
	if p.Line == 0 {
		return nil
	}
	return &record.Position{File: p.File, Line: p.Line, Column: p.Col}
}
