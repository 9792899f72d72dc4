package main

import (
	"bytes"
	"fmt"
	"strings"

	"guardband/eval"
	"guardband/eval/checks"
	"guardband/notebook"
)

// settle compiles a drafted note and turns lines that the compiler refuses
// into comments, so that a draft always compiles; then lays it out as `format`
// does. It gives the number of such lines.
func (a *app) settle(note []byte) ([]byte, int, error) {
	on, err := a.day()
	if err != nil {
		return nil, 0, err
	}
	lines := bytes.SplitAfter(note, []byte("\n"))
	dropped := 0
	for range 4 { // what refers to a refused line may be refused next
		book, err := notebook.Load("-", notebook.Options{Stdin: withoutFile(lines)})
		if err != nil {
			return nil, 0, fmt.Errorf("cannot compile the draft: %w", err)
		}
		r := eval.Compile(a.ctx, book, eval.Options{Language: a.language(), Checks: checks.All(), On: on})
		n := 0
		for _, x := range r.Diagnostics {
			if x.Severity == string(notebook.Err) && x.Line >= 1 && x.Line <= len(lines) && comment(lines, x.Line-1) {
				n++
			}
		}
		if dropped += n; n == 0 {
			break
		}
	}
	text, _ := notebook.Format(bytes.Join(lines, nil))
	return text, dropped, nil
}

// withoutFile is the note without the path of its sheet: a note that has no
// place yet has no folder for paths to start from.
func withoutFile(lines [][]byte) []byte {
	var b bytes.Buffer
	for _, l := range lines {
		if bytes.HasPrefix(l, []byte("file:")) || bytes.HasPrefix(l, []byte("sha256:")) {
			b.WriteByte('#')
		}
		b.Write(l)
	}
	return b.Bytes()
}

// comment makes a line of a block a comment; false if it is one, or opens or
// closes a block.
func comment(lines [][]byte, i int) bool {
	s := string(lines[i])
	t := strings.TrimLeft(s, " ")
	if strings.HasPrefix(t, "#") || strings.HasPrefix(t, "```") || strings.TrimSpace(t) == "" {
		return false
	}
	lines[i] = []byte(s[:len(s)-len(t)] + "# " + t)
	return true
}
