// Package draw lays out plots as pictures of a few plain shapes, so that HTML and PDF show the same drawing. It computes positions
// only: every number and every text comes from the Record.
package draw

// Role says what a shape stands for. Backends map roles to colours; a role is
// never told by colour alone, shapes and words repeat it.
type Role uint8

const (
	Ink     Role = iota // text and rules
	Quiet               // axes, small print
	Limit               // a limit: line or band
	Allowed             // where the value may lie
	Asked               // the part of Allowed that the margin keeps free
	Span                // where the value lies
	Miss                // the part of the value that lies beyond its limit
	Unknown             // an end that nothing bounds
)

var roleNames = [...]string{"ink", "quiet", "limit", "allowed", "asked", "span", "miss", "unknown"}

// String is the name of the role, used as a class by the SVG backend.
func (r Role) String() string { return roleNames[r] }

// OpKind tells the four shapes apart.
type OpKind uint8

const (
	OpText OpKind = iota // Text from X along the baseline Y, size Size
	OpLine               // from X, Y to X2, Y2, stroked Stroke wide
	OpRect               // top left X, Y, size W, H; filled
	OpPath               // Path; filled, or stroked where Stroke > 0
)

// Op is one shape. Lengths are in the unit of the size given to the layout
// (points for PDF, CSS pixels for SVG); Y grows downwards from the top.
type Op struct {
	Kind   OpKind
	Role   Role
	X, Y   float64
	X2, Y2 float64
	W, H   float64
	Stroke float64
	Size   float64
	Text   string
	Path   []Seg
}

// Seg is one step of a path: 'M' move, 'L' line, 'Z' close.
type Seg struct {
	Cmd  byte
	X, Y float64
}

// Picture is a finished drawing, W wide and H high.
type Picture struct {
	W, H float64
	Ops  []Op
}

// Width measures text of the backend's face, in the unit of size.
type Width func(size float64, s string) float64
