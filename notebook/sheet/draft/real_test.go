package draft_test

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"guardband/notebook/sheet"
	"guardband/notebook/sheet/draft"
)

// truth is what a person read on real sheets, by eye and before any draft.
type truth struct {
	Sheets []struct {
		ID, SHA256 string
		Pages      int
		Sections   map[string][]int // "order", "package" ... to counted pages; none: the sheet has no such section
		Rows       []truthRow
	}
	True  []truthFact `json:"evidence_true"`
	Slips []truthFact `json:"evidence_slips"`
}

type truthRow struct {
	Page                                               int
	Kind, Symbol, Name, Min, Typ, Max, Unit, Condition string
}

type truthFact struct {
	Sheet, Fact, Quote, Slip string
	Page                     int
}

// TestRealSheets scores drafts of real sheets. They belong to their makers and
// are not in the project: GUARDBAND_REAL_SHEETS is a folder of them, named after
// the ids of the truth file that GUARDBAND_REAL_TRUTH names.
//
//	go test ./notebook/sheet/... -run Real -v
func TestRealSheets(t *testing.T) {
	folder, file := os.Getenv("GUARDBAND_REAL_SHEETS"), os.Getenv("GUARDBAND_REAL_TRUTH")
	if folder == "" || file == "" {
		const why = "no real sheets here: GUARDBAND_REAL_SHEETS and GUARDBAND_REAL_TRUTH are not set"
		if os.Getenv("GUARDBAND_NO_SKIP") != "" { // they are nobody's to install
			t.Log(why)
			return
		}
		t.Skip(why)
	}
	data, err := os.ReadFile(file)
	require.NoError(t, err)
	var all truth
	require.NoError(t, json.Unmarshal(data, &all))
	l := sheet.Open("")
	defer l.Close()
	sum := score{}
	for _, s := range all.Sheets {
		path := filepath.Join(folder, s.ID+".pdf")
		pdf, err := os.ReadFile(path)
		require.NoError(t, err)
		digest := sha256.Sum256(pdf)
		require.Equal(t, s.SHA256, hex.EncodeToString(digest[:]), s.ID+" is another file")
		start := time.Now()
		d, err := l.Draft(context.Background(), path)
		require.NoError(t, err, s.ID)
		one := score{"pages": d.Survey.Info.Pages, "ms": int(time.Since(start).Milliseconds())}
		var note bytes.Buffer
		draft.Write(&note, path, path+".md", d)
		for _, fate := range one.rows(s.Rows, note.String()) {
			t.Log(s.ID, fate)
		}
		for _, miss := range one.sections(s.Sections, d.Survey) {
			t.Log(s.ID, miss)
		}
		for _, rows := range [][]sheet.DraftRow{d.Ratings, d.Operating, d.Spec, d.Unplaced} {
			one["rows seen"] += len(rows)
			for _, r := range rows {
				if r.Untold {
					one["cannot be told"]++
				}
			}
		}
		one.own(t, l, path, note.String())
		t.Logf("%-5s %s", s.ID, one)
		sum.add(one)
	}
	for _, f := range all.True {
		sum["true facts"]++
		if slip := asked(t, l, folder, f); slip != "" {
			sum["true facts blamed"]++
			t.Logf("blamed: %s page %d %s: %s", f.Sheet, f.Page, f.Fact, slip)
		}
	}
	for _, f := range all.Slips {
		sum["slips"]++
		if asked(t, l, folder, f) != "" {
			sum["slips caught"]++
			continue
		}
		t.Logf("not caught: %s page %d %s (%s)", f.Sheet, f.Page, f.Fact, f.Slip)
	}
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	t.Logf("all   %s; %d MB of the system, %d ms a page", sum, m.Sys>>20, sum["ms"]/max(sum["pages"], 1))
}

// score counts by name.
type score map[string]int

func (s score) add(o score) {
	for k, n := range o {
		s[k] += n
	}
}

func (s score) String() string {
	var out []string
	for k, n := range s {
		out = append(out, fmt.Sprintf("%s %d", k, n))
	}
	slices.Sort(out)
	return strings.Join(out, ", ")
}

// entry is a drafted line.
type entry struct {
	kind, name, unit, cond, quote, line string
	page                                int
	cells                               map[string]string
	live, used, formula                 bool
}

var (
	entryLine = regexp.MustCompile(`^(# )?(absmax|operating|spec)\s+(\S+)\s*=\s*(.*?)(?:\s+at (.*?))?\s*\[pdf\.(\d+) "(.*?)"\]`)
	citedLine = regexp.MustCompile(`\[pdf\.(\d+) "`)
	limit     = regexp.MustCompile(`\b(min|typ|max) ([^,]+)`)
	amount    = regexp.MustCompile(`^([-+±]?[ 0-9.eE-]*[0-9.])\s*(\S*)`)
	someRange = regexp.MustCompile(`^([-+]?[0-9.]+)\s*\S* to ([-+]?[0-9.]+)\s*(\S*)$`)
)

