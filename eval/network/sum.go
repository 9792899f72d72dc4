package network

import (
	"fmt"
	"maps"
	"math/big"
	"slices"
	"strings"

	"guardband/eval/bound"
)

// This file judges sums over circuits that do not hang together, as the currents
// of all outputs of a part: each by itself, since together they have as many
// cases as all of them multiplied.

// JudgeSum judges that a sum is at least 0, or above it where strict says so; ok
// is false where its terms are about one circuit.
func (n *Network) JudgeSum(sum bound.Reg, strict bool, s Scope) (j Judgement, ok bool) {
	terms := n.apart(sum)
	if terms == nil {
		return j, false
	}
	e := n.Range(sum, s)
	if e.Why != "" {
		return Judgement{Why: e.Why}, true
	}
	if e.Lo > 0 || e.Lo == 0 && !strict {
		return Judgement{Verdict: Passed}, true
	}
	point := map[int]*big.Rat{}
	for _, t := range terms {
		point = n.worst(t, point, s)
	}
	if e := n.at(point).Range(sum, s); e.Why == "" && (e.Hi < 0 || e.Hi == 0 && strict) {
		return Judgement{Verdict: Failed, Point: point, Why: "with all of these at once"}, true
	}
	return Judgement{Why: fmt.Sprintf("each of its %d terms is known as a range alone, and the sum of them may be either", len(terms))}, true
}

// fewTerms are those of a sum that is judged as a whole, which is sharper.
const fewTerms = 3

// apart are the terms of a sum, those about one circuit together; nil where
// those are few.
func (n *Network) apart(sum bound.Reg) []bound.Reg {
	all := n.g.Summands(sum)
	if len(all) < fewTerms {
		return nil
	}
	var out []bound.Reg
	var about [][]string // circuits
	rest := bound.Reg(0)
	for _, t := range all {
		g, _ := n.groupFor(t)
		if g == nil {
			return nil
		}
		if g.key == "" {
			rest = n.g.add(rest, t)
			continue
		}
		key := strings.Fields(g.key)
		for k := 0; k < len(out); k++ {
			if slices.ContainsFunc(about[k], func(x string) bool { return slices.Contains(key, x) }) {
				t, key = n.g.add(out[k], t), append(key, about[k]...)
				out, about = slices.Delete(out, k, k+1), slices.Delete(about, k, k+1)
				k = -1
			}
		}
		out, about = append(out, t), append(about, key)
	}
	if len(out) < fewTerms {
		return nil
	}
	out[0] = n.g.add(out[0], rest)
	return out
}

// worst adds to a point of N the corner at which a term is least.
func (n *Network) worst(term bound.Reg, point map[int]*big.Rat, s Scope) map[int]*big.Rat {
	at := n.at(point)
	j, _ := at.ask(at.g.atMost(0, term), s)
	best, least := point, 0.0
	for k, corner := range j.corners(j.cases) {
		both := maps.Clone(point)
		maps.Copy(both, corner)
		if e := n.at(both).Range(term, s); e.Why == "" && (k == 0 || e.Hi < least) {
			best, least = both, e.Hi
		}
	}
	return best
}

// at is the network with some inputs fixed.
func (n *Network) at(point map[int]*big.Rat) *Network {
	m := *n
	m.leaves = pins{n.leaves, point}
	m.groups, m.spans = map[string]*group{}, map[bound.Reg]span{}
	return &m
}
