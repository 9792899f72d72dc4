package eval

import (
	"context"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/eval/record"
	"guardband/notebook"
	"guardband/notebook/sheet"
)

const faultNotes = "```design\ntitle: Faults\n```\n```values\nV = 3 V ± 2 %\nW = 2 V ± 2 %\n```\n" +
	"```claim one\nstatement: one\ncriterion: V <= 4 V\n```\n```claim two\nstatement: two\ncriterion: W <= 4 V\n```\n"

func compilerOf(t *testing.T, workers int) *compiler {
	book, err := notebook.Load("-", notebook.Options{Stdin: []byte(faultNotes)})
	require.NoError(t, err)
	return compile(context.Background(), book, Options{Checks: TestChecks, On: "2026-11-24", Workers: workers})
}

// A fault in a check opens what the check had begun and says that the rest is
// missing; other claims are as they were.
func TestFaultInACheck(t *testing.T) {
	c := compilerOf(t, 1)
	b := &Check{Rule: "it holds", Run: func(_ Board, b *Check) {
		c.Claim(b, "begun", "begun", nil).Settle(record.Passed, "it seemed right")
		panic("lost")
	}}
	b.Name = "odd"
	before := len(c.claims)
	c.runCheck(b)
	for _, cl := range c.claims[before:] {
		judge{c}.conclude(cl)
	}
	r := recorder{c}.record()
	require.Equal(t, 1, r.Faults)
	require.Equal(t, record.Open, claimOf(t, r, "odd.begun").Verdict)
	require.Equal(t, record.Open, claimOf(t, r, "odd.fault").Verdict)
	require.Equal(t, record.Passed, claimOf(t, r, "one").Verdict)
	require.Contains(t, codes(r), "error fault")
	require.Contains(t, r.Diagnostics[0].Message, "a fault of guardband at fault_test.go:")
}

// A fault while a value is worked out leaves it unknown, not in a circle.
func TestFaultInAValue(t *testing.T) {
	c := compilerOf(t, 1)
	y := &symbol{name: "X", define: func(*symbol) { c.lower(&symbol{name: "Y", define: func(*symbol) { panic("lost") }}) }}
	c.lower(y)
	require.Equal(t, 1, c.faults)
	require.Empty(t, c.path)
	require.Equal(t, done, y.state)
}

// A fault while criteria are judged side by side opens its own claim alone.
func TestFaultInAClaim(t *testing.T) {
	for _, workers := range []int{1, 4} {
		c := compilerOf(t, workers)
		trials := make([]trial, 100)
		judge{c}.eachTrial(len(trials), func(i int) *trial { return &trials[i] }, func(x *trial) {
			if x == &trials[40] {
				panic("lost")
			}
			x.cutout = &cutout{}
		})
		for i := range trials {
			if i == 40 {
				require.Contains(t, trials[i].fault, "lost")
				continue
			}
			require.Empty(t, trials[i].fault)
		}
		c.isolateClaim(c.claims[0], func() { panic("lost") })
		r := recorder{c}.record()
		require.Equal(t, record.Open, claimOf(t, r, "one").Verdict)
		require.Equal(t, record.Passed, claimOf(t, r, "two").Verdict)
		require.Equal(t, 1, r.Faults)
	}
}

// faulty reads pages as a document of which one holds a fault, or all.
type faulty struct{ all bool }

func (f faulty) Check(_ context.Context, _ string, qs []sheet.Query) (sheet.Info, []sheet.Finding, error) {
	if f.all {
		panic("lost")
	}
	out := make([]sheet.Finding, len(qs))
	for i, q := range qs {
		out[i] = sheet.Finding{Grade: sheet.GradeNumbers, Page: 1}
		if q.From == "2" {
			out[i] = sheet.Finding{Grade: sheet.GradeNoText, Unread: true, Fault: true, Problem: "a fault of guardband"}
		}
	}
	return sheet.Info{Pages: 2}, out, nil
}

func (faulty) Crop(context.Context, string, int, []sheet.Box, []sheet.Box, int) ([]byte, int, int, error) {
	return nil, 0, 0, nil
}

// What rests on a page that met a fault is open, and the run is one that failed.
func TestFaultOnAPage(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "s.pdf"), []byte("%PDF-1.4"), 0o644))
	text := "```design\ntitle: Faults\n```\n```source S\ntitle: a sheet\nfile: s.pdf\n```\n```values\nV = 3 V ± 2 % [S pdf.1]\n" +
		"W = 2 V ± 2 % [S pdf.2]\n```\n```claim one\nstatement: one\ncriterion: V <= 4 V\n```\n" +
		"```claim two\nstatement: two\ncriterion: W <= 4 V\n```\n"
	require.NoError(t, os.WriteFile(filepath.Join(dir, "b.md"), []byte(text), 0o644))
	for _, all := range []bool{false, true} {
		book, err := notebook.Load(filepath.Join(dir, "b.md"), notebook.Options{})
		require.NoError(t, err)
		r := Compile(context.Background(), book, Options{Checks: TestChecks, On: "2026-11-24", Evidence: faulty{all}})
		require.Equal(t, record.Open, claimOf(t, r, "two").Verdict)
		require.Contains(t, codes(r), "error fault")
		if !all {
			require.Equal(t, record.Passed, claimOf(t, r, "one").Verdict)
			require.Equal(t, 1, r.Faults)
		}
	}
}
