package notebook

// This file holds the closed tables of the language: which fences there are,
// which labels each takes, and what a label's value may be. A new fence or
// label is one row here.

// idRule says whether a fence word is followed by an ID.
type idRule uint8

const (
	noID    idRule = iota
	nameID         // a name: letters, digits, "_"
	dashID         // a name that may also hold "-"
	anyWord        // any run without blanks, such as a net
)

// argRule says whether a word stands between a label and its colon.
type argRule uint8

const (
	noArg argRule = iota
	maybeArg
	needArg
)

// rowRule says how the rows of a label or block are read.
type rowRule uint8

const (
	noRows rowRule = iota
	pinRows
	needRows
	stateRows
	pathRows
	circuitRows
	budgetRows
)

// label is one row of a block's table.
type label struct {
	name    string
	repeat  bool    // may stand more than once
	prose   bool    // only whole-line comments are cut
	arg     argRule // word before the colon
	noCites bool    // square brackets are text
	rows    rowRule // indented lines below are rows
	conds   bool    // the value is a list of conditions
	formula bool    // a "[" after an operator opens a list
	dates   dateRule
}

// blockSpec is one kind of block.
type blockSpec struct {
	kind     string
	id       idRule
	defs     bool     // takes definitions
	sections bool     // its definitions carry a section word
	paths    bool     // its definitions may name a path: U1.V_OUT
	rows     rowRule  // takes rows of its own
	follows  []string // labels that may stand indented under an entry
	labels   []label
}

// Labels that others than the reader of their block ask for by name.
const (
	InUse       = "in use"
	AtLeastZero = "at least zero"
	Waiver      = "waiver"
	Hazard      = "hazard"
)

// common attributes of several kinds.
var (
	hazardLabel  = label{name: Hazard, repeat: true}
	checkedLabel = label{name: "checked", repeat: true, dates: someDates}
	sourceLabel  = label{name: "source", noCites: true}
	reasonLabel  = label{name: "reason", repeat: true, prose: true}
	noteLabel    = label{name: "note", repeat: true, prose: true}
	skipLabel    = label{name: "skip", repeat: true, prose: true, arg: needArg}
	waiverOfID   = label{name: Waiver, repeat: true, prose: true, arg: needArg, dates: someDates}
	waiverLabel  = label{name: Waiver, prose: true, dates: someDates}
	acceptsLabel = label{name: "accepts"}
	zeroLabel    = label{name: AtLeastZero, repeat: true}
	statesLabel  = label{name: "states", rows: stateRows}
	inUseLabel   = label{name: InUse, repeat: true, conds: true}
	criterion    = label{name: "criterion", repeat: true, formula: true}
	pinListLabel = label{name: "pin list", repeat: true, prose: true, noCites: true}
	netListLabel = label{name: "netlist", repeat: true, prose: true, noCites: true}
	bomLabel     = label{name: "parts list", repeat: true, prose: true, noCites: true}
	placedLabel  = label{name: "placed from", repeat: true, prose: true, noCites: true}
	netsLabel    = label{name: "nets", repeat: true, noCites: true}
	tolLabel     = label{name: "tolerances"}
	columnsLabel = label{name: "columns", repeat: true, noCites: true}
	leaveLabel   = label{name: "leave out", repeat: true, noCites: true}
	padsLabel    = label{name: "pads", repeat: true, arg: maybeArg, noCites: true}
	derateLabel  = label{name: "derating", repeat: true, arg: maybeArg}
	titleLabel   = label{name: "title", prose: true}
	dateLabel    = label{name: "date", dates: oneDate}
	personLabel  = label{name: "person", prose: true}
	instrLabel   = label{name: "instrument", prose: true}
	marginLabel  = label{name: "margin"}
	analysis     = label{name: "analysis"}
	yieldLabel   = label{name: "yield"}
	spreadLabel  = label{name: "spread"}
)

