package eval

import (
	"math/big"
	"strconv"
	"strings"

	"guardband/eval/record"
	"guardband/notebook"
	"guardband/units"
)

// purchase is what the design says of the number of boards.
type purchase struct {
	boards    int64
	attrition *big.Rat // share lost in assembly, 0 where not stated
}

// purchasing reads `boards:` and `attrition:` of the design; Options.Boards
// comes first. No number of boards: nothing is worked out.
func (c recorder) purchasing() purchase {
	p := purchase{boards: int64(c.opt.Boards), attrition: new(big.Rat)}
	for _, b := range c.blocks {
		if b.Kind != "design" {
			continue
		}
		for _, e := range b.Entries {
			switch e.Label {
			case "boards":
				if n, ok := c.count(e); ok && p.boards == 0 {
					p.boards = n
				}
			case "attrition":
				q, err := units.ParseLiteral(e.Trimmed())
				if err != nil || q.Type != (units.Type{}) || q.SI.Sign() < 0 || q.SI.Cmp(one) >= 0 {
					c.diagnose(notebook.Err, "attrition-form", e.Value,
						"attrition is the share of parts lost in assembly, from 0 to below 100 %", "`attrition: 3 %`")
					continue
				}
				p.attrition = q.SI
			}
		}
	}
	return p
}

// count reads a whole number above nought.
func (c recorder) count(e *notebook.Entry) (int64, bool) {
	n, err := strconv.ParseInt(strings.TrimSpace(e.Trimmed()), 10, 32)
	if err != nil || n < 1 {
		c.diagnose(notebook.Err, "count-form", e.Value, "`"+e.Label+"` is a whole number from 1", "`"+e.Label+": 10`")
		return 0, false
	}
	return n, true
}

// order fills how many pieces of a line to order: boards times pieces a board
// times (1 + attrition), rounded up to whole pieces, then to whole packs.
func (p purchase) order(l *record.PartsLine, pack int64) {
	if p.boards == 0 {
		return
	}
	need := new(big.Rat).SetInt64(p.boards * int64(l.Quantity))
	need.Mul(need, new(big.Rat).Add(one, p.attrition))
	n := new(big.Int).Add(need.Num(), new(big.Int).Sub(need.Denom(), big.NewInt(1)))
	pieces := n.Quo(n, need.Denom()).Int64()
	if pack > 0 {
		pieces = (pieces + pack - 1) / pack * pack
		l.Pack = int(pack)
	}
	l.Boards, l.ToOrder = int(p.boards), int(pieces)
}
