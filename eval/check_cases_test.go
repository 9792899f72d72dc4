package eval

import (
	"context"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"guardband/eval/formula"
	"guardband/eval/record"
	"guardband/notebook"
)

// checkCase is one case of a built-in check: a chunk of a notebook under
// testdata/checks. What stands before the first `## ` of a file is common to
// its cases; `expect: VERDICT ID words` says what a claim must come to and what
// its record must say ("none": no such claim); a fence `file NAME` is a file
// beside the notebook.
type checkCase struct {
	file, name, text string
	files            map[string]string
	expect           [][]string
}

func readCheckCases(t *testing.T) []checkCase {
	t.Helper()
	paths, err := filepath.Glob("testdata/checks/*/*.md")
	require.NoError(t, err)
	require.NotEmpty(t, paths)
	var all []checkCase
	for _, path := range paths {
		data, err := os.ReadFile(path)
		require.NoError(t, err)
		chunks := strings.Split(string(data), "\n## ")
		require.Greater(t, len(chunks), 1, path)
		for _, chunk := range chunks[1:] {
			name, body, _ := strings.Cut(chunk, "\n")
			k := checkCase{file: path, name: name, files: map[string]string{}}
			k.text = chunks[0] + "\n" + k.take(body)
			require.NotEmpty(t, k.expect, "%s: %s", path, name)
			all = append(all, k)
		}
	}
	return all
}

// take parts the lines of a case: expectations, files, and the notebook.
func (k *checkCase) take(body string) string {
	var text []string
	file := ""
	for _, l := range strings.Split(body, "\n") {
		e, expects := strings.CutPrefix(l, "expect: ")
		name, opens := strings.CutPrefix(l, "```file ")
		switch {
		case expects:
			k.expect = append(k.expect, strings.SplitN(e, " ", 3))
		case opens:
			file = name
		case file != "" && l == "```":
			file = ""
		case file != "":
			k.files[file] += l + "\n"
		default:
			text = append(text, l)
		}
	}
	return strings.Join(text, "\n")
}

func (k *checkCase) compile(t *testing.T) *record.Record {
	if len(k.files) == 0 {
		return compileText(t, k.text)
	}
	files := map[string]string{"board.md": k.text}
	for name, text := range k.files {
		files[name] = text
	}
	return compileFolder(t, files)
}

// compileFolder compiles a notebook that stands among other files.
func compileFolder(t *testing.T, files map[string]string) *record.Record {
	t.Helper()
	dir := t.TempDir()
	for name, text := range files {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644))
	}
	book, err := notebook.Load(filepath.Join(dir, "board.md"), notebook.Options{})
	require.NoError(t, err)
	return Compile(context.Background(), book, Options{Checks: TestChecks, On: "2026-11-24", Language: formula.NewLanguage(nil)})
}

// requireClaim asks for the verdict of a claim and for words of its record.
func requireClaim(t *testing.T, r *record.Record, expect []string) {
	t.Helper()
	for _, c := range r.Claims {
		if c.ID != expect[1] {
			continue
		}
		said := c.Statement + "\n" + c.Headline
		for _, p := range c.Open {
			said += "\n" + p.Text + " -> " + p.Settle
		}
		for _, k := range c.Criteria {
			said += "\n" + string(k.Verdict) + ": " + k.Text
			for _, p := range k.Open {
				said += "\n" + p.Text
			}
		}
		require.Equal(t, expect[0], string(c.Verdict), "%s: %s", c.ID, said)
		if len(expect) > 2 {
			require.Contains(t, said, expect[2])
		}
		return
	}
	var ids []string
	for _, c := range r.Claims {
		ids = append(ids, c.ID)
	}
	require.Equal(t, "none", expect[0], "no claim %s among %v", expect[1], ids)
}

// claimKind is what a claim of a built-in check is about: the check, and the
// last word of the ID where that is a word of the check and no designator,
// pin, net or fact: "crystal.gain" of crystal.Y1.gain.
func claimKind(id string) string {
	check, subject, _ := strings.Cut(id, ".")
	last := subject[strings.LastIndexByte(subject, '.')+1:]
	if last != "" && check != "state" && strings.Trim(last, "abcdefghijklmnopqrstuvwxyz") == "" {
		return check + "." + last
	}
	return check
}