var blockSpecs = []blockSpec{
	{kind: "design", labels: []label{
		titleLabel, {name: "revision", prose: true, dates: someDates}, {name: "version", prose: true, dates: someDates},
		{name: "author", repeat: true, prose: true}, dateLabel, {name: "status", dates: someDates},
		{name: "include", repeat: true, noCites: true, rows: pathRows},
		{name: "ambient"}, hazardLabel, {name: "acknowledge", repeat: true, dates: someDates},
		{name: "market"}, {name: "requirements", repeat: true},
		statesLabel, skipLabel, waiverOfID, derateLabel, zeroLabel,
		{name: "boards"}, {name: "attrition"},
		pinListLabel, netListLabel, bomLabel, columnsLabel, leaveLabel, padsLabel, noteLabel,
		{name: "evidence", prose: true, noCites: true},
	}},
	{kind: "source", id: dashID, labels: []label{
		titleLabel, {name: "issuer", prose: true}, {name: "revision", prose: true, dates: someDates}, {name: "date", dates: someDates},
		{name: "file", prose: true, noCites: true}, {name: "sha256", noCites: true},
		{name: "first page", noCites: true}, {name: "corrects", repeat: true, noCites: true},
		instrLabel, {name: "calibrated", dates: oneDate}, personLabel,
		{name: "url", prose: true, noCites: true}, {name: "retrieved", dates: oneDate}, {name: "language"},
		{name: "requirement", repeat: true, prose: true, arg: needArg},
		{name: "requirements", repeat: true}, checkedLabel, noteLabel,
	}},
	{kind: "part", id: nameID, defs: true, sections: true, labels: []label{
		titleLabel, {name: "maker", prose: true}, {name: "kind"}, sourceLabel, {name: "version", prose: true, dates: someDates},
		{name: "order", repeat: true}, {name: "code", repeat: true},
		{name: "field", repeat: true, arg: needArg},
		{name: "package", repeat: true}, {name: "body", repeat: true}, {name: "pitch", repeat: true},
		{name: "height", repeat: true}, {name: "pads", repeat: true},
		{name: "exposed pad", repeat: true}, {name: "land pattern", repeat: true},
		{name: "absmax"}, {name: "pins", repeat: true, arg: maybeArg, rows: pinRows}, {name: "application",
			repeat: true, arg: maybeArg, rows: needRows},
		{name: "address", repeat: true}, hazardLabel, zeroLabel, derateLabel, checkedLabel,
		{name: "status", dates: someDates}, {name: "moisture"}, {name: "marking", prose: true},
		{name: "temperature grade"}, {name: "alternates", repeat: true}, {name: "pack"},
		skipLabel, noteLabel,
	}},
	{kind: "values", defs: true, labels: []label{sourceLabel, hazardLabel, checkedLabel, zeroLabel, noteLabel}},
	{kind: "claim", id: dashID, labels: []label{
		{name: "statement", prose: true}, criterion, marginLabel, analysis, yieldLabel, spreadLabel,
		{name: "inspection", repeat: true, prose: true}, {name: "result", prose: true, dates: someDates}, {name: "method"},
		reasonLabel, {name: "meets", repeat: true}, {name: "state", repeat: true},
		waiverLabel, acceptsLabel, hazardLabel, {name: "severity"}, sourceLabel, noteLabel,
	}},
	{kind: "circuit", rows: circuitRows, labels: []label{
		titleLabel, sourceLabel, skipLabel, waiverOfID, hazardLabel, inUseLabel, derateLabel,
		placedLabel, netsLabel, tolLabel, pinListLabel, netListLabel, bomLabel, columnsLabel, leaveLabel, padsLabel, noteLabel,
	}},
	{kind: "budget", id: anyWord, rows: budgetRows, labels: []label{
		titleLabel, {name: "supply"}, statesLabel, {name: "cell"}, {name: "usable"}, {name: "self-discharge"},
		sourceLabel, hazardLabel, reasonLabel, noteLabel,
	}},
	{kind: "shortlist", id: dashID, labels: []label{
		titleLabel, {name: "statement", prose: true}, {name: "candidates", repeat: true}, criterion,
		marginLabel, analysis, yieldLabel, spreadLabel, {name: "choice"}, reasonLabel,
		waiverLabel, acceptsLabel, {name: "state", repeat: true}, sourceLabel, hazardLabel, noteLabel,
	}},
	{kind: "readings", defs: true, paths: true, follows: []string{"settles", "state"}, labels: []label{
		titleLabel, {name: "settles", repeat: true}, {name: "state", repeat: true}, instrLabel, personLabel, dateLabel,
		{name: "board", prose: true}, sourceLabel, inUseLabel, hazardLabel, noteLabel,
	}},
	{kind: "review", labels: []label{
		titleLabel, {name: "type", prose: true}, dateLabel, {name: "entry", repeat: true, prose: true},
		{name: "items", repeat: true, prose: true}, {name: "participants", repeat: true, prose: true},
		{name: "action", repeat: true, prose: true, arg: needArg, dates: someDates}, {name: "closed", repeat: true,
			prose: true, arg: needArg, dates: someDates},
		{name: "decision", prose: true}, noteLabel,
	}},
}

// specOf finds a kind of block by its fence word; nil where there is none.
func specOf(word string) *blockSpec {
	for i := range blockSpecs {
		if blockSpecs[i].kind == word {
			return &blockSpecs[i]
		}
	}
	return nil
}

// label finds a label of the kind; nil where there is none.
func (s *blockSpec) label(name string) *label {
	for i := range s.labels {
		if s.labels[i].name == name {
			return &s.labels[i]
		}
	}
	return nil
}

// labelNames are the labels of the kind in the table's order.
func (s *blockSpec) labelNames() []string {
	out := make([]string, len(s.labels))
	for i, l := range s.labels {
		out[i] = l.name
	}
	return out
}

// Kinds are the fence words, in the order of the language guide.
func Kinds() []string {
	out := make([]string, len(blockSpecs))
	for i, s := range blockSpecs {
		out[i] = s.kind
	}
	return out
}

// Labels are the labels that a kind of block takes.
func Labels(kind string) []string {
	if s := specOf(kind); s != nil {
		return s.labelNames()
	}
	return nil
}
