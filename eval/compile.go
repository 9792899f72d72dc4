package eval

import (
	"context"

	"guardband/eval/bound"
	"guardband/eval/circuit"
	"guardband/eval/formula"
	"guardband/eval/record"
	"guardband/notebook"
)

// Options of a compilation. The zero value checks no documents and takes
// waivers as expired only when On is set.
type Options struct {
	On       string            // the day waivers are judged against, ISO 8601
	Tool     string            // name and version of the program, for the record
	Commit   string            // version-control commit of the notes, may be empty
	Language *formula.Language // nil: the built-in functions alone
	Evidence Evidence          // nil: citations are "not checked"
	Typeset  bool              // give formulas their form for typesetting
	Pictures string            // "off" (default), "cited" or "failed"
	Workers  int               // claims decided at a time; 0 = 1
	// Detail is how many passed, waived and skipped claims the record holds; 0 = all. The summary counts all;
	// values, notes, what claims rest on and the numbers of most are then left out.
	Detail int
	Boxes  int  // budget of boxes a claim; 0 = default
	Strict bool // a pass on figures that no note states is open
	Boards int  // how many boards the parts list is for; 0 = as the design says

	Answers *Answers // where not nil: filled with what documents answered, to be committed

	Checks  []*Check     // the built-in checks, in the order their claims appear
	Explain *[]CheckText // where not nil: filled with what each built-in check asks and read

	swap map[string]string // part types to put in place of others, for alternates
	in   *inState          // the state whose values of nets are taken
}

// compiler holds one run. Its fields stand in the order of the phases that make
// them; a phase reads what those before it made.
type compiler struct {
	// What the run was given. No phase changes it.
	ctx   context.Context
	book  *notebook.Book
	opt   Options
	diags *notebook.Diagnostics
	lang  *formula.Language
	today notebook.Date // the day waivers are judged against; zero: none

	// Reading the notes (collect, sources): blocks by kind, names entered once.
	blocks  []*notebook.Block // of all notebooks, in order
	design  design
	sources circuit.Index[*source]
	values  circuit.Index[*symbol]
	budgets []*budget
	lists   []*shortlist
	reads   []*reading
	review  record.Review
	skips   map[string]*skip // built-in checks switched off or waived, by ID
	cites   []*citation
	byCite  map[*notebook.Cite]*citation
	prints  []*notebook.Node // of values and verdicts in prose
	faults  int              // of the program itself

	// Placing (circuit, placedfrom): parts and nets, and what exported files add to them.
	circuit.Circuit
	exported  []record.File                    // exported lists that were read
	fromFiles *fromFiles                       // what exported files place, nil for nothing
	placedBy  map[*circuit.Component]*filePart // what exported files say of a part, where they say something

	// Working out values (scope, define, facts, rhs): each symbol once, as a formula over the inputs of one graph.
	b           *bound.Builder
	check       *formula.Checker
	inputs      []*input                          // by input number of the graph
	path        []*symbol                         // symbols being lowered, outermost first
	math        map[*notebook.Entry]*formula.Expr // parsed formulas, for typesetting
	constants   map[string]*symbol                // of nature, by name
	notes       map[bound.Reg]undefinedNote       // what may have no value, in words
	facts       map[factKey]*symbol               // facts of placed parts, made when first asked for
	factList    []*symbol                         // the same in the order made
	netSymbols  map[*circuit.Net]*symbol          // voltages of nets
	compSymbols map[*circuit.Component]*symbol    // values of two-terminal parts, made on demand
	uses        map[useKey]*symbol                // conditions of use of placed parts
	whyNot      map[useKey]string                 // why the net of a pin does not tell its current

	// The board as a network and its states (board_*, states): made when first asked.
	network *boardNet                 // the same as an electrical network
	asks    map[int]*question         // by input of the graph: what the network is asked
	foundOn map[*circuit.Net]*symbol  // the same as the network tells them, where nothing states them
	power   map[powerKey]power        // which supplies are up in which state, once asked
	upIn    map[string][]*circuit.Net // supplies that a state itself says are up
	lost    map[*circuit.Net]bool     // supplies that parts make no more in the state whose values are taken

	// Claims (claims, builtin): written ones and those of checks.
	claims     []*Claim
	claimIndex circuit.Index[*Claim]      // the first of each ID
	others     []*Claim                   // of shortlists: candidates that were not chosen
	met        map[*notebook.Entry]string // needs of application circuits, and what meets them
	spared     map[limit]string           // limits that nothing comes near, and why
	limits     [2]int                     // noted of placed parts, and those of them that no claim judges
	inquiry    circuit.Inquiry
	late       []func() // criteria that are made once conditions are settled

	// Conditions and evidence (conditions, evidence, readings): which rows hold, which pages answer.
	strict    bool                 // rows that contradict each other cover nothing: what else could be dropped was
	imposed   map[*symbol]bool     // what the conditions of a reading fix, where the notes are worked out under them
	unders    map[string]*compiler // the notes under the conditions of readings
	committed *committed           // what documents answered elsewhere; nil: the design names no file

	// Deciding and telling (decide, assumptions, alternates, safety): what verdicts rest on.
	work      work // done so far, where a few lines ask much
	assume    assumptions
	concluded map[string]*record.Claim // claims by ID, before the first alternate adds to them
	batteries map[*circuit.Part]string // the caution of parts that are batteries, or speak of one
}

