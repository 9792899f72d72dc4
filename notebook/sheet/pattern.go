package sheet

import (
	"regexp"
	"sync"
)

// pattern is a regular expression that is compiled when first used: most runs
// of the program ask nothing of a document that the cache does not hold, and
// compiling all of them took longer than a small notebook. It is safe for
// concurrent use and panics on a bad text, which the test of all patterns shows.
type pattern struct {
	text string
	once sync.Once
	made *regexp.Regexp
}

func (p *pattern) re() *regexp.Regexp {
	p.once.Do(func() { p.made = regexp.MustCompile(p.text) })
	return p.made
}

// The methods of regexp.Regexp that are used here.

func (p *pattern) MatchString(s string) bool              { return p.re().MatchString(s) }
func (p *pattern) FindString(s string) string             { return p.re().FindString(s) }
func (p *pattern) FindStringIndex(s string) []int         { return p.re().FindStringIndex(s) }
func (p *pattern) FindStringSubmatch(s string) []string   { return p.re().FindStringSubmatch(s) }
func (p *pattern) FindStringSubmatchIndex(s string) []int { return p.re().FindStringSubmatchIndex(s) }
func (p *pattern) FindAllString(s string, n int) []string { return p.re().FindAllString(s, n) }
func (p *pattern) FindAllStringSubmatch(s string, n int) [][]string {
	return p.re().FindAllStringSubmatch(s, n)
}
func (p *pattern) FindAllStringSubmatchIndex(s string, n int) [][]int {
	return p.re().FindAllStringSubmatchIndex(s, n)
}
func (p *pattern) ReplaceAllString(s, by string) string { return p.re().ReplaceAllString(s, by) }
func (p *pattern) ReplaceAllStringFunc(s string, by func(string) string) string {
	return p.re().ReplaceAllStringFunc(s, by)
}
