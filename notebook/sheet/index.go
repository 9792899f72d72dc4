package sheet

// wordIndex is filled by the index (see find.go).
type wordIndex struct{ textPages int }

func (l *Library) knownIndex(f file, c *content) *wordIndex { return c.index }
