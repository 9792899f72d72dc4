package eval

import (
	"math/big"

	"guardband/eval/bound"
	"guardband/eval/circuit"
	"guardband/eval/formula"
	"guardband/eval/record"
	"guardband/notebook"
	"guardband/notebook/sheet"
	"guardband/units"
)

// design is what the design blocks say.
type design struct {
	title, revision, author, date string
	ambient                       *symbol
	states                        []string
	stateOf                       map[string]map[string]string // state, part: the row of the budgets it is in
	given                         map[string]*notebook.Entry   // rows of states that give nets their values
	hazards                       []hazard
	acknowledged                  map[string]string            // hazard to who and when
	padsOf                        map[string]map[string]string // designator, "" for all: the end that a pad's number is
	evidence                      *notebook.Entry              // names the file of committed answers
}

// hazard is one a block carries by name.
type hazard struct {
	name string
	at   notebook.Text
	from string // what carries it, in words
}

// source is one document.
type source struct {
	correctsText                                               notebook.Text
	id, title, issuer, revision, date, file, digest, retrieved string
	corrects                                                   string
	firstPage                                                  int
	abs                                                        string // confined absolute path; "" without a file or where refused
	block                                                      *notebook.Block
	at                                                         notebook.Text
	fileText                                                   notebook.Text
	info                                                       sheet.Info // of the file, when it was opened
	err                                                        error      // why the file could not be read
	onFile                                                     bool
	gone                                                       bool // `file:` names one that is not there
	replayed                                                   bool // answered for by the committed file
	cites                                                      []*citation
}

// citation is one citation in its place and what was found of it.
type citation struct {
	cite          *notebook.Cite
	source        *source
	entry         *notebook.Entry // that cites it; nil of prose
	numbers       []sheet.Number  // numbers the entry states, to be looked for on the page
	aside         []sheet.Number  // its tolerances and conditions, that may stand in another row
	missing       []string        // numbers on none of the pages that the entry cites
	head          []string        // conditions in the head of the table on the page that the entry lacks
	absent        []string        // those of them whose digits these pages show nowhere; of the entry's first citation only
	unlike        string          // "" or which of them these pages give in another unit alone; of the first citation only
	name          string          // symbol of the fact
	found         sheet.Finding
	replayed      bool   // found as the committed file says, not looked at here
	disputed      bool   // the committed file says otherwise than the page
	uncommitted   bool   // it has no answer to this
	erratum       string // what a correcting document says of the same words
	asked         bool   // the document was asked
	picture       string // data URI of a PNG
	width, height int
	inUse         bool // some claim to be pictured rests on it
}

// state of lowering a symbol, so that circles are found.
type state uint8

const (
	fresh state = iota
	busy
	done
)

// symbol is anything a formula can name.
type symbol struct {
	name      string
	entry     *notebook.Entry // where it is defined; nil for nets and such
	block     *notebook.Block
	state     state
	ofValues  bool // a name of a values block
	limit     bool // operating, absmax
	derived   bool
	nonneg    bool // at least zero by the user's word
	zeroSaid  bool // named under `at least zero`
	exactLeaf bool // the leaf's own bounds are the rows' columns
	tightened bool
	blocked   bool // no row covers the use, and no leaf can say so by its bounds
	val       formula.Value
	cols      [3]*formula.Value // min, typ, max as stated; nil = not stated
	input     *input            // the leaf it makes, nil where exact or derived
	rows      []*row            // rows of a conditional fact
	deps      []*symbol         // what its value was made of
	cites     []*citation
	assumed   string
	why       []record.OpenPoint // why nothing can be concluded from it (condition not covered ...)
	usedBy    []string
	expr      *formula.Expr
	comp      *circuit.Component
	define    func(*symbol)
	shown     string // its range as printed, once worked out

	// What few symbols have.
	guards   []*symbol         // by what the conditions of its rows were judged
	text     string            // of a voltage or current that joined nets make: its formula
	onPin    string            // of a fact that holds at the current of one pin: that pin
	lacking  *record.OpenPoint // why nothing is known of it, where no row says so
	constant string            // published source of a constant of nature
	ends     [3]*input         // of a fact with conditions: its columns, each a number of the rows that hold
	clash    *clash            // rows that contradict each other
	order    bound.Reg         // of a quantity between two formulas: that they are in order, 0 elsewhere
}

// row is one row of a fact with conditions.
type row struct {
	entry       *notebook.Entry
	conds       []condition
	in          bound.Input
	cols        [3]*formula.Value
	ends        [3]*big.Rat // the same where they are exact numbers
	out         bool        // does not apply to the use
	why         []record.OpenPoint
	unconfirmed bool
	bad         bool
	gate        *input // of a row that may yet turn out not to apply
}

