// Package record has the types and words of the Record, from which alone every
// report is drawn, and what differs between two of them.
package record

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
	Roots        []Root        `json:"roots"`   // reasons that several open claims share, the one that opens most first
	LookUp       []LookUp      `json:"look_up"` // what to look up to settle open claims, by document and page
	PartsList    []PartsLine   `json:"parts_list"`
	Diagnostics  []Diagnostic  `json:"diagnostics"`
	Since        *Since        `json:"since,omitempty"` // against an earlier record, where one was given

	// Faults is how many faults of the program itself the compilation met.
	Faults int `json:"-"`
	// Files are those that were read, for whoever compiles; not part of the
	// record as written.
	Files []File `json:"-"`
}

// File is a file that a design was read from.
type File struct {
	Abs    string // absolute path, symbolic links resolved
	SHA256 string // of its bytes
	Kind   FileKind
}

// FileKind says what a file is to a design.
type FileKind uint8

// Kinds of files.
const (
	FileNotebook FileKind = iota
	FileDocument          // a source that is cited
	FileExported          // a parts list, pin list or netlist
)

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
	// limits noted of placed parts, and those of them that no claim judges
	LimitsNoted    int `json:"limits_noted,omitempty"`
	LimitsUnjudged int `json:"limits_unjudged,omitempty"`
	// passes on figures that no note states: of generic parts, of standards, of common practice
	OnDefaults int `json:"on_defaults,omitempty"`
	// what passed of each built-in check, by the name of the check
	Checks []CheckCount `json:"checks,omitempty"`
}

// Of is the number of claims with verdict v, nil where it is none.
func (s *Summary) Of(v Verdict) *int {
	switch v {
	case Failed:
		return &s.Failed
	case Open:
		return &s.Open
	case Waived:
		return &s.Waived
	case Passed:
		return &s.Passed
	case Skipped:
		return &s.Skipped
	}
	return nil
}

// Add counts one more claim with verdict v.
func (s *Summary) Add(v Verdict) {
	if n := s.Of(v); n != nil {
		*n++
	}
}

// CheckCount is how many claims of a built-in check passed, and the least of
// their margins.
type CheckCount struct {
	Check  string `json:"check"`
	Passed int    `json:"passed"`
	Least  string `json:"least,omitempty"` // "0.1 V"
	Claim  string `json:"claim,omitempty"` // that has it
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
	Derating   string      `json:"derating,omitempty"`   // of a rating: the share of it that may be used, "none stated"
	SkippedBy  string      `json:"skipped_by,omitempty"` // who took a skip on, and when; "" where nobody is noted
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
	Lacking          string   `json:"lacking,omitempty"` // what is missing from the margin asked: "171.5 mV"
	Text             string   `json:"text"`              // "0.24 V, 8.9 % of limit"
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
	// "typical only", "no minimum", "condition", "citation", "no result", "budget", "undefined", "not evaluated",
	// "unconfirmed", "nothing stated", "default"
	Reason string `json:"reason"`
	Text   string `json:"text"`
	Settle string `json:"settle,omitempty"`
	Source string `json:"source,omitempty"`
	Page   string `json:"page,omitempty"`
}

// Root is a reason that keeps several claims open.
type Root struct {
	Reason string   `json:"reason"`
	Text   string   `json:"text"`
	Settle string   `json:"settle,omitempty"`
	Source string   `json:"source,omitempty"`
	Page   string   `json:"page,omitempty"`
	Opens  int      `json:"opens"`  // how many claims it keeps open
	Claims []string `json:"claims"` // IDs of those told with it: they wait for nothing but shared reasons, and this one opens most
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
	Source  string `json:"source"`
	Page    string `json:"page"`              // as cited: "p.6", "pdf.6", "p.6-7"
	Counted int    `json:"counted,omitempty"` // counted page found
	Printed string `json:"printed,omitempty"` // printed label
	Section string `json:"section,omitempty"`
	Quote   string `json:"quote,omitempty"`
	// "words", "numbers", "text layer", "committed evidence", "page", "no text", "no file", "not found", "no page",
	// "not checked", "other revision", "read by a person"
	Checked  string    `json:"checked"`
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

// Thinnest is the least margin of the claim, nil where none shows one.
func (o *Claim) Thinnest() *Margin {
	var best *Margin
	for i := range o.Criteria {
		if m := o.Criteria[i].Thinnest(); m != nil && (best == nil || m.Key() < best.Key()) {
			best = m
		}
	}
	return best
}

// Thinnest is the least margin of its comparisons, nil where none shows one.
func (k *Criterion) Thinnest() *Margin {
	var best *Margin
	for i := range k.Tests {
		if m := k.Tests[i].Margin; m != nil && (best == nil || m.Key() < best.Key()) {
			best = m
		}
	}
	return best
}

// Key is what margins are ordered by: the share where there is one.
func (m *Margin) Key() float64 {
	if m.Percent != nil {
		return *m.Percent / 100
	}
	return *m.Absolute
}
