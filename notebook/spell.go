package notebook

import (
	"slices"
	"strings"
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
		if c := edits(key, spellKey(w), bestCost-1); c < bestCost {
			best, bestCost = w, c
		}
	}
	return best
}

func spellKey(s string) []rune {
	if len(s) > 64 {
		s = s[:64]
	}
	return []rune(strings.ToLower(strings.ReplaceAll(FoldName(s), "_", "")))
}

// edits is the edit distance of a and b (with swaps of neighbours), or
// limit+1 where it is above limit.
func edits(a, b []rune, limit int) int {
	if d := len(a) - len(b); d > limit || -d > limit {
		return limit + 1
	}
	before, prev, cur := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range prev {
		prev[j] = j
	}
	for i := 1; i <= len(a); i++ {
		cur[0] = i
		low := i
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			cur[j] = min(prev[j]+1, cur[j-1]+1, prev[j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				cur[j] = min(cur[j], before[j-2]+1)
			}
			low = min(low, cur[j])
		}
		if low > limit {
			return limit + 1
		}
		before, prev, cur = prev, cur, before
	}
	return min(prev[len(b)], limit+1)
}

// oneEdit says that two words differ by one edit, or by case alone.
func oneEdit(a, b string) bool {
	return a != b && edits([]rune(strings.ToLower(a)), []rune(b), 1) <= 1
}

// meant is a hint that offers the nearest word, or lists what there is.
func meant(word string, among []string) string {
	if w := Nearest(word, among); w != "" {
		return "did you mean " + quote(w) + "?"
	}
	return ""
}
