package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"iter"
	"os"
	"path/filepath"
	"runtime"
	"sync"

	"github.com/spf13/cobra"
	"golang.org/x/term"

	"guardband/eval"
	"guardband/eval/checks"
	"guardband/eval/formula"
	"guardband/eval/record"
	"guardband/eval/trade"
	"guardband/eval/workspace"
	"guardband/notebook"
	"guardband/notebook/sheet"
	"guardband/report/terminal"
)

// app is what every command needs: where to read and write, and the flags
// that all share.
type app struct {
	ctx         context.Context
	in          io.Reader
	out, errOut io.Writer

	root    string   // --root
	on      string   // --on
	noCache bool     // --no-cache
	fresh   bool     // --fresh
	boxes   int      // --boxes
	set     []string // --set: what-ifs

	dir, image, twin string // of a staged tree: the working folder in it, where it lies, and what it stands for
	done             func() // removes that tree

	language  func() *formula.Language
	documents *sheet.Reader
	shared    *workspace.Workspace // made when first asked for; nil again when a root or folder above changes
}

// workspace is what the designs of a run share.
func (a *app) workspace() *workspace.Workspace {
	if a.shared == nil {
		a.shared = &workspace.Workspace{Read: notebook.Options{Root: a.root, Dir: a.dir, Image: a.image, Twin: a.twin}}
	}
	return a.shared
}

// designs resolves the paths of a command line.
func (a *app) designs(args []string) ([]string, error) { return a.workspace().Designs(args) }

func (a *app) rootCommand() *cobra.Command {
	a.language = sync.OnceValue(func() *formula.Language { return formula.NewLanguage(trade.Functions()) })
	root := &cobra.Command{
		Use:   "guardband",
		Short: "Compile design notebooks: prove claims on guaranteed limits, check cited pages, write a review record",
		Long: `guardband compiles literate design notebooks for electronics.

A notebook is Markdown with fenced blocks: part facts with min/typ/max and the
page of your own data sheet, design values, and claims. Every claim is proven
for all values that the facts allow, or broken with the values that break it,
or open with what would settle it.

Exit codes: 0 all claims passed or waived, 1 some claim failed or open,
2 the notebook has errors, 3 wrong usage or the machine failed,
130 stopped by Ctrl-C, 143 by SIGTERM.`,
		Version:       build(),
		SilenceErrors: true,
		SilenceUsage:  true,
	}
	root.PersistentFlags().StringVar(&a.root, "root", "", "folder that notebooks and documents must be in (default: the folder of the notebook)")
	root.PersistentFlags().StringVar(&a.on, "on", "", "day against which waivers are judged, YYYY-MM-DD (default: today)")
	root.PersistentFlags().BoolVar(&a.fresh, "fresh", false, "read every page of the documents again, ignoring the cache")
	root.PersistentFlags().BoolVar(&a.noCache, "no-cache", false, "do not use the cache folder")
	root.PersistentFlags().IntVar(&a.boxes, "boxes", 0, "maximum number of steps of a proof (default 20000)")
	root.AddCommand(a.commands()...)
	root.SetHelpFunc(a.help)
	a.completions(root)
	return root
}

// commands lists the commands; a new one is a row here and a file beside it.
func (a *app) commands() []*cobra.Command {
	return []*cobra.Command{
		a.checkCommand(), a.reportCommand(), a.sweepCommand(), a.calcCommand(), a.explainCommand(), a.compareCommand(),
		a.partsCommand(), a.sourcesCommand(), a.findCommand(), a.draftCommand(), a.watchCommand(),
		a.formatCommand(), a.newCommand(), a.formulasCommand(), a.unitsCommand(), a.schemaCommand(),
		a.licencesCommand(),
	}
}

func (a *app) close() {
	if a.done != nil {
		a.done()
	}
	if a.documents != nil {
		a.documents.Close()
	}
}

// sheets is the library of documents, made when first asked for.
func (a *app) sheets() *sheet.Reader {
	if a.documents == nil {
		dir := ""
		if !a.noCache {
			if base, err := os.UserCacheDir(); err == nil {
				dir = filepath.Join(base, "guardband")
			}
		}
		a.documents = sheet.Open(dir)
		if a.fresh {
			a.documents.Fresh()
		}
	}
	return a.documents
}

// open reads one design and completes the options of its compilation.
func (a *app) open(path string, opt eval.Options) (*notebook.Book, eval.Options, error) {
	var stdin []byte
	if path == "-" {
		var err error
		if stdin, err = io.ReadAll(io.LimitReader(a.in, notebook.MaxBytes+1)); err != nil {
			return nil, opt, fmt.Errorf("cannot read standard input: %w", err)
		}
	}
	book, err := a.workspace().Load(path, stdin, a.set)
	if err != nil {
		return nil, opt, err
	}
	opt, err = a.options(opt)
	return book, opt, err
}

// setHelp is the help of --set, which several commands have.
const setHelp = "NAME=VALUE: a what-if, another value for one of the notes' own, for ambient, or for a fact as PART.NAME"

