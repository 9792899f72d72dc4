package draft

import (
	"regexp"
	"sync"
)

// pattern is a regular expression that is compiled when first used: most
// commands need none.
func pattern(text string) func() *regexp.Regexp {
	return sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(text) })
}
