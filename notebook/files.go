package notebook

// Files lists the absolute paths of the files that a book reads: its notebooks
// and the lists and evidence that they name, and apart its documents. missing
// says that one that is named cannot be found.
func (b *Book) Files() (own, documents []string, missing bool) {
	for _, n := range b.Notebooks {
		if n.Src.Abs != "" {
			own = append(own, n.Src.Abs)
		}
		for _, k := range n.Blocks {
			for _, e := range k.Entries {
				to := &own
				switch e.Label {
				case "file":
					to = &documents
				case "evidence", "pin list", "parts list", "netlist", "placed from":
				default:
					continue
				}
				abs, err := b.Document(n.Src, e.Value.Trim().S)
				missing = missing || err != nil
				if err == nil {
					*to = append(*to, abs)
				}
			}
		}
	}
	return own, documents, missing
}
