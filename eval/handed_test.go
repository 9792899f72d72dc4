package eval_test

import (
	"guardband/eval"
	"guardband/eval/checks"
)

func init() { eval.TestChecks = checks.All() }
