// Command guardband compiles literate design notebooks for electronics: it
// proves or breaks every claim, checks the cited pages of the user's own data
// sheets, and writes a design-review record.
//
// Exit codes: 0 all claims passed or waived; 1 some claim failed or is open;
// 2 the notebook has errors; 3 wrong usage, or the machine failed;
// 130 stopped by Ctrl-C, 143 by SIGTERM.
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
	"strings"
	"syscall"

	"guardband/notebook"
	"guardband/notebook/files"
)

// version of the program, set when a release is linked.
var version = "0.1.0"

// Exit codes, published in README.md.
const (
	exitClear   = 0
	exitClaims  = 1
	exitErrors  = 2
	exitMachine = 3

	exitInterrupted = 130 // 128 + 2, SIGINT
	exitTerminated  = 143 // 128 + 15, SIGTERM
)

// exitError carries an exit code that is no message: what was wrong has been
// printed already.
type exitError int

func (e exitError) Error() string { return fmt.Sprintf("exit code %d", int(e)) }

// ending is the error that ends a run with a code.
func ending(code int) error {
	if code == exitClear {
		return nil
	}
	return exitError(code)
}

func main() {
	if os.Getenv("GOMEMLIMIT") == "" {
		debug.SetMemoryLimit(heap)
	}
	if os.Getenv("GOGC") == "" {
		debug.SetGCPercent(400) // a run is short and keeps most of its records to the end
	}
	os.Exit(start())
}

// heap is the memory that the garbage collector tries to stay within, bytes.
// An ordinary run takes a tenth of it; a large notebook is collected oftener.
const heap = 400 << 20

// start is run for the process itself: a signal stops it.
func start() int {
	stopOnSignal(files.Stop, os.Exit)
	return run(context.Background(), os.Args[1:], os.Stdin, os.Stdout, os.Stderr)
}

// stopOnSignal ends the process at the first Ctrl-C or SIGTERM. Nothing is
// wound up: a cancelled reading once looked like a damaged document, and a
// record of it replaced a good one. Files taking their places are waited for,
// those pending are removed; a second signal does not wait.
func stopOnSignal(stop func(), exit func(int)) chan<- os.Signal {
	signals := make(chan os.Signal, 2)
	signal.Notify(signals, os.Interrupt, syscall.SIGTERM)
	go func() {
		code := exitInterrupted
		if <-signals == syscall.SIGTERM {
			code = exitTerminated
		}
		go func() {
			<-signals
			exit(code)
		}()
		stop()
		exit(code)
	}()
	return signals
}

// run is the whole program with its environment given, so that tests can call
// it. A panic below it is a fault of ours: it is told as such, with code 3.
func run(ctx context.Context, args []string, in io.Reader, out, errOut io.Writer) (code int) {
	defer func() {
		if x := recover(); x != nil {
			buf := make([]byte, 16<<10)
			fmt.Fprintf(errOut, "guardband: a fault in guardband itself: %v\nNothing was written. Please report this with the notebook that caused it.\n%s\n",
				x, buf[:runtime.Stack(buf, false)])
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
	text := err.Error()
	if !strings.HasPrefix(text, "unknown command ") { // whose suggestions take several lines
		text = notebook.Clean(text)
	}
	fmt.Fprintln(errOut, "guardband: "+text)
	return exitMachine
}
