package record

// This file holds what the record says of the design beside its claims:
// budgets, shortlists, readings, the review, and the notes as written.

// Budget is the loads of one supply.
type Budget struct {
	Net      string    `json:"net"`
	Supply   string    `json:"supply,omitempty"`
	Rows     []Load    `json:"rows"`
	Results  []Value   `json:"results"` // peak, average, energy per day, life
	Position *Position `json:"position,omitempty"`
}

// Load is one row of a budget.
type Load struct {
	Ref         string   `json:"ref"`
	State       string   `json:"state"`
	Text        string   `json:"text"`
	Duty        string   `json:"duty,omitempty"`
	Average     *float64 `json:"average"`
	AverageText string   `json:"average_text"`
	Cites       []Cite   `json:"cites,omitempty"`
}

// Shortlist is candidates by criteria.
type Shortlist struct {
	ID         string            `json:"id"`
	Candidates []string          `json:"candidates"`
	Criteria   []string          `json:"criteria"`
	Cells      [][]ShortlistCell `json:"cells"` // per candidate, per criterion
	Choice     string            `json:"choice,omitempty"`
	Reason     string            `json:"reason,omitempty"`
	Position   *Position         `json:"position,omitempty"`
}

// ShortlistCell is one candidate against one criterion.
type ShortlistCell struct {
	Verdict Verdict `json:"verdict"`
	Margin  string  `json:"margin,omitempty"`
	Text    string  `json:"text"`
	Cites   []Cite  `json:"cites,omitempty"`
}

// Reading is a measurement on the built board.
type Reading struct {
	Name      string    `json:"name"`
	Reading   string    `json:"reading"`
	Predicted string    `json:"predicted"`
	Verdict   Verdict   `json:"verdict"`
	Text      string    `json:"text"`
	Settles   string    `json:"settles,omitempty"`
	Cites     []Cite    `json:"cites,omitempty"`
	Position  *Position `json:"position,omitempty"`
}

// Review is the design review's people and actions.
type Review struct {
	Participants []Field  `json:"participants"`
	Actions      []Action `json:"actions"`
}

// Action of a design review.
type Action struct {
	ID     string `json:"id"`
	Claim  string `json:"claim,omitempty"`
	Owner  string `json:"owner"`
	Due    string `json:"due"`
	Text   string `json:"text"`
	Closed string `json:"closed,omitempty"`
}

// Requirement and the claims that answer it.
type Requirement struct {
	ID     string   `json:"id"`
	Source string   `json:"source"`
	Text   string   `json:"text,omitempty"`
	Claims []string `json:"claims"`
}

// Assumption is something taken as given.
type Assumption struct {
	Text string `json:"text"`
	// "uncited value", "condition", "bare figure", "typical by name", "at least
	// zero", "assumed", "standard figure", "maximum rating"
	Kind     string    `json:"kind"`
	Claims   []string  `json:"claims"`
	Position *Position `json:"position,omitempty"`
}

// LookUp is one thing to find in a document.
type LookUp struct {
	Source string   `json:"source"`
	Page   string   `json:"page,omitempty"`
	Text   string   `json:"text"`
	Claims []string `json:"claims"`
}

// Diagnostic is a complaint about the notebook.
type Diagnostic struct {
	Code      string    `json:"code"`
	Severity  string    `json:"severity"`
	File      string    `json:"file"`
	Line      int       `json:"line"`
	Column    int       `json:"column"`
	EndColumn int       `json:"end_column,omitempty"`
	Source    string    `json:"source,omitempty"`
	Message   string    `json:"message"`
	Hint      string    `json:"hint,omitempty"`
	Related   []Related `json:"related,omitempty"`
}

// Related is another place a diagnostic speaks of.
type Related struct {
	Position
	Message string `json:"message"`
}

// Notebook is one file of the notes as written.
type Notebook struct {
	Path  string `json:"path"`
	Nodes []Node `json:"nodes"`
}

// Node is a piece of prose or a block. Kind is as in notebook.NodeKind.
type Node struct {
	Kind     string    `json:"kind"`
	Level    int       `json:"level,omitempty"`
	ID       string    `json:"id,omitempty"`
	Text     string    `json:"text,omitempty"` // text; of value and verdict nodes what is printed
	URL      string    `json:"url,omitempty"`
	Info     string    `json:"info,omitempty"`
	Ordered  bool      `json:"ordered,omitempty"`
	Start    int       `json:"start,omitempty"`
	Align    string    `json:"align,omitempty"`
	Head     bool      `json:"head,omitempty"`
	Checked  string    `json:"checked,omitempty"`
	Cite     *Cite     `json:"cite,omitempty"`
	Verdict  Verdict   `json:"verdict,omitempty"` // of a verdict node
	Ref      string    `json:"ref,omitempty"`     // claim ID, value name it points to
	Block    *BlockRef `json:"block,omitempty"`
	Children []Node    `json:"children,omitempty"`
}

// BlockRef is a block in its place in the notes. What it holds stands in the
// record's lists under the same name: a claim's ID, a part's ID, the values'
// names, the placements' designators.
type BlockRef struct {
	Kind     string    `json:"kind"`
	ID       string    `json:"id,omitempty"`
	Names    []string  `json:"names,omitempty"`  // of values, circuit: what the block defines, in order
	Fields   []Field   `json:"fields,omitempty"` // attributes as typed
	Lines    string    `json:"lines"`            // as typed
	Position *Position `json:"position,omitempty"`
}

// Math is a formula to typeset.
type Math struct {
	// Op is "number", "name", "text", "row" (binary + - * and or, comparisons:
	// Text is the sign), "chain" (Signs between Args), "fraction", "power",
	// "root", "neg", "not", "call" (Text is the name), "list", "paren",
	// "if" (cond, then, else), "inside" (value, lo, hi: Text is "inside" or "not inside"), "range" (lo, hi).
	Op    string   `json:"op"`
	Text  string   `json:"text,omitempty"`
	Signs []string `json:"signs,omitempty"`
	Args  []Math   `json:"args,omitempty"`
}

// KindRating is the kind of assumption of a pass that rests on a maximum rating:
// the part survives it, which is less than that it works.
const KindRating = "maximum rating"
