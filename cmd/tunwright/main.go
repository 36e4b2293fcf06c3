// Command tunwright settles during the call whether a small brewery fits a
// building: it checks an enquiry against a catalogue, prices it and writes the
// papers for the client and each trade.
//
// Run it with --help; each command teaches by example.
package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"time"

	"github.com/alecthomas/kong"
)

// Exit codes: a script can tell a design that must not be sold from a program
// that could not answer.
const (
	exitOK      = 0
	exitStopped = 1 // a stopping finding stands
	exitError   = 2 // the program could not do what was asked
)

// errStopped says that the check ran and found what must be mended first.
var errStopped = errors.New("a stopping finding stands")

type cli struct {
	Quote     quoteCmd     `cmd:"" help:"Check and price an enquiry and write its papers to a folder."`
	Check     checkCmd     `cmd:"" help:"Check an enquiry and print what holds and what fails."`
	Equip     equipCmd     `cmd:"" help:"Choose equipment for an enquiry from its brief and site."`
	Sample    sampleCmd    `cmd:"" help:"Write a sample enquiry to start from."`
	Rules     rulesCmd     `cmd:"" help:"List the rules."`
	Explain   explainCmd   `cmd:"" help:"Explain one rule: what it compares, why, and by which source."`
	Calc      calcCmd      `cmd:"" help:"List, describe and run single calculations."`
	Catalogue catalogueCmd `cmd:"" help:"List and validate the catalogue, or print its JSON Schema."`
	Prices    pricesCmd    `cmd:"" help:"Export a price book; preview a changed one."`
	Register  registerCmd  `cmd:"" help:"Check, back up and restore the register; export and import quotations."`
	Serve     serveCmd     `cmd:"" help:"Open the web page on this machine."`
	Complete  completeCmd  `cmd:"" name:"completion" help:"Print a completion script for your shell."`
	Version   versionCmd   `cmd:"" help:"Print the version of program and catalogue."`
}

// console is where a command reads the day and writes its words, so that tests
// can hold both.
type console struct {
	out   io.Writer
	err   io.Writer
	today func() time.Time
	model *kong.Application
}

const description = `Settles during the call whether a small brewery fits a building.

Examples:
  tunwright quote                          the pack of the built-in demo enquiry
  tunwright sample hill-farm > farm.yaml   an enquiry to edit
  tunwright equip brief.yaml >> brief.yaml equipment for an enquiry that has none
  tunwright check farm.yaml                what holds, what fails, what would mend it
  tunwright quote farm.yaml --out farm     the papers
  tunwright explain FL-010                 one rule, with its source
  tunwright calc run electrical.design-current '{"power_kw": 24, "voltage_v": 400, "cos_phi_ratio": 1}'
  tunwright serve                          the same in a web page

Exit codes: 0 in order, 1 a stopping finding stands, 2 the program could not answer.`

func main() {
	os.Exit(run(os.Args[1:], os.Stdout, os.Stderr, time.Now))
}

// run parses the command line and runs one command.
func run(args []string, out, errOut io.Writer, today func() time.Time) (code int) {
	var c cli
	exited := false
	parser, err := kong.New(&c,
		kong.Name("tunwright"), kong.Description(description), kong.Writers(out, errOut),
		kong.ConfigureHelp(kong.HelpOptions{Compact: true, NoExpandSubcommands: true}),
		kong.Exit(func(n int) { exited, code = true, n; panic(exitRequest{}) }),
	)
	if err != nil {
		fmt.Fprintln(errOut, "tunwright:", err)
		return exitError
	}
	defer func() {
		// kong asks to exit after --help from inside its parser; that request is
		// carried out here and every other panic goes on.
		if r := recover(); r != nil && (!exited || r != any(exitRequest{})) {
			panic(r)
		}
	}()
	if len(args) == 0 {
		args = []string{"--help"}
	}
	ctx, err := parser.Parse(args)
	if err != nil {
		fmt.Fprintf(errOut, "tunwright: %s\nSee tunwright --help.\n", err)
		return exitError
	}
	err = ctx.Run(&console{out: out, err: errOut, today: today, model: parser.Model})
	switch {
	case err == nil:
		return exitOK
	case errors.Is(err, errStopped):
		return exitStopped
	}
	fmt.Fprintln(errOut, "tunwright:", err)
	return exitError
}

type exitRequest struct{}