// Compile works out a whole book. Whatever is wrong with it becomes a
// diagnostic of the record; the record is always complete.
func Compile(ctx context.Context, book *notebook.Book, opt Options) *record.Record {
	return recorder{compile(ctx, book, opt)}.record()
}

// compile does all but put the record together.
func compile(ctx context.Context, book *notebook.Book, opt Options) *compiler {
	c := newCompiler(ctx, book, opt)
	c.checkBlocks()
	reader{c}.collect()
	reader{c}.placeFiles()
	if opt.in != nil {
		c.imposed = map[*symbol]bool{}
		bench{c}.impose(opt.in.conds)
	}
	reader{c}.connect()
	powers{c}.findLost()
	proof{c}.readCommitted()
	proof{c}.readDocuments()
	c.lowerValues()
	claimant{c}.lowerClaims()
	proof{c}.checkEvidence()
	c.settleConditions()
	for _, ask := range c.late {
		ask()
	}
	judge{c}.openUnnoted()
	bench{c}.judgeReadings()
	judge{c}.decideClaims()
	chooser{c}.valueStates()
	chooser{c}.alternates()
	ledger{c}.budgetRecords()
	chooser{c}.shortlistRecords()
	if opt.Answers != nil {
		proof{c}.fillAnswers(opt.Answers)
	}
	return c
}

func newCompiler(ctx context.Context, book *notebook.Book, opt Options) *compiler {
	c := &compiler{
		ctx: ctx, book: book, opt: opt, diags: book.Diags, lang: opt.Language, b: bound.NewBuilder(),
		facts: map[factKey]*symbol{}, power: map[powerKey]power{}, netSymbols: map[*circuit.Net]*symbol{},
		foundOn:     map[*circuit.Net]*symbol{},
		compSymbols: map[*circuit.Component]*symbol{}, placedBy: map[*circuit.Component]*filePart{},
		uses: map[useKey]*symbol{}, byCite: map[*notebook.Cite]*citation{},
		constants: map[string]*symbol{}, notes: map[bound.Reg]undefinedNote{}, spared: map[limit]string{},
		skips: map[string]*skip{}, met: map[*notebook.Entry]string{}, math: map[*notebook.Entry]*formula.Expr{},
	}
	if c.lang == nil {
		c.lang = formula.NewLanguage(nil)
	}
	c.Values = c
	c.check = c.lang.Checker(c.b)
	for _, n := range book.Notebooks {
		c.blocks = append(c.blocks, n.Blocks...)
	}
	c.today, _ = notebook.ParseDate(opt.On)
	return c
}

// checkBlocks complains about a book that holds nothing to work on.
func (c *compiler) checkBlocks() {
	designs, library := 0, 0
	for _, b := range c.blocks {
		switch b.Kind {
		case "design":
			designs++
		case "source", "part":
			library++
		}
	}
	if len(c.book.Notebooks) == 0 || c.diags.Errors() > 0 {
		return
	}
	first := notebook.TextAt(c.book.Notebooks[0].Src, 0, 0)
	switch {
	case len(c.blocks) == 0:
		c.diags.At(notebook.Err, "notebook-empty", first, 0, 0, "no Guardband blocks found", "`guardband new DIR` makes one that compiles")
	case designs == 0 && library < len(c.blocks):
		c.diags.At(notebook.Warn, "design-missing", first, 0, 0, "this notebook has no design block",
			"add one with a title, so that the record can name the design")
	}
}

// work counts what a few lines of the notes can ask without measure.
type work struct {
	cells   int // of shortlists: candidates times criteria
	samples int // of Monte Carlo analyses
	retried int // claims worked out again for alternates and states
	boxes   int // of proofs, in those of a usual program
}

// The most of each, some seconds of work; tests ask less.
var (
	mostCells   = 20_000
	mostSamples = 300_000_000
	mostRetried = 500_000
	mostBoxes   = 400_000 // of a whole design; an honest one takes a thousandth
)
