package sheet

import (
	"regexp"
	"sync"
)

// pattern is a regular expression that is compiled when first used: most runs
// of the program ask nothing of a document that the cache does not hold, and
// compiling all of them took longer than a small notebook. A bad text panics,
// which the test of all patterns shows.
func pattern(text string) func() *regexp.Regexp {
	return sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(text) })
}
