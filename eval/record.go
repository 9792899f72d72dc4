package eval

// SchemaName is the value of Record.Schema. The JSON Schema of this form
// stands in report/json/schema.json.
const SchemaName = "guardband.record/1"

// Verdict of a claim, a criterion, or a part of one.
type Verdict string

const (
	Passed  Verdict = "passed"
	Failed  Verdict = "failed"
	Open    Verdict = "open"
	Waived  Verdict = "waived"  // failed or open, accepted in writing until a date
	Skipped Verdict = "skipped" // a built-in check switched off by name with a reason
)

// Record is everything a report shows. It is a plain value: written as JSON
// and read back it is the same. Numbers are SI base values (null where
// unknown or unbounded) beside the text that a reader sees.
type Record struct {
	Schema       string        `json:"schema"`
	Design       Design        `json:"design"`
	Summary      Summary       `json:"summary"`
	Safety       []Caution     `json:"safety"`
	Attention    []string      `json:"attention"` // claim IDs: failed, open, waived, then thinnest margins
	Claims       []Claim       `json:"claims"`
	Content      []Notebook    `json:"content"` // the notes as written
	Values       []Value       `json:"values"`
	Parts        []Part        `json:"parts"`
	Placements   []Placement   `json:"placements"`
	Sources      []Source      `json:"sources"`
	Budgets      []Budget      `json:"budgets"`
	Shortlists   []Shortlist   `json:"shortlists"`
	Readings     []Reading     `json:"readings"`
	Review       Review        `json:"review"`
	Requirements []Requirement `json:"requirements"`
	Assumptions  []Assumption  `json:"assumptions"`
	LookUp       []LookUp      `json:"look_up"` // what to look up to settle open claims, by document and page
	PartsList    []PartsLine   `json:"parts_list"`
	Diagnostics  []Diagnostic  `json:"diagnostics"`
}

// Position is a place in a notebook; Line and Column count from 1.
type Position struct {
	File   string `json:"file"`
	Line   int    `json:"line"`
	Column int    `json:"column"`
}

// Design identifies what was checked.
type Design struct {
	Title     string       `json:"title"`
	Revision  string       `json:"revision"`
	Author    string       `json:"author,omitempty"`
	Date      string       `json:"date,omitempty"`
	Ambient   string       `json:"ambient,omitempty"`
	States    []string     `json:"states,omitempty"`
	Notebooks []FileDigest `json:"notebooks"`
	Commit    string       `json:"commit,omitempty"`
	Tool      string       `json:"tool"`
	AsOf      string       `json:"as_of"` // the day against which waivers are judged, ISO 8601
}

// FileDigest names a file and its SHA-256.
type FileDigest struct {
	Path   string `json:"path"`
	SHA256 string `json:"sha256"`
}

// Summary counts verdicts over written and built-in claims.
type Summary struct {
	Passed   int `json:"passed"`
	Failed   int `json:"failed"`
	Open     int `json:"open"`
	Waived   int `json:"waived"`
	Skipped  int `json:"skipped"`
	Errors   int `json:"errors"`
	Warnings int `json:"warnings"`
}

// Caution is a safety message. It is never switched off.
type Caution struct {
	ID           string    `json:"id"`
	Hazard       string    `json:"hazard"` // "mains", "lithium-ion battery"
	Word         string    `json:"word"`   // DANGER, WARNING, CAUTION, NOTICE
	Text         []string  `json:"text"`
	Why          string    `json:"why"`                    // what in the notes called for it
	Source       string    `json:"source"`                 // published source of the threshold
	Claims       []string  `json:"claims"`                 // IDs of claims it touches
	Acknowledged string    `json:"acknowledged,omitempty"` // by whom, when
	Position     *Position `json:"position,omitempty"`
}

