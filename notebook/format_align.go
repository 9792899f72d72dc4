package notebook

import (
	"slices"
	"strings"
)

// This file puts the lines of a block into columns.

// align gives the lines their columns, run by run.
func align(lines []laidLine) []string {
	out := make([]string, len(lines))
	labelWidth := labelLeast
	for _, l := range lines {
		if l.form == attrForm && cellsWide(l.cols[0]) <= labelMost {
			labelWidth = max(labelWidth, cellsWide(l.cols[0]))
		}
	}
	for i := 0; i < len(lines); {
		j := i + 1
		for j < len(lines) && sameRun(lines[i], lines[j]) {
			j++
		}
		alignRun(lines[i:j], labelWidth)
		i = j
	}
	alignTails(lines)
	for i, l := range lines {
		s := strings.Join(l.cols, "")
		if l.tail != "" && s != "" && !strings.HasSuffix(s, " ") {
			s += "  "
		}
		s += l.tail
		if l.comment != "" && s != "" {
			s += "  "
		}
		s += l.comment
		if s != "" {
			s = l.indent + s
		}
		out[i] = strings.TrimRight(s, " \t")
	}
	return out
}

func sameRun(a, b laidLine) bool {
	return a.form == b.form && a.form != verbatim && a.indent == b.indent &&
		(a.form == rowForm || len(a.cols) == len(b.cols))
}

// alignRun pads all columns but the last.
func alignRun(run []laidLine, labelWidth int) {
	if run[0].form == verbatim {
		return
	}
	widths := map[string]int{}
	key := func(l laidLine, k int) string {
		if k == 0 || l.form != rowForm {
			return string(rune('0' + k))
		}
		return string(rune('0'+k)) + l.class
	}
	for _, l := range run {
		for k, c := range l.cols[:len(l.cols)-1] {
			if w := cellsWide(c); w <= cellColumn || l.form != rowForm {
				widths[key(l, k)] = max(widths[key(l, k)], w)
			}
		}
	}
	if run[0].form == attrForm {
		widths["0"] = labelWidth
	}
	for i := range run {
		l := &run[i]
		l.cols = slices.Clone(l.cols)
		for k := range l.cols[:len(l.cols)-1] {
			glue, width := l.glue, widths[key(*l, k)]
			if l.form == defForm && k < len(l.cols)-2 {
				glue = " "
			}
			if l.form == rowForm && k > 1 {
				width = 0
			}
			l.cols[k] = padTo(l.cols[k], width) + glue
		}
	}
}

// alignTails puts the citations of neighbouring lines into one column.
func alignTails(lines []laidLine) {
	for i := 0; i < len(lines); {
		j, width := i, 0
		for ; j < len(lines) && lines[j].form != verbatim; j++ {
			if w := cellsWide(lines[j].indent + strings.Join(lines[j].cols, "")); lines[j].tail != "" && w <= tailColumn {
				width = max(width, w)
			}
		}
		for ; i < j; i++ {
			if l := &lines[i]; l.tail != "" {
				body := padTo(l.indent+strings.Join(l.cols, ""), width) + "  "
				l.cols = []string{strings.TrimPrefix(body, l.indent)}
			}
		}
		i++
	}
}
