// Clew reads a knitting pattern, proves it, keeps a knitter's place in it, and
// reads the next row out in plain spoken English.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"sync/atomic"
	"syscall"
	"time"

	"github.com/alecthomas/kong"
)

// Exit codes.
const (
	exitOK    = 0
	exitWrong = 1 // the pattern has errors, or the command failed
	exitUsage = 2 // wrong usage, or a file that can't be read

	exitStopped = 130 // stopped by a signal, as shells report it
)

// commands is the command line. Each flag with an environment variable says so.
type commands struct {
	Check checkCommand `cmd:"" help:"Prove a pattern: every row's stitches, every cross, in every size."`
	Say   sayCommand   `cmd:"" help:"Read rows of a pattern in plain spoken English."`
	Draw  drawCommand  `cmd:"" help:"Draw rows of a pattern: a chart of symbols, or the fabric as it should look."`
	Fit   fitCommand   `cmd:"" help:"Measure a pattern, and tell how to make it fit: size, length, stitches to cast on."`
	Chat  chatCommand  `cmd:"" help:"Knit a pattern by asking: next row, again, back, where am I."`
	Serve serveCommand `cmd:"" help:"Serve a group on Discord, as a bot."`
	Hear  hearCommand  `cmd:"" help:"Show what Clew understands of typed or dictated words, as JSON."`
}

// A program is clew with all that it takes from outside, so that tests can
// start it with their own.
type program struct {
	in     io.Reader
	out    io.Writer
	errors io.Writer
	now    func() time.Time
	newID  func() string

	unhurried atomic.Bool // after a signal the command ends by itself, and may take its time
}

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	p := &program{in: os.Stdin, out: os.Stdout, errors: os.Stderr, now: time.Now, newID: newID()}
	ended := make(chan int, 1)
	go func() { ended <- p.run(ctx, os.Args[1:]) }()
	select {
	case code := <-ended:
		os.Exit(code)
	case <-ctx.Done():
	}
	// A command that waits for a line can't be interrupted. Nothing is lost by
	// leaving it there: every answer was on the disk before it was given.
	limit := stopLimit
	if p.unhurried.Load() {
		limit = serveStopLimit
	}
	select {
	case code := <-ended:
		os.Exit(code)
	case <-time.After(limit):
	}
	os.Exit(exitStopped)
}

// How long a command may take to end after a signal: one that serves others
// first finishes what they asked.
const (
	stopLimit      = 500 * time.Millisecond
	serveStopLimit = 15 * time.Second
)

// A failure is an error with the code that the program ends with.
type failure struct {
	code int
	error
}

func (f failure) Unwrap() error { return f.error }

func usage(format string, args ...any) error {
	return failure{exitUsage, fmt.Errorf(format, args...)}
}

// errSilent ends the program with exitWrong when all has been said.
var errSilent = errors.New("")

// run parses the arguments, runs the command and gives the exit code.
func (p *program) run(ctx context.Context, args []string) int {
	var c commands
	exited := -1
	parser, err := kong.New(&c, kong.Name("clew"),
		kong.Description("Clew reads a knitting pattern, proves it, keeps your place in it, and says the next row."),
		kong.Writers(p.out, p.errors), kong.Exit(func(code int) { exited = code }),
		kong.BindTo(ctx, (*context.Context)(nil)), kong.Bind(p), kong.ConfigureHelp(kong.HelpOptions{Compact: true}))
	if err != nil {
		fmt.Fprintln(p.errors, "clew:", err)
		return exitUsage
	}
	parser.Model.HelpFlag.Help = "Show this help."
	if len(args) == 0 {
		args = []string{"--help"}
	}
	parsed, err := parser.Parse(args)
	if exited >= 0 { // the help was asked for
		return exited
	}
	if err != nil {
		fmt.Fprintf(p.errors, "clew: %v\nTry: clew --help\n", err)
		return exitUsage
	}
	err = parsed.Run()
	if ctx.Err() != nil && errors.Is(err, ctx.Err()) {
		return exitStopped
	}
	return p.exit(err)
}

func (p *program) exit(err error) int {
	if err == nil {
		return exitOK
	}
	if !errors.Is(err, errSilent) {
		fmt.Fprintln(p.errors, "clew:", err)
	}
	var f failure
	if errors.As(err, &f) {
		return f.code
	}
	return exitWrong
}
