package eval

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/eval/record"
	"guardband/notebook"
	"guardband/notebook/sheet"
)

// otherWords is a document whose page 6 exists and holds other words than any
// that are quoted.
type otherWords struct{}

func (otherWords) Check(_ context.Context, _ string, qs []sheet.Query) (sheet.Info, []sheet.Finding, error) {
	out := make([]sheet.Finding, len(qs))
	for i, q := range qs {
		out[i] = sheet.Finding{Grade: sheet.GradePage, Page: 6}
		if q.Quote != "" {
			out[i].Grade = sheet.GradeNotFound
		}
	}
	return sheet.Info{Pages: 8}, out, nil
}

func (otherWords) Crop(context.Context, string, int, []sheet.Box, []sheet.Box, int) ([]byte, int, int, error) {
	return nil, 0, 0, errors.New("no picture")
}

// compileCited compiles lines of a case with source reg, page 6 of which holds
// other words.
func compileCited(t *testing.T, lines ...string) *record.Record {
	t.Helper()
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "reg.pdf"), []byte("%PDF-"), 0o644))
	note := filepath.Join(dir, "case.md")
	text := caseText(lines) + "\n```source reg\ntitle: a sheet\nfile: reg.pdf\n```\n"
	require.NoError(t, os.WriteFile(note, []byte(text), 0o644))
	book, err := notebook.Load(note, notebook.Options{})
	require.NoError(t, err)
	return Compile(context.Background(), book, Options{Checks: TestChecks, On: "2026-11-24", Evidence: otherWords{}})
}

func TestConformanceCitations(t *testing.T) {
	// 22: the sentence of a statement keeps its #.
	r := compileText(t, "```design\ntitle: x\n```\n```values\nV = 3 V # nominal\n```\n```claim c\nstatement: see ticket #12\ncriterion: V == 3 V\n```\n")
	require.Equal(t, "see ticket #12", r.Claims[0].Statement)
	require.Equal(t, record.Passed, r.Claims[0].Verdict)

	// 23: a list is no citation, what follows it is one.
	r = compileCited(t, "A = 1 V", "M = max([A, 2 V]) [reg p.6]")
	require.Zero(t, r.Summary.Errors, allText(r))
	require.Equal(t, "2 V", r.Values[1].Text)
	require.Len(t, r.Values[1].Cites, 1)

	// 24: curly quotes hold straight ones.
	r = compileCited(t, "X = 1 V [reg p.6 “0.5\" pitch”]")
	require.Zero(t, r.Summary.Errors, allText(r))
	require.Len(t, r.Values[0].Cites, 1)
	require.Equal(t, `0.5" pitch`, r.Values[0].Cites[0].Quote)

	// 40: evidence that fails turns a pass open, and never softens a failure.
	r = compileCited(t, `V = 1 V [reg p.6 "absent words"]`, "criterion: V <= 2 V")
	require.Equal(t, record.Open, r.Claims[0].Verdict, allText(r))
	require.Contains(t, r.Claims[0].Open[0].Text, "absent words")
	r = compileCited(t, `V = 1 V [reg p.6 "absent words"]`, "criterion: V <= 0.5 V")
	require.Equal(t, record.Failed, r.Claims[0].Verdict, allText(r))
}

// TestUnconfirmedAndWithMargin holds two rules beside the numbered cases: a
// drafted fact opens a claim, and a criterion may carry its own margin.
func TestUnconfirmedAndWithMargin(t *testing.T) {
	r := compileText(t, "```part P\nspec V_OH = min 2.4 V unconfirmed\n```\n```circuit\nU1  P\n```\n```claim c\nstatement: high enough\ncriterion: U1.V_OH >= 2 V\n```\n")
	require.Equal(t, record.Open, r.Claims[0].Verdict, allText(r))
	require.Equal(t, "unconfirmed", r.Claims[0].Criteria[0].Open[0].Reason)

	r = compileText(t, "```values\nV = 3 V [assumed: x]\n```\n```claim c\nstatement: low enough\nmargin: 1 %\ncriterion: V <= 3.1 V\ncriterion: V <= 3.1 V with margin 10 %\n```\n")
	require.Zero(t, r.Summary.Errors, allText(r))
	require.Equal(t, record.Passed, r.Claims[0].Criteria[0].Verdict)
	require.Equal(t, record.Failed, r.Claims[0].Criteria[1].Verdict)
	require.Equal(t, "short", r.Claims[0].Criteria[1].Failure)
	require.Equal(t, "10 %", r.Claims[0].Criteria[1].Tests[0].Margin.Required)
}

// imageOnly is a document without a text layer.
type imageOnly struct{ otherWords }

func (imageOnly) Check(_ context.Context, _ string, qs []sheet.Query) (sheet.Info, []sheet.Finding, error) {
	out := make([]sheet.Finding, len(qs))
	for i := range qs {
		out[i] = sheet.Finding{Grade: sheet.GradeNoText, Page: 1}
	}
	return sheet.Info{Pages: 2}, out, nil
}

