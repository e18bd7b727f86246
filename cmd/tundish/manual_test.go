package main

// This file holds the manual to the command line: examples, JSON everywhere, words
// that were meant for others.

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os/exec"
	"slices"
	"strings"
	"testing"

	"github.com/alecthomas/kong"

	"garage/tundish/cmd/tundish/internal/about"
)

// model is the definitions of the command line.
func model(t *testing.T) *kong.Kong {
	t.Helper()
	parser, err := newParser(new(commands), new(outside))
	if err != nil {
		t.Fatal(err)
	}
	return parser
}

// wordsOf are the words of an example: what comes after a pipe or goes to a file is
// the shell's.
func wordsOf(example string) []string {
	words := strings.Fields(example)
	if at := slices.IndexFunc(words, func(w string) bool { return w == "|" || w == ">" }); at >= 0 {
		words = words[:at]
	}
	return words
}

// pathsOf are the commands as they are called, "" for none.
func pathsOf(k *kong.Kong) []string {
	paths := []string{"", "calc", "config"}
	for _, n := range k.Model.Leaves(true) {
		paths = append(paths, n.Path())
	}
	return paths
}

// A start makes nothing ready but the command that its words name, which must say what
// it says among the others.
func TestACommandByItselfSaysTheSame(t *testing.T) {
	t.Parallel()
	all := model(t)
	for _, path := range pathsOf(all) {
		for _, more := range []string{"--help", "--jsno", "x --store=", "a b c d"} {
			args := strings.Fields(path + " " + more)
			alone, err := newParser(new(commands), new(outside), args...)
			if err != nil {
				t.Fatal(err)
			}
			var said [2]string
			for i, k := range []*kong.Kong{all, alone} {
				var out bytes.Buffer
				k.Stdout, k.Exit = &out, func(code int) { fmt.Fprintln(&out, "exit code", code) }
				_, err := k.Parse(args)
				if err != nil {
					err = misused(k.Model, args, err)
				}
				said[i] = fmt.Sprintf("%s%v", out.String(), err)
			}
			if said[1] != said[0] {
				t.Errorf("tundish %s %s: %s\nby itself: %s", path, more, said[0], said[1])
			}
		}
	}
}

func TestEachCommandHasTwoExamplesThatParse(t *testing.T) {
	t.Parallel()
	examples, k := about.Examples(), model(t)
	for _, path := range pathsOf(k) {
		if len(examples[path]) != 2 {
			t.Errorf("tundish %s: %d examples", path, len(examples[path]))
		}
		for _, e := range examples[path] {
			words := wordsOf(e.Args)
			if !strings.HasPrefix(e.Args, path) {
				t.Errorf("tundish %s is no example of %q", e.Args, path)
			}
			if _, err := k.Parse(words); err != nil {
				t.Errorf("tundish %s: %v", e.Args, err)
			}
		}
		delete(examples, path)
	}
	for path := range examples {
		t.Errorf("there are examples of %q, which is no command", path)
	}
}

func TestEveryCommandTakesJSON(t *testing.T) {
	t.Parallel()
	for _, n := range model(t).Model.Leaves(true) {
		if !slices.ContainsFunc(n.Flags, func(f *kong.Flag) bool { return f.Name == "json" }) {
			t.Errorf("%s has no --json", n.Path())
		}
	}
}

// With --json an error is an object on standard error; the exit code is the same.
func TestErrorsAreJSONWhereItIsGiven(t *testing.T) {
	for _, args := range [][]string{
		{"jobs", "--json", "--wide"},
		{"calc", "plan", "--json", "--capacity", "9\x1b[2J00\nml", "--drained", "830"},
		{"summary", "last", "--json", "--store", "/nowhere/jobs.db"},
		{"help", "--json", "sumary"},
	} {
		code, out, errs := runHere(t, nil, args...)
		plain := slices.DeleteFunc(slices.Clone(args), func(a string) bool { return a == "--json" })
		plainCode, _, plainErrs := runHere(t, nil, plain...)
		var f failure
		if err := json.Unmarshal([]byte(errs), &f); err != nil || strings.Count(errs, "\n") != 1 || out != "" {
			t.Errorf("%q: %q %q: %v", args, out, errs, err)
		}
		if code != plainCode || f.ExitCode != code || "tundish: "+f.Error+"\n" != plainErrs {
			t.Errorf("%q: %d %+v, without --json %d %q", args, code, f, plainCode, plainErrs)
		}
	}
}

func TestMistypedCommandsAreAskedAfter(t *testing.T) {
	for args, want := range map[string]string{
		"sumary last":      `tundish: unexpected argument sumary, did you mean "summary"?; see: tundish --help`,
		"help jbos":        `tundish: there is no command "jbos", did you mean "jobs"?; see: tundish --help`,
		"calc pln":         `tundish: unexpected argument pln, did you mean "plan"?; see: tundish calc --help`,
		"drain":            `tundish: unexpected argument drain; see: tundish --help`,
		"jobs --jsn":       `tundish: unknown flag --jsn, did you mean one of "--json", "--csv"?; see: tundish jobs --help`,
		"guide everything": `tundish: unexpected argument everything; see: tundish guide --help`,
	} {
		if code, out, errs := runHere(t, nil, strings.Fields(args)...); code != exitUsage || out != "" || errs != want+"\n" {
			t.Errorf("%s: %d %q %q, want %q", args, code, out, errs, want)
		}
	}
}

// What man makes of the page has no warning, and each command.
func TestManReadsThePage(t *testing.T) {
	t.Parallel()
	if _, err := exec.LookPath("man"); err != nil {
		t.Skip("SKIPPED: no man here")
	}
	_, page, _ := runHere(t, nil, "man")
	cmd := exec.Command("man", "-l", "--warnings=mac,reg,syntax,char,escape,font", "-E", "UTF-8", "-P", "cat", "-")
	cmd.Stdin = strings.NewReader(page)
	var faults strings.Builder
	cmd.Stderr = &faults
	out, err := cmd.Output()
	if err != nil || faults.Len() > 0 {
		t.Fatalf("%v: %s", err, faults.String())
	}
	for _, n := range model(t).Model.Leaves(true) {
		if !strings.Contains(string(out), "tundish "+n.Path()) {
			t.Errorf("%s is not on the page", n.Path())
		}
	}
}
