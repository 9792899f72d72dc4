// Package draw lays out formulas and plots as pictures of a few plain
// shapes, so that HTML and PDF show the same drawing. It computes positions
// only: every number and every text comes from the Record.
package draw

// Font names a face of the backend. Backends map it to what they have.
type Font = string

// The faces that pictures ask for.
const (
	Regular Font = "regular"
	Italic  Font = "italic"
	Bold    Font = "bold"
)

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
	OpText OpKind = iota // Text from X along the baseline Y, face Font, size Size
	OpLine               // from X, Y to X2, Y2, stroked Stroke wide
	OpRect               // top left X, Y, size W, H; filled, or stroked where Stroke > 0
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
	Font   Font
	Text   string
	Path   []Seg
}

// Seg is one step of a path: 'M' move, 'L' line, 'C' cubic curve with the
// control points X1, Y1 and X2, Y2, 'Z' close.
type Seg struct {
	Cmd            byte
	X, Y           float64
	X1, Y1, X2, Y2 float64
}

// Picture is a finished drawing, W wide and H high. Base is the distance from
// the top to the baseline on which it stands in a line of text.
type Picture struct {
	W, H, Base float64
	Ops        []Op
}

// Metrics measures text of the backend's faces. All lengths are in the unit
// of size. Ascent and Descent are positive.
type Metrics interface {
	Width(font Font, size float64, s string) float64
	Ascent(font Font, size float64) float64
	Descent(font Font, size float64) float64
}

// place adds the shapes of p to q, shifted by dx, dy.
func (q *Picture) place(p Picture, dx, dy float64) {
	for _, o := range p.Ops {
		o.X, o.Y, o.X2, o.Y2 = o.X+dx, o.Y+dy, o.X2+dx, o.Y2+dy
		if len(o.Path) > 0 {
			path := make([]Seg, len(o.Path))
			for i, s := range o.Path {
				s.X, s.Y, s.X1, s.Y1, s.X2, s.Y2 = s.X+dx, s.Y+dy, s.X1+dx, s.Y1+dy, s.X2+dx, s.Y2+dy
				path[i] = s
			}
			o.Path = path
		}
		q.Ops = append(q.Ops, o)
	}
}

// Depth is how far the picture reaches below its baseline.
func (q Picture) Depth() float64 { return q.H - q.Base }
