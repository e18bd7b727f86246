// Package reference is all that can be said of a command line from its definitions:
// what follows the help of a command, the man page, completion in shells, the
// definitions as JSON, and the command that a mistyped word was meant for. There is
// one set of definitions, kong's model of them; nothing is listed a second time but
// the examples, and a test of the program parses each of those.
package reference

import (
	"slices"
	"strings"

	"github.com/alecthomas/kong"
)

// exitCodes says what a command's exit code means.
const exitCodes = "0 done, 1 failed or what was asked for cannot be told, 2 wrong usage, 130 stopped by Ctrl-C"

// Example is a command line, without the name of the program, and what it does.
type Example struct{ Args, Does string }

// Examples are those of each command, by its path: "calc plan"; "" is the program.
type Examples map[string][]Example

// pathOf is how a command is called, without the program's name and the arguments.
func pathOf(n *kong.Node) string {
	if n.Type == kong.ApplicationNode {
		return ""
	}
	return strings.TrimSpace(pathOf(n.Parent) + " " + n.Name)
}

// Find is the command of a path such as calc, plan; nil where there is none.
func Find(app *kong.Application, path []string) *kong.Node {
	n := app.Node
	for _, name := range path {
		at := slices.IndexFunc(n.Children, func(c *kong.Node) bool { return c.Name == name && !c.Hidden })
		if at < 0 {
			return nil
		}
		n = n.Children[at]
	}
	return n
}

// shown are the commands below one that are no secret.
func shown(n *kong.Node) []*kong.Node {
	return slices.DeleteFunc(slices.Clone(n.Children), func(c *kong.Node) bool { return c.Hidden })
}

// flagsOf are the flags that may stand after a command, its own first. Those of the
// command that is meant where none is named count for the program.
func flagsOf(n *kong.Node) (flags []*kong.Flag) {
	if n.DefaultCmd != nil {
		flags = append(flags, flagsOf(n.DefaultCmd)...)
		return flags
	}
	for at := n; at != nil; at = at.Parent {
		for _, f := range at.Flags {
			if !f.Hidden {
				flags = append(flags, f)
			}
		}
	}
	return flags
}

// names are the ways to write a flag: --name, -n, --no-name.
func names(f *kong.Flag) []string {
	list := []string{"--" + f.Name}
	if f.Short != 0 {
		list = append(list, "-"+string(f.Short))
	}
	if f.Tag.Negatable != "" {
		list = append(list, "--no-"+f.Name)
	}
	return list
}
