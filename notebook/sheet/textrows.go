package sheet

// assembleText makes the rows of a table without columns of numbers: a line
// with text in the key column begins a row, the others are wrapped lines.
func (t *Table) assembleText(lines []line) {
	key := t.keyColumn()
	for i := range lines {
		lines[i].limits = len(lines[i].cells[key]) > 0 && !isBlankMark(joinWords(lines[i].cells[key]))
	}
	var rows []rowPlan
	groups := make([]bool, len(lines))
	for i, l := range lines {
		if !l.limits {
			continue
		}
		rows = append(rows, rowPlan{lines: []int{i}})
	}
	if len(rows) == 0 {
		return
	}
	t.attachWrapped(lines, groups, rows)
	t.build(lines, groups, rows)
	t.carry(KindPackage)
}

// keyColumn is the column that names a row.
func (t *Table) keyColumn() int {
	for _, k := range []Kind{KindPin, KindOrder, KindPinName, KindSymbol, KindName, KindPackage} {
		if i := t.column(k); i >= 0 {
			return i
		}
	}
	return 0
}
