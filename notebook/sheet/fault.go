package sheet

import (
	"errors"
	"fmt"
	"path/filepath"
	"runtime"
	"strings"
)

// ErrFault is a fault of this program, met on a page of a document.
var ErrFault = errors.New("a fault of guardband")

// FaultText says in words what a recovered panic was and where it arose. It is
// for the function deferred that called recover.
func FaultText(x any) string {
	var pcs [64]uintptr
	frames := runtime.CallersFrames(pcs[:runtime.Callers(1, pcs[:])])
	raised := false
	for {
		f, more := frames.Next()
		ours := strings.HasPrefix(f.Function, "guardband/") || strings.HasPrefix(f.Function, "main.")
		if raised && ours {
			return fmt.Sprintf("a fault of guardband at %s:%d (%v), please report it", filepath.Base(f.File), f.Line, x)
		}
		raised = raised || f.Function == "runtime.gopanic"
		if !more {
			return fmt.Sprintf("a fault of guardband (%v), please report it", x)
		}
	}
}

// onPage does something with a page; a panic becomes an error of that page.
func onPage(n int, f func() error) (err error) {
	defer func() {
		if x := recover(); x != nil {
			err = &pageFault{n, FaultText(x)}
		}
	}()
	return f()
}

type pageFault struct {
	page int
	text string
}

func (e *pageFault) Error() string        { return fmt.Sprintf("page %d: %s", e.page, e.text) }
func (e *pageFault) Is(target error) bool { return target == ErrFault }