// Claim is one statement with its verdict. Kind is "claim", "built-in",
// "shortlist" or "reading".
type Claim struct {
	ID         string      `json:"id"`
	Kind       string      `json:"kind"`
	Check      string      `json:"check,omitempty"` // built-in: "supply-range"
	Rule       string      `json:"rule,omitempty"`  // built-in: the rule in words
	RuleSource string      `json:"rule_source,omitempty"`
	Statement  string      `json:"statement"`
	Verdict    Verdict     `json:"verdict"`
	Under      Verdict     `json:"under,omitempty"` // of a waived claim: what it is without the waiver
	Headline   string      `json:"headline"`        // one line: "passed, margin 8.9 % of limit", "failed, waived until 2027-03-01"
	Reason     string      `json:"reason,omitempty"`
	Criteria   []Criterion `json:"criteria"`
	Inspection *Inspection `json:"inspection,omitempty"`
	Method     string      `json:"method"`
	Analysis   string      `json:"analysis"` // "worst case", "root sum square", "Monte Carlo 200000"
	Meets      []string    `json:"meets,omitempty"`
	States     []string    `json:"states,omitempty"`
	Cites      []Cite      `json:"cites"`             // every page it rests on, each once
	RestsOn    []Basis     `json:"rests_on"`          // every fact and value it rests on
	Assumes    []int       `json:"assumes,omitempty"` // indices into assumptions
	Safety     []string    `json:"safety,omitempty"`  // caution IDs
	Waiver     *Waiver     `json:"waiver,omitempty"`
	Actions    []Action    `json:"actions,omitempty"`
	Open       []OpenPoint `json:"open,omitempty"` // reasons that concern the whole claim
	Position   *Position   `json:"position,omitempty"`
}

// Criterion is one expression that must hold.
type Criterion struct {
	Text          string         `json:"text"`
	Math          *Math          `json:"math,omitempty"`    // as written
	Numbers       *Math          `json:"numbers,omitempty"` // with the numbers put in
	Verdict       Verdict        `json:"verdict"`
	State         string         `json:"state,omitempty"`
	Tests         []Test         `json:"tests"`                 // its comparisons
	Failure       string         `json:"failure,omitempty"`     // "broken" or "short"
	Corner        []CornerValue  `json:"corner,omitempty"`      // breaking corner, or the worst one of a pass
	CornerText    string         `json:"corner_text,omitempty"` // what the sides come to there
	Contributions []Contribution `json:"contributions,omitempty"`
	Open          []OpenPoint    `json:"open,omitempty"`
	Statistics    *Statistics    `json:"statistics,omitempty"`
	Boxes         int            `json:"boxes"` // boxes the proof took; 0 by corners alone
	Position      *Position      `json:"position,omitempty"`
}

// Span is the range of a side over the facts.
type Span struct {
	Text    string   `json:"text"` // as typed
	Nominal *float64 `json:"nominal"`
	Min     *float64 `json:"min"`
	Max     *float64 `json:"max"`
	Unit    string   `json:"unit"`  // SI base unit of the numbers
	Shown   string   `json:"shown"` // "2.94 V to 3.06 V"
	Exact   bool     `json:"exact"` // both ends are attained ("exactly"), else "at most"
}

// Test is one comparison.
type Test struct {
	Text       string  `json:"text"`
	Op         string  `json:"op"`
	Left       Span    `json:"left"`
	Right      Span    `json:"right"`
	LimitRight bool    `json:"limit_right"`
	Verdict    Verdict `json:"verdict"`
	Margin     *Margin `json:"margin,omitempty"`
}

// Margin is the smallest distance to the limit over the facts.
type Margin struct {
	Absolute         *float64 `json:"absolute"` // SI; negative is a miss
	Percent          *float64 `json:"percent"`
	Base             string   `json:"base"`               // what the percentage is of: "limit", "span", "nominal"
	Required         string   `json:"required,omitempty"` // as typed: "10 % of limit"
	RequiredAbsolute *float64 `json:"required_absolute,omitempty"`
	Text             string   `json:"text"` // "0.24 V, 8.9 % of limit"
}

// CornerValue is one input at a corner.
type CornerValue struct {
	Name  string   `json:"name"`
	Value *float64 `json:"value"`
	Text  string   `json:"text"`
	End   string   `json:"end,omitempty"` // "min", "max", "inside"
}

// Contribution is how much of the margin one input uses.
type Contribution struct {
	Name    string   `json:"name"`
	Share   float64  `json:"share"`    // of 1
	TurnsAt *float64 `json:"turns_at"` // SI value at which the verdict turns, others at worst
	Text    string   `json:"text"`     // "turns at 3.31 V", "not monotone", "never turns"
}

// OpenPoint is why a claim is open and what would settle it.
type OpenPoint struct {
	Reason string `json:"reason"` // "typical only", "no minimum", "condition", "citation", "no result", "budget", "undefined", "not evaluated", "unconfirmed", "nothing stated"
	Text   string `json:"text"`
	Settle string `json:"settle,omitempty"`
	Source string `json:"source,omitempty"`
	Page   string `json:"page,omitempty"`
}

