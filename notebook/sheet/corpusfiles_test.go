package sheet

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// sheetFile is a sheet of testdata/sheets with what is printed on it.
type sheetFile struct {
	name, path string
	Sections   map[Section][]int
	SpecPages  []int      `json:"spec_pages"` // first and last page of Spec
	Ratings    [][]string // name, symbol, condition, min, typ, max, unit, value
	Operating  [][]string
	Spec       [][]string
	Pins       [][]string
	Orders     [][]string
	Packages   [][]string
}

// sheetFiles are sheets set by LaTeX and LibreOffice; its README says how.
func sheetFiles(t testing.TB) []sheetFile {
	t.Helper()
	answers, err := filepath.Glob("../../testdata/sheets/*.json")
	require.NoError(t, err)
	require.GreaterOrEqual(t, len(answers), 7)
	var out []sheetFile
	for _, a := range answers {
		data, err := os.ReadFile(a)
		require.NoError(t, err)
		base := strings.TrimSuffix(a, ".json")
		f := sheetFile{name: filepath.Base(base), path: base + ".pdf"}
		require.NoError(t, json.Unmarshal(data, &f), a)
		out = append(out, f)
	}
	return out
}

// device gives the rows of characteristics in the form of the corpus.
func (f sheetFile) device() corpusDevice {
	d := corpusDevice{Name: f.name}
	for _, r := range f.Spec {
		d.Electric = append(d.Electric, corpusRow{Name: r[0], Symbol: r[1], Condition: r[2], Min: r[3], Typ: r[4], Max: r[5], Unit: r[6]})
	}
	return d
}

// dropUnnamed takes out cells that show that a glyph could not be named: they
// offer nothing.
func dropUnnamed(rows []map[Kind]string) {
	for _, r := range rows {
		for k, s := range r {
			if hasUnnamed(s) {
				r[k] = ""
			}
		}
	}
}

// guessed says whether the sheet's type does not say which characters it shows.
func (f sheetFile) guessed() bool { return f.name == "bitmaps" }

// fileRows brings printed rows to the form of the score.
func fileRows(rows [][]string) (out []map[Kind]string) {
	kinds := []Kind{KindName, KindSymbol, KindCondition, KindMin, KindTyp, KindMax, KindUnit, KindValue}
	for _, r := range rows {
		m := map[Kind]string{}
		for i, s := range r {
			m[kinds[i]] = plainForm(s)
		}
		out = append(out, m)
	}
	return out
}

func filePins(rows [][]string) []map[Kind]string {
	var pins []corpusPin
	for _, r := range rows {
		pins = append(pins, corpusPin{Number: r[0], Name: r[1], Type: r[2], Function: r[3]})
	}
	return truthPins(pins)
}

func fileOrders(rows [][]string) []map[Kind]string {
	var orders []corpusOrder
	for _, r := range rows {
		orders = append(orders, corpusOrder{Code: r[0], Option: r[1], Package: r[2], Temperature: r[3]})
	}
	return truthOrders(orders)
}

func filePackages(rows [][]string) []map[Kind]string {
	var packages []corpusPackage
	for _, r := range rows {
		packages = append(packages, corpusPackage{Name: r[0], Pins: r[1], Body: r[2], Pitch: r[3]})
	}
	return truthPackages(packages)
}

// tableRows gives the rows of all tables of ratings and characteristics, a
// range in one cell taken apart.
func tableRows(t *testing.T, path string) []map[Kind]string {
	in, err := shared.Inspect(context.Background(), path)
	require.NoError(t, err)
	var out []map[Kind]string
	for _, tables := range sheetTables(t, shared, path, in.Pages) {
		for _, tb := range tables {
			if !tb.hasLimits() {
				continue
			}
			for i := range tb.Rows {
				m := readRow(tb, &tb.Rows[i])
				r := DraftRow{Value: strings.TrimSpace(foldString(tb.Cell(&tb.Rows[i], KindValue))), Unit: m[KindUnit]}
				r.splitRange()
				if r.Value == "" && r.Min != "" {
					m[KindMin], m[KindMax], m[KindValue] = plainForm(r.Min), plainForm(r.Max), ""
				}
				out = append(out, m)
			}
		}
	}
	return out
}

// TestSheetsOfOtherPrograms scores sections, table cells and drafted cells of
// the sheets that LaTeX and LibreOffice have set.
func TestSheetsOfOtherPrograms(t *testing.T) {
	parts := []string{"sections", "cells", "ratings", "operating", "spec", "pins", "orders", "packages"}
	total := map[string]*tally{}
	for _, p := range parts {
		total[p] = &tally{}
	}
	for _, f := range sheetFiles(t) {
		d, err := shared.Draft(context.Background(), f.path)
		require.NoError(t, err)
		check := func(part string, read, truth []map[Kind]string) {
			dropUnnamed(read)
			n, wrong := compare(read, truth)
			f.report(t, part, n)
			if os.Getenv("GUARDBAND_SHOW_WRONG") != "" && (len(wrong) > 0 || n.right < n.wanted) {
				fmt.Println(f.name, part, strings.Join(wrong, "\n  "), d.PassedOver, d.NotFound)
			}
			if f.guessed() {
				require.Equal(t, n.offered, n.right, f.name+" "+part) // nothing by guess
				return
			}
			total[part].add(n)
		}
		sections := f.scoreSections(d.Survey.Sections)
		total["sections"].add(sections)
		f.report(t, "sections", sections)
		check("cells", tableRows(t, f.path), fileRows(append(append(append([][]string(nil), f.Ratings...), f.Operating...), f.Spec...)))
		check("ratings", draftRows(d.Ratings), fileRows(f.Ratings))
		check("operating", draftRows(d.Operating), fileRows(f.Operating))
		check("spec", draftRows(d.Spec), fileRows(f.Spec))
		check("pins", pinRows(d.Pins), filePins(f.Pins))
		check("orders", orderRows(d.Orders), fileOrders(f.Orders))
		check("packages", packageRows(d.Packages), filePackages(f.Packages))
	}
	for _, p := range parts {
		n := total[p]
		sheetFile{name: "all"}.report(t, p, *n)
		require.GreaterOrEqual(t, n.precision(), 0.95, p)
		require.GreaterOrEqual(t, n.recall(), 0.95, p)
	}
}

func (f sheetFile) report(t *testing.T, part string, n tally) {
	t.Logf("%-10s %-10s printed %4d  offered %4d  right %4d  precision %.3f  recall %.3f", f.name, part, n.wanted,
		n.offered, n.right, n.precision(), n.recall())
}

// scoreSections counts the sections whose first page is right.
func (f sheetFile) scoreSections(found []SectionFind) (n tally) {
	for _, s := range found {
		n.wanted++
		if len(s.Pages) == 0 {
			continue
		}
		n.offered++
		if slices.Contains(f.Sections[s.Section], s.Pages[0].Page) {
			n.right++
		} else if os.Getenv("GUARDBAND_SHOW_WRONG") != "" {
			fmt.Printf("%s %s: want %v got %+v\n", f.name, s.Section, f.Sections[s.Section], s.Pages)
		}
	}
	return n
}
