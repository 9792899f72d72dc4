package eval

import (
	"fmt"
	"slices"
	"strings"

	"guardband/eval/circuit"
	"guardband/eval/record"
	"guardband/notebook/sheet"
)

func countedList(pages []int) string {
	var out []string
	for _, p := range pages[:min(3, len(pages))] {
		out = append(out, fmt.Sprintf("pdf.%d", p))
	}
	return strings.Join(out, ", ")
}

func (k *citation) sourceID() string {
	if k.source == nil {
		return ""
	}
	return k.source.id
}

// page is the page as cited.
func (k *citation) page() string {
	if k.cite.From == "" { // found by its words
		return countedList(k.found.Elsewhere)
	}
	p := "p."
	if k.cite.Counted {
		p = "pdf."
	}
	p += k.cite.From
	if k.cite.To != "" {
		p += "-" + k.cite.To
	}
	return p
}

// grade is how far the citation was checked.
func (k *citation) grade() string {
	switch {
	case k.source.changed() && (k.found.Grade == sheet.GradeWords || k.found.Grade == sheet.GradeNumbers ||
		k.found.Grade == sheet.GradePage):
		return "other revision"
	case k.byPerson():
		return readByPerson
	case k.replayed && (k.found.Grade == sheet.GradeWords || k.found.Grade == sheet.GradeNumbers):
		return fromCommitted
	case k.asked && k.cite.From == "" && k.cite.Quote == "":
		return "not checked"
	case k.found.Layer && (k.found.Grade == sheet.GradeWords || k.found.Grade == sheet.GradeNumbers):
		return textLayer
	case k.asked:
		return string(k.found.Grade)
	case !k.source.onFile:
		return string(sheet.GradeNoFile)
	}
	return "not checked"
}

// failing is why the citation does not bear a pass; nil when it does.
func (k *citation) failing() *record.OpenPoint {
	p := &record.OpenPoint{Reason: "citation", Source: k.source.id, Page: k.page()}
	where := k.source.id + " " + k.page()
	switch k.grade() {
	case "other revision":
		p.Text = where + ": the file is not the one recorded, the citation rests on another revision"
		p.Settle = "compare with the new file, then record its digest"
	case string(sheet.GradeNotFound):
		p.Text = where + ": the words “" + k.cite.Quote + "” are not there" + k.hiddenText()
		p.Settle = "find the page they are on"
		if len(k.found.Elsewhere) > 0 {
			p.Settle = "they are on " + countedList(k.found.Elsewhere)
		}
	case string(sheet.GradeNoPage):
		p.Text = where + ": there is no such page"
		p.Settle = fmt.Sprintf("the document has %d pages", k.source.info.Pages)
	case readByPerson:
		return nil
	case string(sheet.GradeNoFile):
		if !k.source.replayed || k.cite.From+k.cite.Quote == "" {
			return nil
		}
		p.Text = where + ": the document is not here, and the committed evidence does not know this citation"
		p.Settle = "write the evidence again where the document is present"
	default:
		switch {
		case k.found.Unread:
			p.Text, p.Settle = where+": "+k.found.Problem, k.readHint()
		case k.found.Slip != "":
			p.Text, p.Settle = where+": "+k.found.Slip, "compare the row and the column on the page"
		case len(k.absent) > 0 || k.unlike != "":
			p.Text, p.Settle = k.absentText(), k.readHint()
		case len(k.head) > 0:
			p.Text, p.Settle = k.headText(), k.headHint()
		default:
			return nil
		}
	}
	return p
}

// textLayer is the grade of what was found behind a scan: the picture may show
// something else.
const textLayer = "text layer"

// fromCommitted is the grade of what was found where the document was at hand,
// by a file that was committed with the notes.
const fromCommitted = "committed evidence"

// readByPerson is the grade of a page that a person answers for.
const readByPerson = "read by a person"

// byPerson says that a person answers for the page: what the program could not
// find there is settled. A page that the document lacks nobody has read.
func (k *citation) byPerson() bool {
	return k.cite.ReadBy != "" && !k.source.changed() && k.found.Grade != sheet.GradeNoPage
}

// absentText says what none of the cited pages shows.
func (k *citation) absentText() string {
	if len(k.absent) == 0 {
		return k.unlike
	}
	verb := "is"
	if len(k.absent) > 1 {
		verb = "are"
	}
	text := strings.Join(k.absent, ", ") + " " + verb + " nowhere on " + k.page() + " of " + k.source.id + ", in any column or unit"
	if k.unlike != "" {
		text += "; " + k.unlike
	}
	return text + k.hiddenText()
}

// hiddenText says that the page holds text that nobody sees, "" if it does not.
func (k *citation) hiddenText() string {
	if !k.found.Hidden {
		return ""
	}
	return " (text of it that cannot be seen does not count)"
}

// headText says what the head of the table asks and the note does not.
func (k *citation) headText() string {
	at := strings.Join(k.head, ", ")
	return "the table on " + k.page() + " of " + k.source.id + " holds at " + at + "; the note of " + k.name + " does not say so"
}

// headHint is how a condition of a table's head is answered.
func (k *citation) headHint() string {
	cite := "`[" + k.source.id + " " + k.page() + " read by NAME 2026-11-20]`"
	return "note it after `at`; where it does not matter, whoever has read it writes " + cite + ", with that day"
}

// readHint is how an alarm of the program about a page is answered.
func (k *citation) readHint() string {
	cite := "`[" + k.source.id + " " + k.page() + " read by NAME 2026-11-20]`"
	return "correct it; if a person reads it there, write " + cite + ", with that day"
}

// record is the citation as the record shows it.
func (k *citation) record(c *compiler) record.Cite {
	out := record.Cite{Source: k.source.id, Page: k.page(), Counted: k.found.Page, Printed: k.found.Label,
		Section: k.cite.Section, Quote: k.cite.Quote,
		Checked: k.grade(), Line: k.found.Line, Position: position(k.cite.Text.Pos(0)), Picture: k.picture,
		Width: k.width, Height: k.height}
	if k.source.onFile {
		out.File = recorder{c}.relative(k.source.abs)
	}
	out.Text = gradeText[out.Checked]
	switch problem := k.found.Problem; {
	case problem != "" && out.Checked == string(sheet.GradeNoText):
		out.Text = problem
	case problem != "":
		out.Text += "; " + problem
	}
	if out.Checked == readByPerson {
		out.Text = "read by " + k.cite.ReadBy + " on " + k.cite.ReadOn
	} else if n := k.notThere(); len(n) > 0 && out.Checked != "not found" {
		out.Text += "; not on it: " + strings.Join(n, ", ")
	}
	if k.erratum != "" {
		out.Text += "; " + k.erratum
	}
	if k.cite.Date != "" {
		out.Page = k.cite.Date
	}
	return out
}

// notThere are the numbers of the entry that its pages lack.
func (k *citation) notThere() []string {
	out := slices.Clip(k.missing)
	for _, s := range k.absent {
		out = circuit.AddTo(out, s)
	}
	return out
}

var gradeText = map[string]string{
	"words": "quoted words found", "numbers": "numbers found on the page", "page": "the page exists", "no text": "the page has no text layer",
	"no file": "file missing", "not found": "not on the page", "no page": "no such page", "not checked": "not checked",
	fromCommitted:    "found as the committed evidence says; the document is not here",
	"other revision": "the file is of another revision", textLayer: "found in the text layer over a picture: the picture may show something else",
}