// condition is one condition of a row against the use of the part.
type condition struct {
	cond   *notebook.Cond
	name   string
	lo, hi *formula.Value // the set the row covers; nil = open end
	flag   string
	judged bool // "<=" or ">=": the reader's judgement
}

// input is one leaf: a number that may stand anywhere in its range.
type input struct {
	num  int
	sym  *symbol
	name string
	typ  units.Type
	unit *units.Unit
	in   bound.Input
	of   *input // of an independent copy: the input it is a copy of, whose sets are its own
}

// original is the input itself, or the one it is a copy of.
func (in *input) original() *input {
	if in.of != nil {
		return in.of
	}
	return in
}

// set is what is known of an input by now: rows of a fact may still be dropped.
func (in *input) set() bound.Input { return in.original().in }

// Claim is one claim while it is worked on.
type Claim struct {
	id        string
	kind      string
	block     *notebook.Block
	check     *Check // of a built-in check
	Out       record.Claim
	Crit      []*Criterion
	uses      []*symbol       // in order of first use
	errors    bool            // a formula of it has an error
	asked     *askedMargin    // its margin, nil where it asks none
	accepts   *notebook.Entry // "accepts: -3 %": the miss a waiver covers
	samples   int             // of a Monte Carlo analysis
	yield     *big.Rat
	normal    float64
	readings  []*reading        // that settle it, of `method: test`
	sampled   *sampled          // what its samples showed, of a Monte Carlo analysis
	overdrawn bool              // its samples are more than a design may ask
	plain     record.Verdict    // of a built-in check that needs no arithmetic
	Entries   []*notebook.Entry // of a built-in check: what it rests on
	candidate *circuit.Part
	presumed  []string // figures a built-in check takes from a standard
	onDefault bool     // it passed on figures that no note states
	shown     bool     // its numbers are worked out where Options.Detail leaves others out
}

// Criterion is one criterion while it is worked on.
type Criterion struct {
	text      notebook.Text
	src       string
	expr      *formula.Expr
	comp      formula.Compiled
	bad       bool
	uses      []*symbol
	out       record.Criterion
	at        []*big.Rat        // the corner shown
	atInputs  []int             // and the graph inputs it speaks of
	asked     *askedMargin      // the claim's margin, or its own
	Unsure    *record.OpenPoint // it asks more than is known of the board: where it fails it is open
	candidate *circuit.Part
	Among     func(*Drive) []string // the states it speaks of, where it asks the network; nil: all
	Once      string                // it has to hold in one state alone; what to say where it holds in none
	Lone      *circuit.Joint        // the pin that it asks about as if it took nothing
	Into      []circuit.Joint       // pins of which it asks what is pushed into them
	told      *answer               // what the network says of it
	Meant     bool                  // the first of either is what the board is meant to do
	either    []bound.Reg           // alternatives of which one has to hold in all those states
	empty     bool                  // it holds for any values of its inputs
	blocked   bool                  // it rests on a fact of which nothing can be concluded
	thin      float64               // smallest margin, +Inf where none is shown
	shown     int                   // boxes spent on numbers that are printed
}

type skip struct {
	id     string
	entry  *notebook.Entry
	reason string
	by     string // who and when, "" where it does not say
	waiver *record.Waiver
	used   bool
}

type budget struct {
	missing       bound.Reg            // what parts without a row draw, 0 where there are none
	branches      []*branch            // what the circuit itself takes and no row speaks of
	rest          map[string]bound.Reg // what a part draws in time of which no row speaks
	idle          map[string]bound.Reg // the part of the time that the duties of a load leave
	block         *notebook.Block
	loads         []*load
	results       map[string]*symbol // "peak", "average", "charge_per_day", "life"
	usable        *notebook.Entry
	selfDischarge *notebook.Entry
	deps          []*symbol
	lowered, bad  bool
	out           record.Budget
}

type shortlist struct {
	block    *notebook.Block
	criteria []*notebook.Entry
	choice   *notebook.Entry
	rows     []*Claim // one a candidate
	out      record.Shortlist
}

type reading struct {
	entry   *notebook.Entry
	conds   []notebook.Cond // its own and those of its block
	states  []string        // in which it was taken
	settles *notebook.Entry
	lo, hi  *big.Rat      // with its accuracy
	here    formula.Value // what it is of
	used    []*symbol     // and the symbols that name it
	at      *compiler     // the notes under its conditions
	target  formula.Value // what it is of, there
	made    []*symbol     // of what it is made there
	settle  string        // what would settle it, where that is not another reading
	out     record.Reading
}

type factKey struct {
	comp          *circuit.Component
	section, name string
	pin           string
}

type useKey struct {
	comp *circuit.Component
	name string
}
