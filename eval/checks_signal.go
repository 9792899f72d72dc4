package eval

// signalChecks are about pins that talk to one another: levels, pulls,
// straps, addresses, sequence.
func signalChecks() []*builtin { return []*builtin{} }