func entriesOf(note string) []*entry {
	var out []*entry
	for _, line := range strings.Split(note, "\n") {
		m := entryLine.FindStringSubmatch(line)
		if m == nil {
			continue
		}
		e := &entry{kind: m[2], name: m[3], cond: plain(m[5]), quote: plain(m[7]), line: line, cells: map[string]string{}, live: m[1] == ""}
		e.page, _ = strconv.Atoi(m[6])
		for _, c := range limit.FindAllStringSubmatch(m[4], -1) {
			e.cell(c[1], c[2])
		}
		if r := someRange.FindStringSubmatch(m[4]); len(e.cells) == 0 && r != nil {
			e.cells["min"], e.cells["max"], e.unit = number(r[1]), number(r[2]), unit(r[3])
		}
		if len(e.cells) == 0 {
			e.cell("value", m[4])
		}
		out = append(out, e)
	}
	return out
}

func (e *entry) cell(k, text string) {
	text = strings.TrimSpace(text)
	if e.formula = e.formula || strings.Contains(text, "*"); e.formula { // its unit is that of what it refers to
		e.cells[k] = number(text)
		return
	}
	if m := amount.FindStringSubmatch(text); m != nil {
		e.cells[k], e.unit = number(m[1]), unit(m[2])
		return
	}
	if i := strings.LastIndexByte(text, ' '); i > 0 { // a formula with its unit: "VDD + 0.5 V"
		if u := unit(text[i+1:]); len([]rune(u)) <= 3 {
			e.unit, text = u, text[:i]
		}
	}
	e.cells[k] = number(text)
}

var folds = strings.NewReplacer("μ", "µ", "℃", "°C", "−", "-", "–", "-", "\u2126", "Ω", "ohm", "Ω", "Δ", "δ", "∆", "δ")

func plain(s string) string {
	return strings.ToLower(strings.NewReplacer(" ", "", "_", "", ";", "", `"`, "").Replace(folds.Replace(s)))
}

func unit(s string) string {
	return strings.ReplaceAll(strings.ReplaceAll(folds.Replace(s), " ", ""), "KHz", "kHz")
}

func number(s string) string {
	s = strings.NewReplacer("±", "", " ", "").Replace(folds.Replace(s))
	if v, err := strconv.ParseFloat(strings.TrimPrefix(s, "+"), 64); err == nil {
		return strconv.FormatFloat(v, 'g', -1, 64)
	}
	return strings.NewReplacer("_", "", "+", "", "*", "").Replace(strings.ToLower(s))
}

var noSymbol = regexp.MustCompile(`[^a-z0-9θδµ∑φ]`)

func symbol(s string) string {
	return strings.NewReplacer("rθ", "θ", "rth", "θ").Replace(noSymbol.ReplaceAllString(strings.ToLower(folds.Replace(s)), ""))
}

// rows counts what became of each row that was read by eye, and tells of those
// that are not fully right.
func (s score) rows(rows []truthRow, note string) (told []string) {
	entries := entriesOf(note)
	for _, e := range entries {
		if e.live {
			s["drafted"]++
		}
	}
	for _, row := range rows {
		fate := row.fate(entries, note)
		s["rows"]++
		if s[fate]++; fate != "fully right" {
			told = append(told, fmt.Sprintf("page %d %s %s %s: %s", row.Page, row.Kind, row.Symbol, row.Name, fate))
		}
	}
	return told
}

func (row truthRow) fate(entries []*entry, note string) string {
	want := map[string]string{}
	for k, v := range map[string]string{"min": row.Min, "typ": row.Typ, "max": row.Max} {
		if v != "" {
			want[k] = number(v)
		}
	}
	both := strings.HasPrefix(row.Max, "±") && row.Min == "" && row.Kind != "spec" // a limit of use in both directions
	var best *entry
	rank := -1
	near, named := false, false
	for _, e := range entries {
		sameName := row.Symbol == "" || symbol(row.Symbol) == symbol(e.name) ||
			slices.ContainsFunc(strings.Split(row.Symbol, ","), func(s string) bool { return symbol(s) == symbol(e.name) }) // a fact for each
		if e.page != row.Page || !e.live {
			continue
		}
		named = named || sameName && row.Symbol != ""
		if both {
			if want["min"] = ""; e.cells["min"] != "" {
				want["min"] = "-" + want["max"]
			}
			maps.DeleteFunc(want, func(_, v string) bool { return v == "" })
		}
		if !e.same(want) || e.unit != unit(row.Unit) && !e.formula {
			continue
		}
		near = true
		r := 0
		for _, c := range strings.Split(plain(row.Condition), ",") {
			if strings.Contains(e.cond, c) || strings.Contains(e.quote, c) {
				r += 4
			}
		}
		if e.kind == row.Kind {
			r += 2
		}
		if !e.used {
			r += 64
		}
		if sameName && r > rank {
			best, rank = e, r
		}
	}
	switch {
	case best != nil:
		best.used = true
		for _, c := range strings.Split(plain(row.Condition), ",") {
			if !strings.Contains(best.cond, c) && !strings.Contains(best.quote, c) {
				return "without its condition"
			}
		}
		if best.kind != row.Kind {
			if row.Kind == "absmax" {
				return "a rating that became a promise"
			}
			return "of another kind"
		}
		return "fully right"
	case near:
		return "of another name"
	case named:
		return "other numbers under its name"
	}
	for _, line := range strings.Split(note, "\n") { // in the list to be written by hand
		if !strings.HasPrefix(line, "    ") && !strings.HasPrefix(line, "# ") || !strings.Contains(line, fmt.Sprintf("[pdf.%d", row.Page)) {
			continue
		}
		found := true
		for _, v := range []string{row.Min, row.Typ, row.Max} {
			found = found && strings.Contains(number(line), number(strings.TrimLeft(v, "+±-")))
		}
		if found {
			return "by hand"
		}
	}
	return "in neither list"
}

