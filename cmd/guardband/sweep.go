package main

import (
	"fmt"
	"math"
	"strings"

	"github.com/spf13/cobra"

	"guardband/eval"
)

func (a *app) sweepCommand() *cobra.Command {
	var path string
	var steps int
	c := &cobra.Command{
		Use:   "sweep CLAIM [NAME]",
		Short: "Print and plot a claim's margin against one input, and where its verdict changes",
		Long: `sweep sets one input of a claim to values across its range, holds the others at
their worst, and prints the margin left at each. Without NAME it takes the
input that uses most of the margin.`,
		Example: `  guardband sweep A2 --in examples/weirkeeper
  guardband sweep A6 R1 --in examples/weirkeeper/board.md`,
		Args: cobra.RangeArgs(1, 2),
		RunE: func(_ *cobra.Command, args []string) error {
			if steps < 1 || steps > 1000 {
				return fmt.Errorf("--steps %d: from 1 to 1000", steps)
			}
			name := ""
			if len(args) == 2 {
				name = args[1]
			}
			paths, err := a.designs([]string{path})
			if err != nil {
				return err
			}
			book, opt, err := a.open(paths[0], eval.Options{})
			if err != nil {
				return err
			}
			s, _, err := eval.SweepClaim(a.ctx, book, opt, args[0], name, steps)
			if err != nil {
				return err
			}
			a.printSweep(s)
			return nil
		},
	}
	c.Flags().StringArrayVar(&a.set, "set", nil, setHelp)
	c.Flags().StringVar(&path, "in", ".", "notebook or folder of the claim")
	c.Flags().IntVar(&steps, "steps", 16, "steps across the range")
	return c
}

// printSweep draws a bar a row: to the right of the axis what is left, to the
// left of it what is missing.
func (a *app) printSweep(s *eval.Sweep) {
	fmt.Fprintf(a.out, "%s: %s\nmargin against %s, other inputs at their worst\n\n", s.Claim, s.Criterion, s.Input)
	most, wide, wideM := 0.0, 0, 0
	for _, p := range s.Points {
		most = math.Max(most, math.Abs(p.Margin))
		wide, wideM = max(wide, len([]rune(p.ValueText))), max(wideM, len([]rune(p.MarginText)))
	}
	left := 0
	const span = 30
	bar := func(m float64) int {
		if most == 0 {
			return 0
		}
		return int(math.Round(math.Abs(m) / most * span))
	}
	for _, p := range s.Points {
		if p.Margin < 0 {
			left = max(left, bar(p.Margin))
		}
	}
	for _, p := range s.Points {
		n := bar(p.Margin)
		row := strings.Repeat(" ", left) + "|" + strings.Repeat("█", n)
		if p.Margin < 0 {
			row = strings.Repeat(" ", left-n) + strings.Repeat("░", n) + "|"
		}
		word := "holds"
		if !p.Holds {
			word = "does not hold"
		}
		fmt.Fprintf(a.out, "%s%s  %s%s  %s  %s\n", strings.Repeat(" ", wide-len([]rune(p.ValueText))), p.ValueText,
			strings.Repeat(" ", wideM-len([]rune(p.MarginText))), p.MarginText, row, word)
	}
	fmt.Fprintf(a.out, "\n%s\n", s.Turns)
	if len(s.Inputs) > 1 {
		fmt.Fprintf(a.out, "inputs, largest effect first: %s\n", strings.Join(s.Inputs, ", "))
	}
}
