// Package sarif writes a Record as a SARIF 2.1.0 log (OASIS standard, Static
// Analysis Results Interchange Format): a claim or a diagnostic is a result.
package sarif

import (
	"cmp"
	"encoding/json"
	"fmt"
	"io"
	"net/url"
	"path/filepath"
	"strings"

	"guardband/eval/record"
	"guardband/report/internal/words"
	"guardband/report/outline"
)

// object is a JSON object; its properties are those of the standard.
type object = map[string]any

const schemaURI = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"

// Options of the log. The zero value leaves out what passed and was skipped:
// viewers show every result as something to look at.
type Options struct{ All bool }

// Write writes the log: one run, its results the claims in the order of the
// record and then the diagnostics. Columns count code points. It fails where w fails.
func Write(w io.Writer, r *record.Record, opt Options) error {
	name, version, _ := strings.Cut(r.Design.Tool, " ")
	b := builder{rules: []object{}, index: map[string]int{}, results: []object{}, said: outline.Lines(r)}
	for i := range r.Claims {
		if v := r.Claims[i].Verdict; opt.All || v != record.Passed && v != record.Skipped {
			b.claim(&r.Claims[i])
		}
	}
	for i := range r.Diagnostics {
		b.diagnostic(&r.Diagnostics[i])
	}
	driver := object{"name": cmp.Or(name, "guardband"), "rules": b.rules}
	if version != "" {
		driver["version"] = version
	}
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(object{"$schema": schemaURI, "version": "2.1.0", "runs": []object{{
		"tool": object{"driver": driver}, "results": b.results, "columnKind": "unicodeCodePoints",
	}}}); err != nil {
		return fmt.Errorf("writing the SARIF log: %w", err)
	}
	return nil
}

type builder struct {
	rules   []object
	index   map[string]int
	results []object
	said    map[string][]string
}

func message(s string) object { return object{"text": s} }

// result adds a result of a rule.
func (b *builder) result(id, rule, kind, level, text string, at *record.Position) object {
	n, ok := b.index[id]
	if !ok {
		n = len(b.rules)
		b.index[id] = n
		b.rules = append(b.rules, object{"id": id, "shortDescription": message(rule)})
	}
	out := object{"ruleId": id, "ruleIndex": n, "kind": kind, "level": level, "message": message(words.Visible(text))}
	if l := location(at); l != nil {
		out["locations"] = []object{l}
	}
	b.results = append(b.results, out)
	return out
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
	id, rule := "claim", "A claim of the notebook must hold."
	if c.Kind == "built-in" && c.Check != "" {
		id, rule = c.Check, cmp.Or(c.Rule, c.Check)
	}
	kind, ok := kinds[c.Verdict]
	if !ok || c.Verdict == record.Waived && c.Under == record.Open {
		kind = kinds[record.Open]
	}
	text := words.Join(" | ", append([]string{c.ID + ": " + c.Headline}, b.said[c.ID]...)...)
	res := b.result(id, rule, kind[0], kind[1], text, c.Position)
	res["partialFingerprints"] = object{"claim/v1": c.ID}
	if w := c.Waiver; w != nil && c.Verdict == record.Waived {
		res["suppressions"] = []object{{"kind": "external", "status": "accepted",
			"justification": fmt.Sprintf("until %s, %s: %s", w.Until, w.Person, w.Reason)}}
	}
}

func (b *builder) diagnostic(d *record.Diagnostic) {
	level := "note"
	if d.Severity == "error" || d.Severity == "warning" {
		level = d.Severity
	}
	res := b.result(cmp.Or(d.Code, "notebook"), "A notebook must be written by the rules of the language.", "fail", level,
		words.Join(" ", d.Message, d.Hint), &record.Position{File: d.File, Line: d.Line, Column: d.Column})
	if l, ok := res["locations"].([]object); ok && d.Line > 0 && d.EndColumn > d.Column {
		l[0]["physicalLocation"].(object)["region"].(object)["endColumn"] = d.EndColumn
	}
	var related []object
	for _, rel := range d.Related {
		if l := location(&rel.Position); l != nil {
			l["message"] = message(words.Visible(rel.Message))
			related = append(related, l)
		}
	}
	if related != nil {
		res["relatedLocations"] = related
	}
}

// location is a place in a file, nil where there is none.
func location(p *record.Position) object {
	if p == nil || p.File == "" {
		return nil
	}
	u := url.URL{Path: filepath.ToSlash(p.File)}
	place := object{"artifactLocation": object{"uri": u.String()}}
	if p.Line > 0 {
		region := object{"startLine": p.Line}
		if p.Column > 0 {
			region["startColumn"] = p.Column
		}
		place["region"] = region
	}
	return object{"physicalLocation": place}
}