// Statistics of a criterion judged by root sum square or Monte Carlo.
type Statistics struct {
	Text      string   `json:"text"`
	Centre    *float64 `json:"centre,omitempty"`
	Delta     *float64 `json:"delta,omitempty"`
	Samples   int      `json:"samples,omitempty"`
	Held      int      `json:"held,omitempty"`
	YieldLow  *float64 `json:"yield_low,omitempty"`
	YieldHigh *float64 `json:"yield_high,omitempty"`
}

// Inspection is what a person must look at.
type Inspection struct {
	Text   string `json:"text"`
	Result string `json:"result"` // "", "passed", "failed", "not applicable"
	Date   string `json:"date,omitempty"`
	Person string `json:"person,omitempty"`
	Note   string `json:"note,omitempty"`
}

// Waiver accepts a failed or open claim until a date.
type Waiver struct {
	Until   string `json:"until"`
	Person  string `json:"person"`
	Reason  string `json:"reason"`
	Accepts string `json:"accepts,omitempty"`
	InForce bool   `json:"in_force"`
	Why     string `json:"why,omitempty"` // why it is not in force: "expired", "the miss is larger than accepted"
}

// Cite is a citation and how far it was checked.
type Cite struct {
	Source   string    `json:"source"`
	Page     string    `json:"page"`              // as cited: "p.6", "pdf.6", "p.6-7"
	Counted  int       `json:"counted,omitempty"` // counted page found
	Printed  string    `json:"printed,omitempty"` // printed label
	Section  string    `json:"section,omitempty"`
	Quote    string    `json:"quote,omitempty"`
	Checked  string    `json:"checked"`           // "words", "numbers", "page", "no text", "no file", "not found", "no page", "not checked", "other revision"
	Text     string    `json:"text"`              // the same in a sentence
	Line     string    `json:"line,omitempty"`    // the line found on the page
	Picture  string    `json:"picture,omitempty"` // data URI of a PNG of the cited lines
	Width    int       `json:"width,omitempty"`   // of the picture, pixels
	Height   int       `json:"height,omitempty"`
	File     string    `json:"file,omitempty"` // path for a link, relative to the root notebook
	Position *Position `json:"position,omitempty"`
}

// Basis is a fact or value that a claim rests on.
type Basis struct {
	Name     string    `json:"name"`  // "U1.operating.V_DD"
	Shown    string    `json:"shown"` // "1.8 V to 3.6 V"
	At       string    `json:"at,omitempty"`
	Cites    []Cite    `json:"cites,omitempty"`
	Assumed  string    `json:"assumed,omitempty"`
	Position *Position `json:"position,omitempty"`
}

// Value is one of the design's own quantities.
type Value struct {
	Name     string    `json:"name"`
	Formula  string    `json:"formula"` // the right-hand side as typed
	Math     *Math     `json:"math,omitempty"`
	Numbers  *Math     `json:"numbers,omitempty"`
	Derived  bool      `json:"derived"`
	Nominal  *float64  `json:"nominal"`
	Min      *float64  `json:"min"`
	Max      *float64  `json:"max"`
	Unit     string    `json:"unit"`
	Text     string    `json:"text"` // "62.1 µA to 68.4 µA"
	Exact    bool      `json:"exact"`
	Assumed  string    `json:"assumed,omitempty"`
	Source   string    `json:"source,omitempty"` // published source of a formula used
	Cites    []Cite    `json:"cites"`
	UsedBy   []string  `json:"used_by,omitempty"` // claim IDs
	Position *Position `json:"position,omitempty"`
}

// Part is one part type as noted.
type Part struct {
	ID       string             `json:"id"`
	Title    string             `json:"title"`
	Order    []string           `json:"order"`
	Package  string             `json:"package"`
	Maker    string             `json:"maker,omitempty"`
	Status   string             `json:"status,omitempty"`  // lifecycle with its date
	Checked  string             `json:"checked,omitempty"` // second person, date
	Sections map[string]Section `json:"sections"`          // keys: "order code", "package", "pins", "characteristics", "maximum ratings", "application circuit"
	Decoded  []Field            `json:"decoded,omitempty"`
	Facts    []Fact             `json:"facts"`
	Pins     []Pin              `json:"pins"`
	Needs    []Need             `json:"needs"`
	Placed   []string           `json:"placed"`
	Notes    []Field            `json:"notes,omitempty"` // moisture, marking, temperature grade...
	Position *Position          `json:"position,omitempty"`
}

// Section says whether one of the six sections of a first look is noted, and where.
type Section struct {
	Noted bool   `json:"noted"`
	Pages string `json:"pages,omitempty"`
}

// Field is a named text.
type Field struct {
	Name  string `json:"name"`
	Value string `json:"value"`
	Means string `json:"means,omitempty"`
	Cites []Cite `json:"cites,omitempty"`
}