const againstHelp = "an earlier record.json or a git revision: show what differs, and what is judged more easily"

// options completes the options of a compilation.
func (a *app) options(opt eval.Options) (eval.Options, error) {
	opt.Tool = "guardband " + version
	opt.Language = a.language()
	opt.Checks = checks.All()
	opt.Workers = runtime.GOMAXPROCS(0)
	opt.Boxes = a.boxes
	if opt.Evidence == nil {
		opt.Evidence = a.workspace().Evidence(a.sheets())
	}
	var err error
	opt.On, err = a.day()
	return opt, err
}

// compile works out one design.
func (a *app) compile(path string, opt eval.Options) (*record.Record, error) {
	book, opt, err := a.open(path, opt)
	if err != nil {
		return nil, err
	}
	r := eval.Compile(a.ctx, book, opt)
	return r, a.ctx.Err() // what was cancelled is not a record
}

// each works out several designs side by side and yields their records in
// order.
func (a *app) each(paths []string, opt eval.Options) iter.Seq[workspace.Result] {
	a.sheets() // made once, before several ask for it
	a.workspace()
	return workspace.Each(a.ctx, paths, runtime.GOMAXPROCS(0), func(path string) (*record.Record, error) {
		return a.compile(path, opt)
	})
}

// judge works out designs and gives each record to do, which says how it ends;
// the worst end is that of all.
func (a *app) judge(paths []string, opt eval.Options, do func(path string, x workspace.Result) (int, error)) (worst int, err error) {
	for x := range a.each(paths, opt) {
		code := exitMachine
		if !a.lost(x.Err) {
			if x.Err != nil {
				return worst, x.Err
			}
			if code, err = do(x.Path, x); err != nil {
				return worst, err
			}
		}
		worst = max(worst, code)
	}
	return worst, nil
}

// lost tells of a design that a fault of the program took, so that the others
// are gone on with.
func (a *app) lost(err error) bool {
	var f *workspace.Fault
	if !errors.As(err, &f) {
		return false
	}
	fmt.Fprintf(a.errOut, "guardband: %s\nThis design was not judged; the others are not affected.\n", f)
	return true
}

// nameCommit names in a record the commit its notes are from. It is for what
// is kept: what is only shown does not need it.
func (a *app) nameCommit(path string, r *record.Record) {
	if path == "-" {
		return
	}
	var err error
	if r.Design.Commit, err = commitOf(filepath.Dir(path), r.Files); err != nil {
		fmt.Fprintf(a.errOut, "guardband: the record names no commit: %v\n", err)
	}
}

// tell prints what is wrong with a notebook to standard error, and the verdicts
// to standard output.
func (a *app) tell(r *record.Record, most int, verbose, quiet bool) error {
	claims := shownClaims
	if verbose {
		claims = 0
	}
	a.complain(r, most)
	return terminal.Write(a.out, r, terminal.Options{Color: colour(a.out), Width: width(a.out), Max: claims,
		Verbose: verbose, Quiet: quiet})
}

// complain prints what is wrong with a notebook to standard error.
func (a *app) complain(r *record.Record, most int) {
	list := make([]notebook.Diagnostic, len(r.Diagnostics))
	for i, d := range r.Diagnostics {
		list[i] = notebook.Diagnostic{Code: d.Code, Severity: notebook.Severity(d.Severity),
			Pos: notebook.Pos{File: d.File, Line: d.Line, Col: d.Column}, EndCol: d.EndColumn, Source: d.Source,
			Message: d.Message, Hint: d.Hint}
		for _, x := range d.Related {
			list[i].Related = append(list[i].Related,
				notebook.Related{Pos: notebook.Pos{File: x.File, Line: x.Line, Col: x.Column}, Message: x.Message})
		}
	}
	notebook.Print(a.errOut, list, notebook.PrintOptions{Max: most, Color: colour(a.errOut)})
}

// reason is the innermost cause of an error of the file system, since the path
// is told beside it.
func reason(err error) error {
	var pe *os.PathError
	if errors.As(err, &pe) {
		return pe.Err
	}
	return err
}

// colour says whether w is a terminal that wants colour.
func colour(w io.Writer) bool {
	f, ok := w.(*os.File)
	return ok && os.Getenv("NO_COLOR") == "" && os.Getenv("TERM") != "dumb" && term.IsTerminal(int(f.Fd()))
}

// width is that of the terminal, 100 columns where there is none.
func width(w io.Writer) int {
	if f, ok := w.(*os.File); ok {
		if n, _, err := term.GetSize(int(f.Fd())); err == nil && n >= 40 {
			return min(n, terminal.MaxWidth)
		}
	}
	return 100
}

// verdictCode is the exit code of a record. Where nothing was judged nothing was
// proven either, which a hook must be able to tell.
func verdictCode(r *record.Record, allowOpen bool) int {
	switch s := r.Summary; {
	case r.Faults > 0:
		return exitMachine
	case s.Errors > 0:
		return exitErrors
	case s.Failed > 0, (s.Open > 0 || s.Passed+s.Waived == 0) && !allowOpen:
		return exitClaims
	}
	return exitClear
}
