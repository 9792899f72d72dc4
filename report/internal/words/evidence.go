package words

import (
	"fmt"
	"slices"
	"strings"

	"guardband/eval/record"
)

// looks are how far citations were looked up, as five numbers, each with the
// grades that it counts and what a reader must know of some of them.
var looks = []struct {
	words  string
	grades []string
}{
	{"found as cited", []string{"words", "numbers", "text layer", "committed evidence"}},
	{"page only", []string{"page"}},
	{"not as cited", []string{"not found", "no page", "other revision"}},
	{"read by a person", []string{"read by a person"}},
	{"not looked up", []string{"no file", "no text", "not checked"}},
}

var gradeWords = map[string]string{
	"text layer": "in the text layer over a picture", "committed evidence": "by committed evidence alone",
	"not found": "words not on the page", "no page": "no such page",
	"other revision": "another revision of the file", "no file": "no file", "no text": "no readable text on the page",
}

// Evidence is how far the citations were looked up, on one line: what no
// document shows is as good as the person who typed it.
func Evidence(r *record.Record) string {
	count, all, missing, slips, untold := map[string]int{}, 0, 0, 0, 0
	for i := range r.Sources {
		s := &r.Sources[i]
		untold += s.Untold
		for g, n := range s.Checked {
			count[g] += n
			all += n
		}
		for _, c := range s.Citations {
			switch found := slices.Contains(looks[0].grades, c.Checked); {
			case found && c.Slip != "":
				slips++
			case found && len(c.Missing) > 0:
				missing++
			}
		}
	}
	if all == 0 {
		return "no citations: no figure here rests on a document"
	}
	line := ""
	for i, l := range looks {
		n := 0
		var why []string
		say := func(k int, text string) {
			if k > 0 && text != "" {
				why = append(why, fmt.Sprintf("%d %s", k, text))
			}
		}
		for _, g := range l.grades {
			n += count[g]
			say(count[g], gradeWords[g])
		}
		switch i {
		case 0:
			n -= missing + slips
			say(untold, "without the row or unit")
		case 2:
			n += missing + slips
			say(slips, "with a number of another row or column")
			say(missing, "with a number that is not on the page")
		}
		text := fmt.Sprintf("%d %s", n, l.words)
		if len(why) > 0 {
			text += " (" + strings.TrimPrefix(strings.Join(why, ", "), fmt.Sprintf("%d ", n)) + ")"
		}
		if n > 0 || i == 0 {
			line = Join(", ", line, text)
		}
	}
	return Plural(all, "citation", "citations") + ": " + line
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
