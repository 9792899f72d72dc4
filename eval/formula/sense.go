package formula

import (
	"math"
	"math/big"

	"guardband/units"
)

// sensed is the sense of a product or quotient beyond that of its types: 2 * pi
// makes an angular frequency of a frequency and back, other factors with pi
// and angles leave no sense, and 1/(R*C), R/L and 1/sqrt(L*C) of bare quantities are
// angular. A number but 1 before these leaves nothing: k/(R*C) of a data sheet
// is what the sheet says.
func (c *checker) sensed(n *Node, t units.Type, a, b Value) units.Sense {
	left, right := n.Args[0], n.Args[1]
	from, factor, made := a.Type.Sense, right, units.Angular
	if n.Word == "/" {
		made = units.Cyclic
		if t.Dim == perSecond && c.natural(left, right) {
			return units.Angular
		}
	} else if from == units.NoSense {
		from, factor = b.Type.Sense, left
	}
	x, has := circle(factor)
	switch {
	case !has:
		return t.Sense
	case t.Dim == perSecond && from != units.NoSense && from != made && math.Abs(x/(2*math.Pi)-1) < 0.002:
		return made
	}
	return units.NoSense
}

var (
	perSecond = dimOf("Hz")
	// pairs of quantities whose product or quotient is the time in which what
	// they store falls to 1/e
	timeConstants = [][2]units.Dim{{dimOf("Ω"), dimOf("F")}, {dimOf("H"), dimOf("S")}}
	corners       = [][2]units.Dim{{dimOf("Ω"), dimOf("H")}, {dimOf("S"), dimOf("F")}}
	resonance     = [][2]units.Dim{{dimOf("H"), dimOf("F")}}
)

func dimOf(unit string) units.Dim {
	u, err := units.ParseUnit(unit)
	if err != nil {
		panic("formula: " + err.Error())
	}
	return u.Type.Dim
}

// natural tells the quotients that give an angular frequency.
func (c *checker) natural(left, right *Node) bool {
	left, right = left.bare(), right.bare()
	root := right.Kind == NodeCall && right.Word == "sqrt" && len(right.Args) == 1
	product := right
	if root {
		product = right.Args[0].bare()
	}
	switch {
	case isOne(left) && root:
		return product.is("*") && c.made(product.Args[0], product.Args[1], resonance)
	case isOne(left):
		return product.is("*") && c.made(product.Args[0], product.Args[1], timeConstants)
	case left.is("/") && isOne(left.Args[0].bare()):
		return c.made(left.Args[1], right, timeConstants)
	}
	return c.made(left, right, corners)
}

// made says that two bare quantities are one of the pairs; of a product in
// either order.
func (c *checker) made(x, y *Node, pairs [][2]units.Dim) bool {
	x, y = x.bare(), y.bare()
	for _, n := range []*Node{x, y} {
		if n.Kind != NodeName && n.Kind != NodeLiteral {
			return false
		}
	}
	a, b := c.eval(x).Type.Dim, c.eval(y).Type.Dim
	for _, p := range pairs {
		if a == p[0] && b == p[1] || a == p[1] && b == p[0] {
			return true
		}
	}
	return false
}

func (n *Node) is(op string) bool { return n.Kind == NodeBinary && n.Word == op }

func isOne(n *Node) bool {
	return n.Kind == NodeLiteral && n.Lit.Type == (units.Type{}) && n.Lit.SI.Cmp(big.NewRat(1, 1)) == 0
}

// circle is the number of a factor of literals and pi, and whether it has pi in
// it, or is an angle, or a number that is a multiple of pi to three digits.
func circle(n *Node) (x float64, has bool) {
	switch n = n.bare(); n.Kind {
	case NodeName:
		return math.Pi, isPi(n.Path)
	case NodeLiteral:
		x, _ = n.Lit.SI.Float64()
		return x, n.Lit.Unit.Symbol == "rad" || n.Lit.Unit.Symbol == "°" || 6.28 <= x && x < 6.29 || 3.14 <= x && x < 3.15
	case NodeBinary:
		a, one := circle(n.Args[0])
		b, two := circle(n.Args[1])
		if n.Word == "/" {
			return a / b, one || two
		}
		return a * b, (one || two) && n.Word == "*"
	}
	return math.NaN(), false
}
