package words

import (
	"fmt"
	"slices"

	"guardband/eval/record"
)

// opened are the grades of citations whose page the program has looked at.
var opened = []string{"words", "numbers", "text layer", "page", "not found", "no page", "other revision"}

// Evidence is how far the citations were looked up, on one line: what no
// document bears out is as good as the person who typed it.
func Evidence(r *record.Record) string {
	count, all, looked, files, untold := map[string]int{}, 0, 0, 0, 0
	for i := range r.Sources {
		s := &r.Sources[i]
		if s.OnFile {
			files++
		}
		untold += s.Untold
		for g, n := range s.Checked {
			count[g] += n
			all += n
		}
	}
	if all == 0 {
		return "no citations: no figure here rests on a document"
	}
	for _, g := range opened {
		looked += count[g]
	}
	line := fmt.Sprintf("%d of %s looked up", looked, Plural(all, "citation", "citations"))
	if n := count["read by a person"]; n > 0 {
		line += fmt.Sprintf(", %d read by a person", n)
	}
	if untold > 0 {
		line += fmt.Sprintf("; of %d the page does not show in which row or unit a number stands", untold)
	}
	if files == 0 {
		return line + ": no documents at hand"
	}
	for _, g := range []struct{ grade, words string }{
		{"text layer", "in the text layer over a picture"}, {"not found", "with words that are not on the page"}, {"no page", "to pages that do not exist"},
		{"other revision", "to another revision of the file"}, {"no text", "on pages without readable text"},
		{"no file", "without a file"}, {"not checked", "not looked up"},
	} {
		if n := count[g.grade]; n > 0 {
			line += fmt.Sprintf("; %d %s", n, g.words)
		}
	}
	return line
}

// OnRatings are the claims that passed on nothing better than a maximum rating.
func OnRatings(r *record.Record) (ids []string) {
	not := map[string]bool{}
	for _, c := range r.Claims {
		not[c.ID] = c.Verdict != record.Passed
	}
	for _, a := range r.Assumptions {
		for _, id := range a.Claims {
			if a.Kind == record.KindRating && !not[id] && !slices.Contains(ids, id) {
				ids = append(ids, id)
			}
		}
	}
	return ids
}
