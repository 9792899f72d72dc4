package workspace

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
)

// ignored holds the patterns of the .gitignore files of folders walked so far,
// as gitignore(5) has them: a later one goes before an earlier one.
type ignored []pattern

type pattern struct {
	in      string // folder of the file, with "/" at its end
	match   *regexp.Regexp
	keep    bool // after "!"
	folders bool // before "/": folders alone
}

// maxIgnore bounds a .gitignore that is read, bytes.
const maxIgnore = 64 << 10

// read adds the patterns of one folder. A file that is not there, not ordinary
// or very long says nothing: more is looked at then, never less.
func (g *ignored) read(dir string) {
	name := filepath.Join(dir, ".gitignore")
	if info, err := os.Lstat(name); err != nil || !info.Mode().IsRegular() || info.Size() > maxIgnore {
		return
	}
	data, err := os.ReadFile(name)
	if err != nil {
		return
	}
	for line := range strings.Lines(string(data)) {
		line = strings.TrimRight(line, " \t\r\n")
		if line == "" || line[0] == '#' {
			continue
		}
		p := pattern{in: filepath.ToSlash(dir) + "/"}
		line, p.keep = strings.CutPrefix(line, "!")
		line, p.folders = strings.CutSuffix(line, "/")
		anchored := strings.Contains(line, "/")
		if !anchored {
			line = "**/" + line
		}
		if p.match, err = regexp.Compile("^" + expression(strings.TrimPrefix(line, "/")) + "$"); err == nil {
			*g = append(*g, p)
		}
	}
}

// expression is a pattern of gitignore(5) as a regular expression.
func expression(pattern string) string {
	var b strings.Builder
	for i := 0; i < len(pattern); i++ {
		rest := pattern[i:]
		switch c := pattern[i]; {
		case strings.HasPrefix(rest, "**/"):
			b.WriteString("(.*/)?")
			i += 2
		case strings.HasPrefix(rest, "**"):
			b.WriteString(".*")
			i++
		case c == '*':
			b.WriteString("[^/]*")
		case c == '?':
			b.WriteString("[^/]")
		case c == '[' && strings.Contains(rest, "]"):
			end := strings.Index(rest, "]")
			set := strings.ReplaceAll(rest[1:end], `\`, `\\`)
			if set != "" && set[0] == '!' {
				set = "^" + set[1:]
			}
			b.WriteString("[" + set + "]")
			i += end
		case c == '\\' && i+1 < len(pattern):
			i++
			b.WriteString(regexp.QuoteMeta(pattern[i : i+1]))
		default:
			b.WriteString(regexp.QuoteMeta(pattern[i : i+1]))
		}
	}
	return b.String()
}

// out says that a path is left out.
func (g ignored) out(path string, folder bool) bool {
	path = filepath.ToSlash(path)
	for i := len(g) - 1; i >= 0; i-- {
		p := g[i]
		if rest, below := strings.CutPrefix(path, p.in); below && (folder || !p.folders) && p.match.MatchString(rest) {
			return !p.keep
		}
	}
	return false
}