// Fact is one row of a part's characteristics or limits.
type Fact struct {
	Section     string    `json:"section"` // "operating", "absmax", "spec"
	Name        string    `json:"name"`
	Pins        []string  `json:"pins,omitempty"`
	Text        string    `json:"text"` // as typed
	Min         *float64  `json:"min"`
	Typ         *float64  `json:"typ"`
	Max         *float64  `json:"max"`
	MinText     string    `json:"min_text,omitempty"`
	TypText     string    `json:"typ_text,omitempty"`
	MaxText     string    `json:"max_text,omitempty"`
	Unit        string    `json:"unit"`
	At          string    `json:"at,omitempty"`
	Unconfirmed bool      `json:"unconfirmed,omitempty"`
	Cites       []Cite    `json:"cites"`
	UsedBy      []string  `json:"used_by,omitempty"`
	Position    *Position `json:"position,omitempty"`
}

// Pin is a pin row.
type Pin struct {
	Numbers []string `json:"numbers"`
	Name    string   `json:"name"`
	Type    string   `json:"type"`
	Flags   []string `json:"flags,omitempty"`
	Cites   []Cite   `json:"cites,omitempty"`
}

// Need is an application-circuit row.
type Need struct {
	Text  string `json:"text"`
	MetBy string `json:"met_by,omitempty"`
	Cites []Cite `json:"cites,omitempty"`
}

// Placement is what stands on the board.
type Placement struct {
	Ref      string    `json:"ref"`
	Part     string    `json:"part"` // part ID or kind
	Text     string    `json:"text"` // value and options as typed
	Nets     []Field   `json:"nets"` // pin, net
	InUse    string    `json:"in_use,omitempty"`
	Position *Position `json:"position,omitempty"`
}

// PartsLine is one line of the parts list.
type PartsLine struct {
	Quantity int      `json:"quantity"`
	Refs     []string `json:"refs"`
	Part     string   `json:"part"`
	Order    string   `json:"order"`
	Package  string   `json:"package"`
	Title    string   `json:"title"`
	Maker    string   `json:"maker,omitempty"`
	Status   string   `json:"status,omitempty"`
	Boards   int      `json:"boards,omitempty"`   // how many boards it is for; 0 where the design does not say
	Pack     int      `json:"pack,omitempty"`     // pieces in a pack
	ToOrder  int      `json:"to_order,omitempty"` // pieces to order: attrition and whole packs counted
}

// Source is one document.
type Source struct {
	ID        string         `json:"id"`
	Title     string         `json:"title"`
	Issuer    string         `json:"issuer,omitempty"`
	Revision  string         `json:"revision,omitempty"`
	Date      string         `json:"date,omitempty"`
	File      string         `json:"file,omitempty"`
	SHA256    string         `json:"sha256,omitempty"`   // of the file found
	Recorded  string         `json:"recorded,omitempty"` // digest in the notes
	OnFile    bool           `json:"on_file"`
	Changed   bool           `json:"changed"` // found digest differs from the recorded one
	Pages     int            `json:"pages"`
	TextPages int            `json:"text_pages"`
	Cited     int            `json:"cited"`             // citations from it
	Checked   map[string]int `json:"checked,omitempty"` // citations by grade
	Corrects  string         `json:"corrects,omitempty"`
	State     string         `json:"state"`               // sentence: "at hand, digest agrees"
	Age       string         `json:"age,omitempty"`       // how long ago the document was fetched, where the notes say so
	Citations []Citation     `json:"citations,omitempty"` // every citation from it, in the order of the notes
	Position  *Position      `json:"position,omitempty"`
}

// Citation is one citation of a document, for the list that says what still
// stands in a new revision.
type Citation struct {
	Name     string    `json:"name,omitempty"` // fact it was cited for
	Page     string    `json:"page"`
	Quote    string    `json:"quote,omitempty"`
	Checked  string    `json:"checked"`           // as in Cite; of a changed file what the new one says
	Now      []int     `json:"now,omitempty"`     // counted pages where the words stand now, where not on the cited one
	Missing  []string  `json:"missing,omitempty"` // numbers of the fact that are not on the page
	Slip     string    `json:"slip,omitempty"`
	Erratum  string    `json:"erratum,omitempty"` // what a correcting document says of the same words
	Position *Position `json:"position,omitempty"`
}

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
	Text     string    `json:"text"`
	Kind     string    `json:"kind"` // "uncited value", "condition", "bare figure", "typical by name", "at least zero", "assumed"
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