func (e *entry) same(want map[string]string) bool {
	if v, ok := e.cells["value"]; ok {
		for _, w := range want {
			return len(want) == 1 && v == w
		}
	}
	if len(e.cells) != len(want) {
		return false
	}
	for k, v := range want {
		if e.cells[k] != v {
			return false
		}
	}
	return true
}

var sectionKeys = map[string]sheet.Section{"order": sheet.SectionOrdering, "package": sheet.SectionPackage, "pins": sheet.SectionPins,
	"characteristics": sheet.SectionElectrical, "absmax": sheet.SectionRatings, "application": sheet.SectionApplication}

// sections counts the sections whose first page named is right, and those found
// at all, and tells of the others.
func (s score) sections(want map[string][]int, got sheet.Survey) (told []string) {
	for key, pages := range want {
		if len(pages) == 0 {
			continue
		}
		s["sections"]++
		for _, f := range got.Sections {
			if f.Section != sectionKeys[key] {
				continue
			}
			if len(f.Pages) == 0 {
				told = append(told, fmt.Sprintf("%s: not found, it stands on %v", key, pages))
				continue
			}
			if slices.Contains(pages, f.Pages[0].Page) {
				s["sections, first page right"]++
			} else {
				told = append(told, fmt.Sprintf("%s: page %d is named first, it stands on %v", key, f.Pages[0].Page, pages))
			}
			if slices.ContainsFunc(f.Pages, func(p sheet.SectionPage) bool { return slices.Contains(pages, p.Page) }) {
				s["sections found"]++
			}
		}
	}
	return told
}

// own counts the drafted lines that the page check blames.
func (s score) own(t *testing.T, l *sheet.Reader, path, note string) {
	var ask []sheet.Query
	var of []*entry
	for _, e := range entriesOf(note) {
		if e.live {
			ask, of = append(ask, e.query(strings.TrimSuffix(citedQuote(e.line), `"`))), append(of, e)
		}
	}
	_, found, err := l.Check(context.Background(), path, ask)
	require.NoError(t, err)
	for i, f := range found {
		if f.Slip != "" || f.Grade != sheet.GradeWords || len(f.Missing) > 0 {
			s["own lines blamed"]++
			t.Logf("own line blamed: %s: %s %s %v", of[i].line, f.Grade, f.Slip, f.Missing)
		}
	}
}

func citedQuote(line string) string {
	at := citedLine.FindStringIndex(line)
	q, _, _ := strings.Cut(line[at[1]:], `"]`)
	return q
}

func (e *entry) query(quote string) sheet.Query {
	q := sheet.Query{From: strconv.Itoa(e.page), Counted: true, Quote: quote, Name: e.name}
	for _, k := range []string{"min", "typ", "max", "value"} {
		if v, err := strconv.ParseFloat(e.cells[k], 64); err == nil {
			n := sheet.Number{Text: e.cells[k], Value: v, Unit: e.unit, Column: k}
			if k == "value" {
				n.Column = ""
			}
			q.Numbers = append(q.Numbers, n)
		}
	}
	return q
}

// asked puts a noted fact to the page check, and gives what it blames it for.
func asked(t *testing.T, l *sheet.Reader, folder string, f truthFact) string {
	e := entriesOf(fmt.Sprintf("%s [pdf.%d \"%s\"]", f.Fact, f.Page, f.Quote))
	require.Len(t, e, 1, f.Fact)
	_, found, err := l.Check(context.Background(), filepath.Join(folder, f.Sheet+".pdf"), []sheet.Query{e[0].query(f.Quote)})
	require.NoError(t, err)
	switch r := found[0]; {
	case r.Slip != "":
		return r.Slip
	case r.Grade == sheet.GradeNotFound:
		return "the words are not found"
	case len(r.Missing) > 0:
		return "not found: " + strings.Join(r.Missing, ", ")
	}
	return ""
}