// cannotBe are the verdicts that a kind of claim never comes to, and why.
var cannotBe = map[string]struct {
	verdicts []record.Verdict
	why      string
}{
	"capacitor-voltage.rating": {[]record.Verdict{record.Passed, record.Failed}, "gathers what lacks a rating, and is made for that alone"},
	"diode.rating":             {[]record.Verdict{record.Passed, record.Failed}, "gathers what lacks a rating, and is made for that alone"},
	"resistor.rating":          {[]record.Verdict{record.Passed, record.Failed}, "gathers what lacks a rating, and is made for that alone"},
	"lifecycle.unstated":       {[]record.Verdict{record.Passed, record.Failed}, "names the parts without a status, and is made for that alone"},
	"crystal.drive": {[]record.Verdict{record.Passed, record.Failed},
		"once the drive is stated, the check of conditions or of ratings judges it"},
	"limits":   {[]record.Verdict{record.Failed}, "a limit that nothing judges is lacking, not wrong"},
	"sections": {[]record.Verdict{record.Failed}, "a section that is not noted yet is lacking, not wrong"},
	"pin-list": {[]record.Verdict{record.Open}, "what parts without noted pins leave open is told once, by pin-list.others"},
}

// TestCheckCases runs every case. The claims of built-in checks that the cases
// make, asked for or not, are of kinds that TestEveryCheckHasItsCases knows.
func TestCheckCases(t *testing.T) {
	cases := readCheckCases(t)
	asked := askedKinds(cases)
	for _, k := range cases {
		t.Run(filepath.Base(k.file)+"/"+k.name, func(t *testing.T) {
			r := k.compile(t)
			for _, d := range r.Diagnostics {
				require.NotEqual(t, notebook.Err, d.Severity, "%s: %s", d.Code, d.Message)
			}
			for _, e := range k.expect {
				requireClaim(t, r, e)
			}
			for _, c := range r.Claims {
				if c.Kind == "built-in" {
					require.Contains(t, asked, claimKind(c.ID), "no case asks for claims such as %s", c.ID)
				}
			}
		})
	}
}

// askedKinds are the verdicts that the cases ask of each kind of claim.
func askedKinds(cases []checkCase) map[string][]record.Verdict {
	out := map[string][]record.Verdict{}
	for _, k := range cases {
		for _, e := range k.expect {
			if kind := claimKind(e[1]); e[0] != "none" {
				out[kind] = append(out[kind], record.Verdict(e[0]))
			}
		}
	}
	return out
}

// TestEveryCheckHasItsCases: of each built-in check, and of each kind of claim
// it makes, a case passes, one fails, one is open and one is skipped. What a
// kind can never come to is listed with the reason, and no case does.
func TestEveryCheckHasItsCases(t *testing.T) {
	asked := askedKinds(readCheckCases(t))
	verdicts := []record.Verdict{record.Passed, record.Failed, record.Open, record.Skipped}
	known := map[string]bool{}
	for _, b := range append(TestChecks, alternate) {
		require.NotEmpty(t, b.Rule, b.Name)
		require.NotEmpty(t, b.Source, b.Name)
		known[b.Name] = true
		for _, v := range verdicts {
			found, possible := false, false
			for kind, got := range asked {
				if check, _, _ := strings.Cut(kind, "."); check == b.Name {
					found = found || slices.Contains(got, v)
					possible = possible || !slices.Contains(cannotBe[kind].verdicts, v)
				}
			}
			require.True(t, found || !possible && (b.Name == "sections" || b == LimitCoverage), "%s has no case that is %s", b.Name, v)
		}
	}
	for kind, got := range asked {
		check, _, _ := strings.Cut(kind, ".")
		if !known[check] {
			continue // a claim that the case itself writes
		}
		for _, v := range verdicts {
			if slices.Contains(cannotBe[kind].verdicts, v) {
				require.NotContains(t, got, v, "%s: %s", kind, cannotBe[kind].why)
			} else {
				require.Contains(t, got, v, "no case of %s is %s", kind, v)
			}
		}
	}
	for kind := range cannotBe {
		require.Contains(t, asked, kind, "no case of a claim that is excused")
	}
}
