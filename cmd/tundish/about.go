package main

// This file tells about the program itself: help, version, changes, notices, the man
// page, and completion in shells.

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"github.com/alecthomas/kong"

	"garage/tundish/cmd/tundish/internal/about"
	"garage/tundish/cmd/tundish/internal/cli"
	"garage/tundish/cmd/tundish/internal/reference"
	"garage/tundish/model/guide"
	"garage/tundish/store"
)

type helpCommand struct {
	Command []string `arg:"" optional:"" complete:"command" help:"Command to tell of."`
	jsonFlag
}

// Run prints the help of a command, as its --help does.
func (c *helpCommand) Run(o *outside, k *kong.Context) error {
	n := reference.Find(k.Model, c.Command)
	if n == nil {
		return unknownCommand(k.Model, c.Command, fmt.Errorf("there is no command %q", strings.Join(c.Command, " ")))
	}
	if c.JSON {
		return o.printJSON(reference.Definitions(n, about.Examples()))
	}
	of, err := kong.Trace(k.Kong, append(c.Command, "--help"))
	if err != nil {
		return err
	}
	return of.PrintUsage(false)
}

type manCommand struct{ jsonFlag }

// Run prints the man page.
func (c *manCommand) Run(o *outside, k *kong.Context) error {
	v := about.ThisVersion()
	page := reference.Man(k.Model, reference.Page{Version: v.Line(), Date: v.Day(), Environment: about.Environment(),
		Files: about.Files(), Examples: about.Examples()})
	return o.streams().ShowText(c.jsonFlag, map[string]string{"section": "1", "text": page}, page)
}

type completionCommand struct {
	Shell string `arg:"" enum:"${shells}" help:"One of: ${enum}. The first lines of what is printed say where it belongs."`
	jsonFlag
}

// Run prints what the shell has to read.
func (c *completionCommand) Run(o *outside) error {
	script, err := reference.Script(c.Shell)
	if err != nil {
		return err
	}
	return o.streams().ShowText(c.jsonFlag, map[string]string{"shell": c.Shell, "text": script}, script)
}

// completeCommand is what the shells' scripts call: after --new there is a space
// before the cursor.
type completeCommand struct {
	Words []string `arg:"" optional:"" passthrough:""`
}

// Run prints what the last word may become. What cannot be read offers nothing: a
// shell has no place for an error.
func (c *completeCommand) Run(o *outside, k *kong.Context) error {
	before, words := cutWords(c.Words)
	if slices.Contains(before, "--new") {
		words = append(words, "")
	}
	if at := slices.Index(words, "--store"); at >= 0 && at < len(words)-2 {
		o.storeFlag = words[at+1]
	}
	return reference.Complete(k.Model, words, func(kind string) []reference.Candidate { return candidates(o, k, kind) }).Write(o.out)
}

// cutWords parts words at the first --.
func cutWords(words []string) (before, after []string) {
	at := slices.Index(words, "--")
	if at < 0 {
		return words, nil
	}
	return words[:at], slices.Clone(words[at+1:])
}

// candidates are what there is of a kind of value.
func candidates(o *outside, k *kong.Context, kind string) (list []reference.Candidate) {
	if kind == "command" {
		for _, n := range k.Model.Children {
			if !n.Hidden {
				list = append(list, reference.Candidate{Value: n.Name, About: strings.TrimSuffix(n.Help, ".")})
			}
		}
		return list
	}
	if kind == "setting" {
		for _, name := range settingNames() {
			list = append(list, reference.Candidate{Value: name})
		}
		return list
	}
	path, err := o.storePath()
	if err != nil {
		return nil
	}
	s, err := store.Open(path, store.Options{ReadOnly: true})
	if err != nil {
		return nil
	}
	defer s.Close()
	heads, _, _ := s.List(store.ListOptions{}) // no list offers nothing
	switch kind {
	case "discarded":
		heads, _ = s.Discarded()
	case "car":
		return namesOf(heads, func(h guide.Head) string { return h.Vehicle })
	case "unit":
		return namesOf(heads, func(h guide.Head) string { return h.UnitName })
	}
	for _, h := range heads {
		list = append(list, reference.Candidate{Value: h.ID, About: h.Started.Local().Format(time.DateOnly) + " " + names(h)})
	}
	if len(list) > 0 && kind == "job" {
		list = append([]reference.Candidate{{Value: "last", About: "the job last worked on here"}}, list...)
	}
	return list
}

// namesOf are the names in a list of jobs, each once.
func namesOf(heads []guide.Head, name func(guide.Head) string) (list []reference.Candidate) {
	for _, h := range heads {
		c := reference.Candidate{Value: name(h)}
		if c.Value != "" && !slices.Contains(list, c) {
			list = append(list, c)
		}
	}
	return list
}

// unknownCommand is the usage error of words that are no command, with the one that
// may have been meant.
func unknownCommand(app *kong.Application, words []string, err error) error {
	word, nearest, at := reference.Mistyped(app, words)
	if word == "" {
		return cli.UsageError{Cause: err, Command: app.Name}
	}
	if nearest != "" {
		err = fmt.Errorf("%w, did you mean %q?", err, nearest)
	}
	return cli.UsageError{Cause: err, Command: strings.TrimSpace(app.Name + " " + at.Path())}
}
