package bound

// TurnKind tells what Turns found.
type TurnKind uint8

const (
	Never       TurnKind = iota // the predicate does not change with the input
	Monotone                    // it changes once, at the value given
	NotMonotone                 // the input is not monotone over its range
)
