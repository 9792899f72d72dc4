package checks

import (
	"strings"

	"guardband/eval"
	"guardband/eval/circuit"
	"guardband/eval/record"
	"guardband/notebook"
)

// lifecycle asks that each placed part can still be bought.
var lifecycle = &eval.Check{
	Name:   "lifecycle",
	Rule:   "The lifecycle status noted for a part (`status: active, 2026-03-01`) is active. A part that is not recommended for new designs, at last-time buy or obsolete needs a waiver. Where some parts of a design note their status, the others are named.",
	Source: "common practice; words of JEDEC J-STD-048 (notice of discontinuance)",
	Run: on(func(c *board, b *eval.Check) {
		var without []string
		noted := 0
		for _, p := range c.Parts.List {
			if len(p.Placed) == 0 || p.Generic {
				continue
			}
			if p.Status == "" {
				without = append(without, p.ID)
				continue
			}
			noted++
			cl := c.Claim(b, p.ID, "Part "+p.ID+" is in production.", p.Attrs["status"])
			lifecycleOf(c, cl, p)
		}
		if noted > 0 && len(without) > 0 {
			cl := c.Claim(b, "unstated", "The lifecycle status of each part is noted.", nil)
			cl.Lacks("no fact", "no lifecycle status is noted for "+strings.Join(without, ", "), "look it up and note `status: active, DATE`")
		}
	}),
}

// lifecycleWords are the words of the trade for the stages of a part's life.
var lifecycleWords = []struct {
	word string
	v    record.Verdict
}{
	{"active", record.Passed}, {"in production", record.Passed}, {"preview", record.Failed}, {"sample", record.Failed},
	{"not recommended", record.Failed}, {"nrnd", record.Failed}, {"last-time buy", record.Failed}, {"last time buy",
		record.Failed}, {"end of life", record.Failed}, {"discontinued", record.Failed}, {"obsolete", record.Failed},
}

func lifecycleOf(c *board, cl *eval.Claim, p *circuit.Part) {
	word, on, _ := strings.Cut(p.Status, ",")
	word = strings.TrimSpace(word)
	for _, w := range lifecycleWords {
		if !strings.HasPrefix(strings.ToLower(word), w.word) {
			continue
		}
		if d, _ := notebook.ParseDate(strings.TrimSpace(on)); d.IsZero() {
			cl.Lacks("no date", "the status of part "+p.ID+" ("+word+") has no date on which it was looked up", "`status: "+word+", 2026-03-01`")
		}
		cl.Settle(w.v, p.ID+" is "+p.Status)
		return
	}
	cl.Lacks("no fact", "`"+p.Status+"` is not a lifecycle status",
		"active, not recommended, last-time buy or obsolete, then the day it was looked up")
}
