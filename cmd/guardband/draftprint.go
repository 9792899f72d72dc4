package main

import (
	"fmt"
	"io"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"strings"
	"text/tabwriter"

	"guardband/notebook/sheet"
	"guardband/notebook/sheet/draft"
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

// shownPages is how many pages are shown per section.
const shownPages = 3

// printSurvey prints where the six sections are: page, how sure, the line that
// says so; then what was read of each.
func printSurvey(w io.Writer, file string, d sheet.Draft) {
	s := d.Survey
	fmt.Fprintf(w, "%s: %s%s\n", file, counted(s.Info.Pages, "page"), after(", revision ", d.Revision.Text))
	if n := len(s.NoText); n > 0 {
		fmt.Fprintf(w, "%s without text (scanned)\n", counted(n, "page"))
	}
	for _, b := range s.Bad {
		fmt.Fprintf(w, "%s\n", b)
	}
	fmt.Fprintln(w)
	t := tabwriter.NewWriter(w, 0, 4, 2, ' ', 0)
	fmt.Fprintln(t, "section\tpage\thow sure\tthe line that says so")
	for _, f := range s.Sections {
		name := sectionWords[f.Section]
		if len(f.Pages) == 0 {
			fmt.Fprintf(t, "%s\t-\tnot found\n", name)
		}
		for i, p := range f.Pages {
			if i == shownPages || i > 0 && p.Sure < f.Pages[0].Sure/2 {
				break
			}
			line := ""
			if len(p.Lines) > 0 {
				line = short(p.Lines[0], 56)
			}
			fmt.Fprintf(t, "%s\t%s\t%s\t%s\n", name, pageShown(p), surety(p.Sure), line)
			name = ""
		}
	}
	_ = t.Flush()
	fmt.Fprintf(w, "\nread: %s\n", strings.Join(readWords(d), ", "))
	if n, of := untold(d); n > 0 {
		fmt.Fprintf(w, "uncertain: %d of %s of tables\n", n, counted(of, "row"))
	}
	if len(d.NotFound) > 0 {
		fmt.Fprintf(w, "not found: %s\n", strings.Join(d.NotFound, ", "))
	}
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

func after(before, s string) string {
	if s == "" {
		return ""
	}
	return before + s
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

// printWritten says what was written and what to do next.
func printWritten(w io.Writer, note string, wrote draft.Wrote, dropped int) {
	fmt.Fprintf(w, "wrote %s: %s, %s\n", note, counted(wrote.Facts, "fact"), counted(wrote.Pins, "pin row"))
	if dropped > 0 {
		fmt.Fprintf(w, "as comments, since they could not be kept as entries: %s\n", counted(dropped, "line"))
	}
	fmt.Fprintf(w, "next: compare each line with its page and delete its `%s`, then guardband check %s\n", draft.Mark, note)
}

func short(s string, n int) string {
	if r := []rune(s); len(r) > n {
		return string(r[:n-1]) + "…"
	}
	return s
}
