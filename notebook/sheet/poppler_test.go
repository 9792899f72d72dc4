package sheet

import (
	"compress/gzip"
	"context"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"unicode"

	"github.com/stretchr/testify/require"
)

// wordSet counts the runs of letters and digits of a text, folded.
func wordSet(s string) map[string]int {
	out := map[string]int{}
	s = strings.NewReplacer("-\n", "", "\u00ad", "", "\f", " ").Replace(s)
	for _, w := range strings.FieldsFunc(strings.ToLower(foldString(s)),
		func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) }) {
		out[w]++
	}
	return out
}

func (p *Page) text() string {
	var b strings.Builder
	for _, l := range p.Lines {
		b.WriteString(l.Text + "\n")
	}
	return b.String()
}

// shareFound is the part of the words of the reference that the text holds.
func shareFound(reference, text map[string]int) (found, all int) {
	for w, n := range reference {
		all += n
		found += min(n, text[w])
	}
	return found, all
}

// popplerPage is the text of a page as pdftotext (poppler-utils) gives it.
func popplerPage(t *testing.T, program, path string, page int) string {
	out, err := exec.Command(program, "-f", fmt.Sprint(page), "-l", fmt.Sprint(page), "-raw", path, "-").Output()
	require.NoError(t, err)
	return string(out)
}

// manuals are PDF files of documentation packages where they are installed,
// unpacked if need be.
func manuals(t testing.TB) []string {
	var out []string
	dir := t.TempDir()
	for _, pattern := range []string{"/usr/share/doc/*/*.pdf", "/usr/share/doc/*/*.pdf.gz"} {
		paths, err := filepath.Glob(pattern)
		require.NoError(t, err)
		for _, p := range paths {
			if strings.HasSuffix(p, ".pdf") {
				out = append(out, p)
				continue
			}
			f, err := os.Open(p)
			require.NoError(t, err)
			z, err := gzip.NewReader(f)
			require.NoError(t, err)
			data, err := io.ReadAll(z)
			require.NoError(t, err)
			require.NoError(t, f.Close())
			to := filepath.Join(dir, strings.TrimSuffix(filepath.Base(p), ".gz"))
			require.NoError(t, os.WriteFile(to, data, 0o600))
			out = append(out, to)
		}
	}
	return out
}

// TestAgainstPoppler compares the words of pages with those pdftotext finds, on
// the corpus and on what manuals the machine has.
func TestAgainstPoppler(t *testing.T) {
	program := need(t, "pdftotext")
	check := func(path string, step int, least float64) {
		in, err := shared.Inspect(context.Background(), path)
		require.NoError(t, err, path)
		found, all := 0, 0
		for n := 1; n <= in.Pages; n += max(step, in.Pages/6) {
			p, err := shared.PageText(context.Background(), path, n)
			require.NoError(t, err)
			f, a := shareFound(wordSet(popplerPage(t, program, path, n)), wordSet(p.text()))
			found, all = found+f, all+a
		}
		t.Logf("%-28s %5d of %5d words", filepath.Base(path), found, all)
		require.GreaterOrEqual(t, float64(found), least*float64(all), path)
	}
	for _, lay := range corpusLayouts() {
		if lay.Name == "greek" { // without a table of its own, poppler and PDFium may differ on Symbol
			continue
		}
		check(pathOf(t, sheetOf(t, corpusDevices()[0], lay)), 1, 0.97)
	}
	for _, f := range sheetFiles(t) {
		if !f.guessed() { // there poppler takes codes for characters
			check(f.path, 1, 0.95)
		}
	}
	if testing.Short() {
		return
	}
	for _, path := range manuals(t) {
		check(path, 1, 0.95)
	}
}
