package main

import (
	"fmt"
	"io"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"strings"

	"guardband/notebook/sheet"
)

// surety puts the rank of a page into words.
func surety(s float64) string {
	switch {
	case s >= 0.75:
		return "sure"
	case s >= 0.5:
		return "likely"
	}
	return "perhaps"
}

// sectionWords name the sections on the terminal.
var sectionWords = map[sheet.Section]string{
	sheet.SectionOrdering: "order code", sheet.SectionPackage: "package", sheet.SectionPins: "pins",
	sheet.SectionElectrical: "characteristics", sheet.SectionRatings: "maximum ratings", sheet.SectionApplication: "application",
}

func sectionName(s sheet.Section) string { return sectionWords[s] }

// shownPages are the pages shown of a section: the first three that are not much
// less sure than the first.
func shownPages(pages []sheet.SectionPage) []sheet.SectionPage {
	n := 0
	for n < min(len(pages), 3) && pages[n].Sure >= pages[0].Sure/2 {
		n++
	}
	return pages[:n]
}

// survey is where the six sections are, and what was read of each.
type survey struct {
	sheet.Draft
	File         string
	Read         []string
	Untold, Rows int
}

func (a *app) printSurvey(file string, d sheet.Draft) error {
	s := survey{Draft: d, File: file, Read: readWords(d)}
	s.Untold, s.Rows = untold(d)
	return a.print("survey", s)
}

func pageShown(p sheet.SectionPage) string {
	if p.Label != "" && p.Label != fmt.Sprint(p.Page) {
		return fmt.Sprintf("%d (printed %s)", p.Page, p.Label)
	}
	return fmt.Sprint(p.Page)
}

// readWords counts what was read of the sections.
func readWords(d sheet.Draft) []string {
	var out []string
	add := func(n int, what string) {
		if n > 0 {
			out = append(out, counted(n, what))
		}
	}
	add(len(d.Orders), "order code")
	add(len(d.Packages), "package")
	add(len(d.Pins), "pin")
	add(len(d.Ratings), "rating")
	add(len(d.Operating), "operating condition")
	add(len(d.Spec), "characteristic")
	add(len(d.Drawn), "drawn value")
	if len(out) == 0 {
		return []string{"nothing"}
	}
	return out
}

// untold counts the rows whose table can be read in two ways.
func untold(d sheet.Draft) (n, of int) {
	for _, rows := range [][]sheet.DraftRow{d.Ratings, d.Operating, d.Spec, d.Unplaced} {
		for _, r := range rows {
			if of++; r.Untold {
				n++
			}
		}
	}
	return n, of
}

func counted(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// printNext says what to do next.
func printNext(w io.Writer, file string, d sheet.Draft) {
	if len(d.Orders)+len(d.Packages)+len(d.Pins)+len(d.Ratings)+len(d.Operating)+len(d.Spec) == 0 {
		fmt.Fprintln(w, "next: nothing could be read as a table; open the pages above and write the note by hand")
		return
	}
	fmt.Fprintf(w, "next: guardband draft %s --write %s\n", file, path.Join(notesFolder(file),
		strings.TrimSuffix(filepath.Base(file), filepath.Ext(file))+".md"))
}

// notesFolder is where part notes are kept: the folder with one, and no design in it, that is nearest
// to the sheet, its own or one beside it, or beside one of those above it up to
// the working folder; "parts" if there is none.
func notesFolder(pdf string) string {
	for dir := filepath.Dir(pdf); ; dir = filepath.Dir(dir) {
		beside, _ := filepath.Glob(filepath.Join(escaped(dir), "*"))
		for _, d := range append([]string{dir}, beside...) {
			if holdsPart(d) {
				return filepath.ToSlash(d)
			}
		}
		if dir == "." || dir == filepath.Dir(dir) || strings.HasSuffix(dir, "..") {
			return "parts"
		}
	}
}

// escaped is a path without meaning for Glob.
func escaped(path string) string {
	return strings.NewReplacer(`\`, `\\`, "*", `\*`, "?", `\?`, "[", `\[`).Replace(path)
}

// holdsPart says whether a folder has a note with a part in it.
func holdsPart(dir string) bool {
	notes, _ := filepath.Glob(filepath.Join(escaped(dir), "*.md"))
	for _, n := range notes[:min(len(notes), 50)] {
		if st, err := os.Lstat(n); err != nil || !st.Mode().IsRegular() || st.Size() > 1<<20 {
			continue
		}
		if text, err := os.ReadFile(n); err == nil && partBlock.Match(text) && !designBlock.Match(text) {
			return true
		}
	}
	return false
}

var partBlock, designBlock = regexp.MustCompile("(?m)^```part "), regexp.MustCompile("(?m)^```design")

func short(s string, n int) string {
	if r := []rune(s); len(r) > n {
		return string(r[:n-1]) + "…"
	}
	return s
}
