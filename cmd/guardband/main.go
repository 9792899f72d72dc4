// Command guardband compiles literate design notebooks for electronics: it
// proves or breaks every claim, checks the cited pages of the user's own data
// sheets, and writes a design-review record.
//
// Exit codes: 0 all claims passed or waived; 1 some claim failed or is open;
// 2 the notebook has errors; 3 wrong usage, or the machine failed.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"runtime"
	"runtime/debug"
)

// version of the program, set when a release is linked.
var version = "0.1.0"

// Exit codes, published in README.md.
const (
	exitClear   = 0
	exitClaims  = 1
	exitErrors  = 2
	exitMachine = 3
)

// exitError carries an exit code that is no message: what was wrong has been
// printed already.
type exitError int

func (e exitError) Error() string { return fmt.Sprintf("exit code %d", int(e)) }

func main() {
	if os.Getenv("GOGC") == "" {
		debug.SetGCPercent(400) // a run is short and keeps most of its records to the end
	}
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	os.Exit(run(ctx, os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}

// run is the whole program with its surroundings given, so that tests can call
// it. A panic below it is a fault of ours: it is told as such, with code 3.
func run(ctx context.Context, args []string, in io.Reader, out, errOut io.Writer) (code int) {
	defer func() {
		if x := recover(); x != nil {
			buf := make([]byte, 16<<10)
			fmt.Fprintf(errOut, "guardband: a fault in guardband itself: %v\nNothing was written. Please report this with the notebook that caused it.\n%s\n", x, buf[:runtime.Stack(buf, false)])
			code = exitMachine
		}
	}()
	a := &app{ctx: ctx, in: in, out: out, errOut: errOut}
	root := a.rootCommand()
	root.SetArgs(args)
	root.SetIn(in)
	root.SetOut(out)
	root.SetErr(errOut)
	err := root.ExecuteContext(ctx)
	a.close()
	var exit exitError
	switch {
	case err == nil:
		return exitClear
	case errors.As(err, &exit):
		return int(exit)
	}
	fmt.Fprintln(errOut, "guardband: "+err.Error())
	return exitMachine
}
