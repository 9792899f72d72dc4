// Package sarif writes a Record as a SARIF 2.1.0 log (OASIS standard, Static
// Analysis Results Interchange Format): a claim or a diagnostic is a result.
package sarif

import (
	"encoding/json"
	"fmt"
	"io"
	"net/url"
	"path/filepath"
	"slices"
	"strings"

	"guardband/eval/record"
	"guardband/report/internal/words"
	"guardband/report/outline"
)

type log struct {
	Schema  string `json:"$schema"`
	Version string `json:"version"`
	Runs    []run  `json:"runs"`
}

type run struct {
	Tool       tool     `json:"tool"`
	Results    []result `json:"results"`
	ColumnKind string   `json:"columnKind"`
}

type tool struct {
	Driver driver `json:"driver"`
}

type driver struct {
	Name    string `json:"name"`
	Version string `json:"version,omitempty"`
	Rules   []rule `json:"rules"`
}

type rule struct {
	ID    string  `json:"id"`
	Short message `json:"shortDescription"`
}

type message struct {
	Text string `json:"text"`
}

type result struct {
	RuleID       string            `json:"ruleId"`
	RuleIndex    int               `json:"ruleIndex"`
	Kind         string            `json:"kind"`
	Level        string            `json:"level"`
	Message      message           `json:"message"`
	Locations    []location        `json:"locations,omitempty"`
	Fingerprints map[string]string `json:"partialFingerprints,omitempty"`
	Suppressions []suppression     `json:"suppressions,omitempty"`
	Related      []location        `json:"relatedLocations,omitempty"`
}

type location struct {
	Physical physical `json:"physicalLocation"`
	Message  *message `json:"message,omitempty"`
}

type physical struct {
	Artifact artifact `json:"artifactLocation"`
	Region   *region  `json:"region,omitempty"`
}

type artifact struct {
	URI string `json:"uri"`
}

type region struct {
	StartLine   int `json:"startLine"`
	StartColumn int `json:"startColumn,omitempty"`
	EndColumn   int `json:"endColumn,omitempty"`
}

type suppression struct {
	Kind          string `json:"kind"`
	State         string `json:"status"`
	Justification string `json:"justification,omitempty"`
}

const schemaURI = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"

// Options of the log. The zero value leaves out what passed and was skipped:
// viewers show every result as something to look at.
type Options struct{ All bool }

// Write writes the log: one run, its results the claims in the order of the
// record and then the diagnostics. Columns count code points. It fails where w fails.
func Write(w io.Writer, r *record.Record, opt Options) error {
	name, version, _ := strings.Cut(r.Design.Tool, " ")
	b := builder{index: map[string]int{}, said: outline.Lines(r)}
	for i := range r.Claims {
		if v := r.Claims[i].Verdict; opt.All || v != record.Passed && v != record.Skipped {
			b.claim(&r.Claims[i])
		}
	}
	for i := range r.Diagnostics {
		b.diagnostic(&r.Diagnostics[i])
	}
	if name == "" {
		name = "guardband"
	}
	doc := log{Schema: schemaURI, Version: "2.1.0", Runs: []run{{
		Tool:    tool{driver{name, version, append([]rule{}, b.rules...)}},
		Results: append([]result{}, b.results...), ColumnKind: "unicodeCodePoints",
	}}}
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(doc); err != nil {
		return fmt.Errorf("writing the SARIF log: %w", err)
	}
	return nil
}

type builder struct {
	rules   []rule
	index   map[string]int
	results []result
	said    map[string][]string
}

func (b *builder) rule(id, text string) int {
	if n, ok := b.index[id]; ok {
		return n
	}
	b.index[id] = len(b.rules)
	b.rules = append(b.rules, rule{id, message{text}})
	return len(b.rules) - 1
}

// kinds are SARIF's words for a verdict (SARIF 2.1.0, 3.27.9 and 3.27.10). An
// open claim is a warning: of the kind "open" the level must be "none", which
// no viewer shows.
var kinds = map[record.Verdict][2]string{
	record.Passed:  {"pass", "none"},
	record.Failed:  {"fail", "error"},
	record.Open:    {"fail", "warning"},
	record.Waived:  {"fail", "error"},
	record.Skipped: {"notApplicable", "none"},
}

func (b *builder) claim(c *record.Claim) {
	id, text := "claim", "A claim of the notebook must hold."
	if c.Kind == "built-in" && c.Check != "" {
		id, text = c.Check, c.Rule
	}
	if text == "" {
		text = id
	}
	kind, ok := kinds[c.Verdict]
	if !ok {
		kind = kinds[record.Open]
	}
	if c.Verdict == record.Waived && c.Under == record.Open {
		kind = kinds[record.Open]
	}
	res := result{
		RuleID: id, RuleIndex: b.rule(id, text), Kind: kind[0], Level: kind[1],
		Message:   message{words.Visible(words.Join(" | ", append([]string{c.ID + ": " + c.Headline}, b.said[c.ID]...)...))},
		Locations: at(c.Position), Fingerprints: map[string]string{"claim/v1": c.ID},
	}
	if w := c.Waiver; w != nil && c.Verdict == record.Waived {
		res.Suppressions = []suppression{{"external", "accepted", fmt.Sprintf("until %s, %s: %s", w.Until, w.Person, w.Reason)}}
	}
	b.results = append(b.results, res)
}

func (b *builder) diagnostic(d *record.Diagnostic) {
	level := "note"
	switch d.Severity {
	case "error", "warning":
		level = d.Severity
	}
	code := d.Code
	if code == "" {
		code = "notebook"
	}
	pos := record.Position{File: d.File, Line: d.Line, Column: d.Column}
	res := result{
		RuleID: code, RuleIndex: b.rule(code, "A notebook must be written by the rules of the language."), Kind: "fail", Level: level,
		Message: message{words.Visible(words.Join(" ", d.Message, d.Hint))}, Locations: at(&pos),
	}
	if len(res.Locations) > 0 && res.Locations[0].Physical.Region != nil && d.EndColumn > d.Column {
		res.Locations[0].Physical.Region.EndColumn = d.EndColumn
	}
	for _, rel := range d.Related {
		for _, l := range at(&rel.Position) {
			l.Message = &message{words.Visible(rel.Message)}
			res.Related = append(res.Related, l)
		}
	}
	b.results = append(b.results, res)
}

func at(p *record.Position) []location {
	if p == nil || p.File == "" {
		return nil
	}
	u := url.URL{Path: filepath.ToSlash(p.File)}
	l := location{Physical: physical{Artifact: artifact{u.String()}}}
	if p.Line > 0 {
		l.Physical.Region = &region{StartLine: p.Line, StartColumn: max(p.Column, 0)}
	}
	return slices.Clip([]location{l})
}