// TestErrataThatCannotBeSearched: silence of an erratum counts only where it
// could be searched, and each source it corrects is looked at.
func TestErrataThatCannotBeSearched(t *testing.T) {
	dir := t.TempDir()
	for _, name := range []string{"a.pdf", "b.pdf", "err.pdf"} {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte("%PDF-"), 0o644))
	}
	text := "```design\ntitle: x\n```\n```source a\nfile: a.pdf\n```\n```source b\nfile: b.pdf\n```\n" +
		"```source scan\nfile: err.pdf\ncorrects: a\ncorrects: b\n```\n```source gone\ncorrects: b\n```\n" +
		"```values\nV = 3 V [a p.1 \"volts\"]\nW = 4 V [b p.1 \"volts\"]\n```\n"
	note := filepath.Join(dir, "case.md")
	require.NoError(t, os.WriteFile(note, []byte(text), 0o644))
	warned := func(e Evidence) (out []string) {
		book, err := notebook.Load(note, notebook.Options{})
		require.NoError(t, err)
		for _, d := range Compile(context.Background(), book, Options{Checks: TestChecks, On: "2026-11-24", Evidence: e}).Diagnostics {
			if d.Code == "erratum-unread" {
				out = append(out, d.Message)
			}
		}
		return out
	}
	all := warned(imageOnly{})
	require.Len(t, all, 3)
	require.Contains(t, all[0], "scan, which corrects a, has pages without text")
	require.Contains(t, all[1], "scan, which corrects b, has pages without text")
	require.Contains(t, all[2], "gone, which corrects b, is missing")
}

// unitSlips is a document whose page 1 gives 300 mΩ and nothing else, and whose
// page 2 gives what is asked.
type unitSlips struct{ otherWords }

func (unitSlips) Check(_ context.Context, _ string, qs []sheet.Query) (sheet.Info, []sheet.Finding, error) {
	out := make([]sheet.Finding, len(qs))
	for i, q := range qs {
		out[i] = sheet.Finding{Grade: sheet.GradeNumbers, Page: 1}
		if q.From == "1" {
			n := q.Numbers[0].Text + " " + q.Numbers[0].Unit
			out[i].Grade, out[i].Missing = sheet.GradePage, []string{n}
			out[i].Unlike = []sheet.Unlike{{Number: n, Text: "the row “Resistance” gives 300 mΩ"}}
		}
		if q.From == "3" {
			out[i].Grade, out[i].Missing = sheet.GradePage, []string{q.Numbers[0].Text + " " + q.Numbers[0].Unit}
		}
	}
	return sheet.Info{Pages: 8}, out, nil
}

// TestNumberInAnotherUnit: a number that its pages give in another unit alone
// opens what rests on it; one that cannot be told is counted.
func TestNumberInAnotherUnit(t *testing.T) {
	for cites, want := range map[string]record.Verdict{
		"[reg p.1]":                             record.Open,
		"[reg p.1] [reg p.2]":                   record.Passed,
		"[reg p.1] [reg p.3]":                   record.Passed,
		"[reg p.1 read by K. Sedge 2026-11-20]": record.Passed,
		"[reg p.1 read by K. Sedge 2026-11-25]": record.Passed, // tomorrow may be today elsewhere
		"[reg p.1 read by K. Sedge 2026-11-26]": record.Open,
		"[reg p.3]":                             record.Passed,
	} {
		dir := t.TempDir()
		require.NoError(t, os.WriteFile(filepath.Join(dir, "reg.pdf"), []byte("%PDF-"), 0o644))
		note := filepath.Join(dir, "case.md")
		text := caseText([]string{"R = max 300 µΩ " + cites, "criterion: R <= 1 mΩ"}) + "\n```source reg\ntitle: a sheet\nfile: reg.pdf\n```\n"
		require.NoError(t, os.WriteFile(note, []byte(text), 0o644))
		book, err := notebook.Load(note, notebook.Options{})
		require.NoError(t, err)
		r := Compile(context.Background(), book, Options{Checks: TestChecks, On: "2026-11-24", Evidence: unitSlips{}})
		require.Zero(t, r.Summary.Errors, allText(r))
		require.Equal(t, want, r.Claims[0].Verdict, "%s %s", cites, allText(r))
		if want == record.Open {
			require.Equal(t, strings.Contains(cites, "11-26"), strings.Contains(allText(r), "nobody can have read it yet"))
			require.Equal(t, "300 µΩ is not on p.1 of reg: the row “Resistance” gives 300 mΩ", r.Claims[0].Open[0].Text)
		}
		if cites == "[reg p.3]" {
			require.Equal(t, 1, r.Sources[0].Untold)
		}
	}
}
