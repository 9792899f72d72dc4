package main

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/eval/record"
	"guardband/notebook/sheet"
	"guardband/report/json"
)

// scored counts the cells of one kind: those that the hand-written notes hold,
// those of them that the drafts offer, and those offered that agree.
type scored struct{ wanted, offered, right int }

func (s scored) precision() float64 { return share(s.right, s.offered) }
func (s scored) recall() float64    { return share(s.right, s.wanted) }

func share(a, b int) float64 {
	if b == 0 {
		return 1
	}
	return float64(a) / float64(b)
}

// scoreSheet is one kind of cell after the other, and what differs.
type scoreSheet struct {
	by    map[string]*scored
	order []string
	wrong []string

	missing []string // noted by hand and not offered
}

func (s *scoreSheet) cell(kind, where, want, got string, same bool) {
	if s.by[kind] == nil {
		s.by[kind] = &scored{}
		s.order = append(s.order, kind)
	}
	k := s.by[kind]
	if want != "" {
		k.wanted++
	}
	if got == "" || want == "" {
		if want != "" {
			s.missing = append(s.missing, where+", "+kind+": "+want)
		}
		return
	}
	k.offered++
	if same {
		k.right++
		return
	}
	s.wrong = append(s.wrong, fmt.Sprintf("%s, %s: drafted %s, noted %s", where, kind, got, want))
}

// TestDraftScore drafts every sheet of the demos and compares the drafts, field
// by field, with the part notes that were written by hand from the same sheets.
// The notes hold what the designs need, so a drafted line that no note has is
// not compared; that it is printed is what TestDraftsInventNothing shows for all.
//
//	go test ./cmd/guardband -run TestDraftScore -v
func TestDraftScore(t *testing.T) {
	root := atRoot(t)
	cache, err := os.UserCacheDir()
	require.NoError(t, err)
	l := sheet.Open(filepath.Join(cache, "guardband"))
	defer l.Close()
	s := &scoreSheet{by: map[string]*scored{}}
	for _, f := range demoSheets(t, root) {
		s.compare(t, l, f.pdf, draftPart(t, f.pdf), handParts(t, f))
	}
	all := scored{}
	for _, k := range s.order {
		n := *s.by[k]
		t.Logf("%-14s noted %4d  offered %4d  right %4d  precision %.3f  recall %.3f", k, n.wanted, n.offered, n.right, n.precision(), n.recall())
		all.wanted, all.offered, all.right = all.wanted+n.wanted, all.offered+n.offered, all.right+n.right
	}
	t.Logf("%-14s noted %4d  offered %4d  right %4d  precision %.3f  recall %.3f", "all", all.wanted, all.offered,
		all.right, all.precision(), all.recall())
	for _, w := range s.wrong {
		t.Log(w)
	}
	if os.Getenv("GUARDBAND_SHOW_MISSING") != "" {
		t.Log("not offered:\n" + strings.Join(s.missing, "\n"))
	}
	// What a sheet prints among the characteristics is drafted there, also where the
	// circuit must keep to it; a line that asks which it is counts as right.
	floors := map[string][2]float64{ // precision, recall
		"order code": {0.95, 0.50}, "package": {0.90, 0.50},
		"pin name": {0.95, 0.90}, "pin type": {0.95, 0.90},
		"fact": {0.95, 0.90}, "fact section": {0.95, 0.90}, "section page": {0.95, 0.90},
	}
	for k, f := range floors {
		require.NotNil(t, s.by[k], k)
		require.GreaterOrEqual(t, s.by[k].precision(), f[0], "precision of "+k)
		require.GreaterOrEqual(t, s.by[k].recall(), f[1], "recall of "+k)
	}
	require.GreaterOrEqual(t, all.precision(), 0.97)
	require.GreaterOrEqual(t, all.recall(), 0.85)
}

// demoSheet is a sheet with the note that was written from it.
type demoSheet struct{ pdf, note string }

func demoSheets(t *testing.T, root string) []demoSheet {
	var out []demoSheet
	for _, demo := range []string{"weirkeeper", "granary", "guide"} {
		list, err := filepath.Glob(filepath.Join(root, "examples", demo, "sheets", "*.pdf"))
		require.NoError(t, err)
		for _, pdf := range list {
			note := filepath.Join(root, "examples", demo, "parts", strings.TrimSuffix(filepath.Base(pdf), ".pdf")+".md")
			if demo == "guide" {
				note = filepath.Join(root, "examples", "guide", "guide.md")
			}
			out = append(out, demoSheet{pdf, note})
		}
	}
	require.Greater(t, len(out), 30)
	return out
}

// drafted is a draft, read back through the compiler.
type drafted struct {
	part       record.Part
	text       string
	candidates []string
}

func draftPart(t *testing.T, pdf string) drafted {
	note := filepath.Join(t.TempDir(), "draft.md")
	code, out, errOut := guardband(t, "draft", pdf, "--write", note)
	require.Zero(t, code, out+errOut)
	data, err := os.ReadFile(note)
	require.NoError(t, err)
	d := drafted{text: string(data)}
	_, out, errOut = guardband(t, "check", note, "--root", "/", "--format", "json")
	r, err := json.Read(strings.NewReader(out))
	require.NoError(t, err, errOut)
	require.Zero(t, r.Summary.Errors, "%s: %+v", pdf, r.Diagnostics)
	require.Len(t, r.Parts, 1)
	d.part = r.Parts[0]
	d.candidates = append(d.candidates, d.part.Order...)
	for _, m := range regexp.MustCompile("(?m)^- `([^`]+)`").FindAllStringSubmatch(d.text, -1) {
		d.candidates = append(d.candidates, m[1])
	}
	return d
}

// handParts are the parts that cite the sheet.
func handParts(t *testing.T, f demoSheet) []record.Part {
	_, out, errOut := guardband(t, "check", f.note, "--root", filepath.Dir(filepath.Dir(f.note)), "--format", "json")
	r, err := json.Read(strings.NewReader(out))
	require.NoError(t, err, errOut)
	var id string
	for _, s := range r.Sources {
		if filepath.Base(s.File) == filepath.Base(f.pdf) {
			id = s.ID
		}
	}
	var parts []record.Part
	for _, p := range r.Parts {
		for _, x := range p.Facts {
			if len(x.Cites) > 0 && x.Cites[0].Source == id {
				parts = append(parts, p)
				break
			}
		}
	}
	require.NotEmpty(t, parts, f.pdf)
	return parts
}

// compare scores one draft. A sheet of several versions may have several notes:
// the one of the version drafted counts, else the first.
func (s *scoreSheet) compare(t *testing.T, l *sheet.Reader, pdf string, d drafted, hands []record.Part) {
	name := filepath.Base(pdf)
	hand := hands[0]
	for _, h := range hands {
		if len(d.part.Order) > 0 && len(h.Order) > 0 && h.Order[0] == d.part.Order[0] {
			hand = h
		}
	}
	sameVersion := len(d.part.Order) == 0 || len(hand.Order) == 0 || d.part.Order[0] == hand.Order[0]
	s.cell("order code", name, first(hand.Order), first(d.candidates), slices.Contains(d.candidates, first(hand.Order)))
	s.cell("package", name, hand.Package, d.part.Package, d.part.Package != "" &&
		strings.HasPrefix(plain(hand.Package), plain(d.part.Package))) // the drawing's heading may leave out the size
	s.sections(t, l, pdf, hand)
	s.pins(name, d, hand)
	s.facts(name, d, hand, sameVersion)
}

func first(list []string) string {
	if len(list) == 0 {
		return ""
	}
	return list[0]
}
