package eval

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path/filepath"

	"guardband/notebook"
	"guardband/notebook/sheet"
)

// Answers are what the documents of a design answered while they were at hand,
// to be committed where the documents themselves may not be: of each its
// digest, and of each citation what was asked and what the check found; of the
// page nothing else.
type Answers struct {
	Path      string // where the notes want them, absolute; "" where they name no file
	Documents []AnsweredDocument
}

// AnsweredDocument is one document in Answers.
type AnsweredDocument struct {
	File    string   `json:"file"` // as the notes name it
	SHA256  string   `json:"sha256"`
	Pages   int      `json:"pages"`
	Answers []Answer `json:"answers"`
}

// Answer is one citation in Answers.
type Answer struct {
	Asked sheet.Query   `json:"asked"`
	Found sheet.Finding `json:"found"`
}

// answersSchema names the form of the file.
const answersSchema = "guardband evidence 1"

type answersFile struct {
	Schema    string             `json:"schema"`
	Documents []AnsweredDocument `json:"documents"`
}

// Write writes the answers as JSON in UTF-8, a line for each, so that a change
// of one is one line of a difference.
func (a *Answers) Write(w io.Writer) error {
	var b bytes.Buffer
	line := func(before string, x any, after string) error {
		text, err := json.Marshal(x)
		b.WriteString(before)
		b.Write(text)
		b.WriteString(after)
		return err
	}
	err := line(`{"schema": `, answersSchema, ", \"documents\": [")
	for i, d := range a.Documents {
		if i > 0 {
			b.WriteByte(',')
		}
		err = errors.Join(err, line("\n{\"file\": ", d.File, ", "), line(`"sha256": `, d.SHA256,
			fmt.Sprintf(", \"pages\": %d, \"answers\": [", d.Pages)))
		for k, x := range d.Answers {
			comma := ","
			if k == len(d.Answers)-1 {
				comma = ""
			}
			err = errors.Join(err, line("\n", x, comma))
		}
		b.WriteString("]}")
	}
	b.WriteString("]}\n")
	if err != nil {
		return err
	}
	_, err = w.Write(b.Bytes())
	return err
}

// committed is what the file of the design says, by digest and question.
type committed struct {
	at        notebook.Text // the label
	documents []AnsweredDocument
	answers   map[string]map[string]sheet.Finding
}

// asKey is a question, or what was found, as text that can be compared.
func asKey(x any) string {
	b, err := json.Marshal(x)
	if err != nil {
		return ""
	}
	return string(b)
}

// readCommitted reads the file that `evidence:` of the design names.
func (c proof) readCommitted() {
	e := c.design.evidence
	if e == nil {
		return
	}
	c.committed = &committed{at: e.Value, answers: map[string]map[string]sheet.Finding{}}
	const again = "`guardband sources --write-evidence` writes it where the documents are present"
	if _, err := c.book.Resolve(e.Text.Src, e.Trimmed()); errors.Is(err, fs.ErrNotExist) {
		if c.opt.Answers == nil {
			c.diagnose(notebook.Warn, "evidence-missing", e.Value, "there is no file `"+e.Trimmed()+"`", again)
		}
		return
	}
	data := c.fileBeside(e, "evidence-file", again)
	if data == nil {
		return
	}
	var f answersFile
	if err := json.Unmarshal(data, &f); err != nil || f.Schema != answersSchema {
		c.diagnose(notebook.Err, "evidence-file", e.Value, "`"+e.Trimmed()+"` is not a file of evidence", again)
		return
	}
	c.committed.documents = f.Documents
	for _, d := range f.Documents {
		of := map[string]sheet.Finding{}
		for _, x := range d.Answers {
			of[asKey(x.Asked)] = x.Found
		}
		c.committed.answers[d.SHA256] = of
	}
}

// replay answers for a document that is not at hand from the committed file,
// where the notes and the file speak of the same bytes.
func (c proof) replay(s *source) {
	if c.committed == nil || s.digest == "" {
		return
	}
	of, ok := c.committed.answers[s.digest]
	if !ok {
		return
	}
	s.replayed, s.info.SHA256 = true, s.digest
	for _, d := range c.committed.documents {
		if d.SHA256 == s.digest {
			s.info.Pages = d.Pages
		}
	}
	for _, k := range s.cites {
		if found, ok := of[asKey(k.query())]; ok {
			k.asked, k.replayed, k.found = true, true, found
		}
	}
}

// compareCommitted looks what the committed file says of a document that was
// read here.
func (c proof) compareCommitted(s *source) {
	if c.committed == nil || c.opt.Answers != nil {
		return
	}
	of := c.committed.answers[s.info.SHA256]
	for _, k := range s.cites {
		found, ok := of[asKey(k.query())]
		k.uncommitted = !ok
		k.disputed = ok && k.asked && asKey(found) != asKey(k.found)
	}
}

// tellCommitted tells where the committed file and the documents differ.
func (c proof) tellCommitted() {
	if c.committed == nil {
		return
	}
	n := 0
	for _, s := range c.sources.List {
		for _, k := range s.cites {
			if k.disputed {
				c.diagnose(notebook.Err, "evidence-differs", k.cite.Text, "the committed evidence says otherwise of "+
					k.page()+" of "+s.id+" than the document present",
					"look at the page; `guardband sources --write-evidence` writes what it shows")
			}
			if k.uncommitted && k.asked {
				n++
			}
		}
	}
	if n > 0 {
		c.diagnose(notebook.Warn, "evidence-old", c.committed.at, fmt.Sprintf("%d citations are not in this file as they are now", n),
			"`guardband sources --write-evidence` writes them; a copy without the documents cannot check them before")
	}
}

// fillAnswers takes what documents answered; of one that is not at hand what
// the committed file has.
func (c proof) fillAnswers(to *Answers) {
	if e := c.design.evidence; e != nil {
		path, err := c.book.Resolve(e.Text.Src, e.Trimmed())
		if errors.Is(err, fs.ErrNotExist) { // its folder must be there
			path, err = c.book.Resolve(e.Text.Src, filepath.ToSlash(filepath.Dir(e.Trimmed())))
			path = filepath.Join(path, filepath.Base(e.Trimmed()))
		}
		if err == nil {
			to.Path = path
		}
	}
	for _, s := range c.sources.List {
		d := AnsweredDocument{File: s.file, SHA256: s.info.SHA256, Pages: s.info.Pages, Answers: []Answer{}}
		for _, k := range s.cites {
			if q := k.query(); k.asked && !k.found.Unread && q.From+q.Quote != "" {
				d.Answers = append(d.Answers, Answer{q, k.found})
			}
		}
		if len(d.Answers) > 0 && d.SHA256 != "" {
			to.Documents = append(to.Documents, d)
		}
	}
}
