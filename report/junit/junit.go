// Package junit writes a Record in the XML form of test reports that build
// servers read: a claim is a test case. There is no standard of it; the form
// is the common denominator of what build servers document (common practice).
package junit

import (
	"cmp"
	"encoding/xml"
	"fmt"
	"io"
	"strings"
	"time"

	"guardband/eval/record"
	"guardband/report/internal/words"
	"guardband/report/outline"
)

type suites struct {
	XMLName  xml.Name `xml:"testsuites"`
	Name     string   `xml:"name,attr"`
	Tests    int      `xml:"tests,attr"`
	Failures int      `xml:"failures,attr"`
	Errors   int      `xml:"errors,attr"`
	Skipped  int      `xml:"skipped,attr"`
	Time     string   `xml:"time,attr,omitempty"` // seconds
	Suites   []suite  `xml:"testsuite"`
}

type suite struct {
	Name     string `xml:"name,attr"`
	Tests    int    `xml:"tests,attr"`
	Failures int    `xml:"failures,attr"`
	Errors   int    `xml:"errors,attr"`
	Skipped  int    `xml:"skipped,attr"`
	Cases    []test `xml:"testcase"`
}

type test struct {
	Name    string  `xml:"name,attr"`
	Class   string  `xml:"classname,attr"`
	File    string  `xml:"file,attr,omitempty"`
	Line    int     `xml:"line,attr,omitempty"`
	Failure *result `xml:"failure"`
	Error   *result `xml:"error"`
	Skipped *result `xml:"skipped"`
	Out     string  `xml:"system-out,omitempty"`
}

type result struct {
	Message string `xml:"message,attr"`
	Type    string `xml:"type,attr,omitempty"`
	Text    string `xml:",chardata"`
}

// Write writes the report: one suite of written claims, one of built-in
// checks, one of the notebook's errors. Failed claims are failures; waived
// and skipped ones are skipped with their reason. took is the time that the
// design took to be worked out, 0 for none told. It fails where w fails.
func Write(w io.Writer, r *record.Record, took time.Duration) error {
	all := suites{Name: clean(r.Design.Title)}
	if took > 0 {
		all.Time = fmt.Sprintf("%.3f", took.Seconds())
	}
	said := outline.Lines(r)
	groups := []*suite{{Name: "claims"}, {Name: "built-in checks"}, {Name: "notebook"}}
	for i := range r.Claims {
		c := &r.Claims[i]
		to := groups[0]
		if c.Kind == "built-in" {
			to = groups[1]
		}
		to.add(caseOf(c, lines(said[c.ID]...)))
	}
	for _, d := range r.Diagnostics {
		if d.Severity != "error" {
			continue
		}
		t := test{Name: clean(fmt.Sprintf("%s:%d:%d %s", d.File, d.Line, d.Column, d.Code)), Class: "notebook", File: clean(d.File), Line: d.Line}
		t.Error = &result{Message: clean(d.Message), Type: clean(d.Code), Text: lines(d.Source, d.Hint)}
		groups[2].add(t)
	}
	for _, g := range groups {
		if g.Tests > 0 {
			all.Suites = append(all.Suites, *g)
		}
		all.Tests, all.Failures = all.Tests+g.Tests, all.Failures+g.Failures
		all.Errors, all.Skipped = all.Errors+g.Errors, all.Skipped+g.Skipped
	}
	if _, err := io.WriteString(w, xml.Header); err != nil {
		return fmt.Errorf("writing the JUnit report: %w", err)
	}
	e := xml.NewEncoder(w)
	e.Indent("", "  ")
	if err := e.Encode(all); err != nil {
		return fmt.Errorf("writing the JUnit report: %w", err)
	}
	_, err := io.WriteString(w, "\n")
	return err
}

func (s *suite) add(t test) {
	s.Cases = append(s.Cases, t)
	s.Tests++
	switch {
	case t.Failure != nil:
		s.Failures++
	case t.Error != nil:
		s.Errors++
	case t.Skipped != nil:
		s.Skipped++
	}
}

func caseOf(c *record.Claim, text string) test {
	t := test{Name: clean(c.ID), Class: clean(cmp.Or(c.Check, "claims"))}
	if c.Position != nil {
		t.File, t.Line = clean(c.Position.File), c.Position.Line
	}
	res := &result{Message: clean(words.Join(" ", c.Headline)), Type: string(c.Verdict), Text: text}
	switch {
	case c.Verdict == record.Failed, c.Verdict == record.Open:
		t.Failure = res
	case c.Verdict == record.Passed:
		t.Out = text
	default:
		t.Skipped = res
	}
	return t
}

func lines(ss ...string) string {
	for i := range ss {
		ss[i] = clean(ss[i])
	}
	return words.Join("\n", ss...)
}

// clean makes s visible and fit for XML 1.0.
func clean(s string) string {
	return strings.Map(func(r rune) rune {
		if r == 0xfffe || r == 0xffff {
			return 0xfffd
		}
		return r
	}, words.Visible(s))
}
