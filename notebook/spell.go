package notebook

import (
	"slices"
	"strings"

	"guardband/units"
)

// Nearest is the word of among that was probably meant: the one with the
// fewest edits (insert, leave out, change, swap two neighbours), case and
// underscores aside, at most a third of its letters wrong. "" when none is
// near. Of equals the first in sorted order is given.
func Nearest(word string, among []string) string {
	key := spellKey(word)
	limit := max(1, (len(key)+2)/4)
	best, bestCost := "", limit+1
	sorted := slices.Sorted(slices.Values(among))
	for _, w := range sorted {
		if w == word {
			continue
		}
		if c := units.Edits(key, spellKey(w), bestCost-1); c < bestCost {
			best, bestCost = w, c
		}
	}
	return best
}

func spellKey(s string) []rune {
	if len(s) > 64 {
		s = s[:64]
	}
	return []rune(strings.ToLower(strings.ReplaceAll(units.FoldName(s), "_", "")))
}

// oneEdit says that two words differ by one edit, or by case alone.
func oneEdit(a, b string) bool {
	return a != b && units.Edits([]rune(strings.ToLower(a)), []rune(b), 1) <= 1
}

// meant is a hint that offers the nearest word, or lists what there is.
func meant(word string, among []string) string {
	if w := Nearest(word, among); w != "" {
		return "did you mean " + quote(w) + "?"
	}
	return ""
}
