// Command tundish guides an oil change that can only be done by measurement,
// and proves at the end what the unit holds.
//
// This file holds the command line as a whole: the list of commands, the flags
// of all of them, and the way out. Each command has a file of its own; every
// sentence printed outside the guide follows the rules in messages.go.
package main

import (
	"io"
	"os"
	"slices"
	"time"

	"github.com/alecthomas/kong"

	"garage/tundish/cmd/tundish/internal/about"
	_ "garage/tundish/cmd/tundish/internal/boot" // before Bubble Tea, so that it asks no terminal for its colours
	"garage/tundish/cmd/tundish/internal/calc"
	"garage/tundish/cmd/tundish/internal/cli"
	"garage/tundish/cmd/tundish/internal/config"
	"garage/tundish/cmd/tundish/internal/look"
	"garage/tundish/cmd/tundish/internal/reference"
)

// commands is the command line; every command takes the flags of the first level.
type commands struct {
	Store   string           `placeholder:"FILE" complete:"file" help:"${help_store}"`
	Version kong.VersionFlag `short:"V" help:"Print the version and leave."`

	Guide   guideCommand   `cmd:"" default:"withargs" help:"Open the guide; this is what happens without a command."`
	Demo    demoCommand    `cmd:"" help:"Open the guide on an invented job part-way through, with a tour; nothing is kept."`
	Jobs    jobsCommand    `cmd:"" help:"List the jobs, newest first, each with its state."`
	Car     carCommand     `cmd:"" help:"Show or begin the units of a car that are done in one go: order, state, what to buy."`
	Summary summaryCommand `cmd:"" help:"Write one job, or all units of a car, as Markdown, HTML, text, JSON or CSV."`
	History historyCommand `cmd:"" help:"Show the jobs of a job's unit over the years, and whether it is losing oil."`
	Due     dueCommand     `cmd:"" help:"List what is due over all jobs; also as a calendar file (.ics)."`
	Tag     tagCommand     `cmd:"" help:"Print the tag for the steering wheel: not to be driven."`
	Paper   paperCommand   `cmd:"" help:"Print the sheets of a job, to be filled in under the car and typed in afterwards."`
	Discard discardCommand `cmd:"" help:"Take a job out of all lists, or back; without a job, list what is discarded."`
	Purge   purgeCommand   `cmd:"" help:"Remove discarded jobs from the store and its journal, for good."`
	Import  importCommand  `cmd:"" help:"Merge exported jobs into the store; the same again adds nothing."`
	Pool    poolCommand    `cmd:"" help:"Add up exported jobs of many cars: what stays inside, what is spilled."`
	Backup  backupCommand  `cmd:"" help:"Copy the store, and the unit cards beside it, to a file."`
	Verify  verifyCommand  `cmd:"" help:"Look the store through and change nothing."`
	Repair  repairCommand  `cmd:"" help:"Write what can be read of a damaged store into a new one."`
	Restore restoreCommand `cmd:"" help:"Put a backup in the place of the store; what was there is kept, and nothing is mixed."`
	Export  exportCommand  `cmd:"" help:"Write all jobs of the store, one JSON file a job."`
	Schema  schemaCommand  `cmd:"" help:"Print the JSON Schema of a job's file."`
	Calc    calc.Commands  `cmd:"" help:"Do one calculation alone."`

	Config     config.Commands       `cmd:"" help:"Show or change the settings."`
	Help       helpCommand           `cmd:"" help:"Print the help of a command."`
	VersionOf  about.VersionCommand  `cmd:"" name:"version" help:"Print version, commit and date."`
	Changes    about.ChangesCommand  `cmd:"" help:"Print what changed, newest first."`
	Licenses   about.LicensesCommand `cmd:"" help:"Print the notices of all that is linked in."`
	Man        manCommand            `cmd:"" help:"Print the man page."`
	Completion completionCommand     `cmd:"" help:"Print what makes a shell complete commands, flags and jobs."`
	Complete   completeCommand       `cmd:"" name:"__complete" hidden:"" passthrough:""`
}

// outside is all that a command may touch beyond its flags.
type outside struct {
	in        io.Reader
	out, err  io.Writer
	getenv    func(string) string
	now       func() time.Time
	storeFlag string // --store, "" where it is not given
	json      bool   // --json is given: an error is JSON too
}

// What the commands of this package share with those of others.
type (
	sheet    = cli.Sheet
	jsonFlag = cli.JSONFlag
)

func (o *outside) streams() *cli.Streams { return &cli.Streams{In: o.in, Out: o.out} }

func (o *outside) show(f jsonFlag, result any, text *sheet) error {
	return o.streams().Show(f, result, text)
}

func (o *outside) printJSON(result any) error { return o.streams().PrintJSON(result) }

func main() {
	os.Exit(run(os.Args[1:], &outside{
		in: os.Stdin, out: os.Stdout, err: os.Stderr, getenv: os.Getenv, now: time.Now,
	}))
}

// run does one command and returns its exit code. --help and --version leave
// from within. Without a word the guide opens at once: to make the command
// line ready takes longer than the guide needs to be on the screen.
func run(args []string, o *outside) int {
	if len(args) == 0 {
		return fail(o, (&guideCommand{Flags: look.Flags{Background: "auto"}}).Run(o))
	}
	var c commands
	parser, err := newParser(&c, o, args...)
	if err != nil {
		return fail(o, err)
	}
	before, _ := cutWords(args)
	o.json = slices.Contains(before, "--json")
	chosen, err := parser.Parse(args)
	if err != nil {
		return fail(o, misused(parser.Model, args, err))
	}
	o.storeFlag = c.Store
	return fail(o, chosen.Run())
}

// newParser is the reader of a command line; without words, of any.
func newParser(c *commands, o *outside, words ...string) (*kong.Kong, error) {
	return kong.New(c, append(calc.Numbers(),
		kong.Name("tundish"),
		kong.Description(reference.Description),
		kong.Writers(o.out, o.err),
		kong.ConfigureHelp(kong.HelpOptions{Compact: true, WrapUpperBound: 100}),
		kong.WithHyphenPrefixedParameters(true), // --lift -0.5m, --at -5C
		kong.Vars{"version": "tundish " + about.ThisVersion().Line(), "shells": reference.Shells},
		reference.Only(c, words, "help", "man", "__complete"),
		reference.LongHelp(),
		kong.Help(reference.Help(about.Examples())),
		kong.Bind(o, o.streams(), config.Place(o.settingsFile)),
	)...)
}
