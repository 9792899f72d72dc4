package sheet

import (
	"bytes"
	"context"
	"image/png"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"time"
)

// Pages without a text layer are read by the Tesseract program where it is
// installed. Such text only helps to find sections: it never settles a citation.
const (
	ocrProgram = "tesseract"
	ocrDPI     = 200
	ocrLimit   = 60 * time.Second // per page
	ocrPages   = 40               // per document
	ocrSure    = 40               // confidence in percent below which words are dropped
)

// scanned reads the n-th page without text, if that can be done.
func (l *Reader) scanned(ctx context.Context, f file, p *Page, n int) (*Page, bool) {
	program, err := exec.LookPath(ocrProgram)
	if err != nil || n > ocrPages {
		return nil, false
	}
	var picture bytes.Buffer
	var width, height float64
	err = l.use(ctx, f, func(d *document) error {
		var err error
		if width, height, err = d.size(p.Number); err != nil {
			return err
		}
		grey, _, err := d.grey(p.Number, rect{x1: width, y1: height}, ocrDPI, 2*maxPixels)
		if err != nil {
			return err
		}
		return png.Encode(&picture, grey)
	})
	if err != nil {
		return nil, false
	}
	return runOCR(ctx, program, picture.Bytes(), p.Number, width, height)
}

// runOCR hands the picture over on standard input and reads the table of words.
func runOCR(ctx context.Context, program string, picture []byte, page int, width, height float64) (*Page, bool) {
	ctx, cancel := context.WithTimeout(ctx, ocrLimit)
	defer cancel()
	cmd := exec.CommandContext(ctx, program, "stdin", "stdout", "tsv")
	cmd.Dir = filepath.Dir(program) // never the checked folder, which might hold a file "tsv" or its settings
	cmd.Stdin = bytes.NewReader(picture)
	out, err := cmd.Output()
	if err != nil {
		return nil, false
	}
	cfg, err := png.DecodeConfig(bytes.NewReader(picture))
	if err != nil {
		return nil, false
	}
	return parseOCR(string(out), page, width, height, width/float64(cfg.Width)), true
}

// parseOCR reads Tesseract's tab-separated output: level, page, block,
// paragraph, line, word, left, top, width, height, confidence, text.
func parseOCR(tsv string, page int, width, height, scale float64) *Page {
	p := &Page{Number: page, Width: round(width), Height: round(height)}
	last := ""
	for _, row := range strings.Split(tsv, "\n") {
		cols := strings.Split(strings.TrimRight(row, "\r"), "\t")
		if len(cols) < 12 || cols[0] != "5" || strings.TrimSpace(cols[11]) == "" {
			continue
		}
		var n [5]float64
		ok := true
		for i := range n {
			v, err := strconv.ParseFloat(cols[6+i], 64)
			n[i], ok = v, ok && err == nil
		}
		if !ok || n[4] < ocrSure {
			continue
		}
		r := rect{round(n[0] * scale), round(n[1] * scale), round((n[0] + n[2]) * scale), round((n[1] + n[3]) * scale)}
		w := Word{Text: strings.TrimSpace(cols[11]), Size: round((r.y1 - r.y0) / capShare), Box: r.box(page)}
		key := strings.Join(cols[1:5], ".")
		if key != last {
			p.Lines = append(p.Lines, Line{})
			last = key
		}
		line := &p.Lines[len(p.Lines)-1]
		line.Words = append(line.Words, w)
	}
	for i := range p.Lines {
		p.Lines[i] = p.Lines[i].sum(page)
	}
	return p
}
