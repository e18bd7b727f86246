package reference

// This file prints help: what kong prints, then examples and the exit codes; and
// the definitions as JSON.

import (
	"fmt"
	"io"
	"strings"

	"github.com/alecthomas/kong"
)

// Help prints the help of what is selected, with its examples and the exit codes.
func Help(examples Examples) kong.HelpPrinter {
	return func(options kong.HelpOptions, ctx *kong.Context) error {
		if err := kong.DefaultHelpPrinter(options, ctx); err != nil {
			return err
		}
		n := ctx.Selected()
		if n == nil {
			n = ctx.Model.Node
		}
		return after(ctx.Stdout, ctx.Model.Name, examples[pathOf(n)])
	}
}

func after(w io.Writer, program string, examples []Example) error {
	s := "\nExamples:\n"
	for _, e := range examples {
		s += "  " + e.Does + ":\n    " + strings.TrimSpace(program+" "+e.Args) + "\n"
	}
	_, err := fmt.Fprintf(w, "%s\nExit codes: %s.\n", s, exitCodes)
	return err
}

// Definition is a command in JSON.
type Definition struct {
	Command   string       `json:"command"` // as it is called; "" is the program
	Help      string       `json:"help"`
	Arguments []ValueOf    `json:"arguments"`
	Flags     []ValueOf    `json:"flags"` // its own
	Examples  []string     `json:"examples"`
	Commands  []Definition `json:"commands"`
}

// ValueOf is an argument or a flag in JSON.
type ValueOf struct {
	Name     string   `json:"name"`
	Short    string   `json:"short,omitempty"`
	Help     string   `json:"help"`
	Default  string   `json:"default,omitempty"`
	OneOf    []string `json:"one_of,omitempty"`
	Required bool     `json:"required,omitempty"`
	Many     bool     `json:"many,omitempty"`
	Switch   bool     `json:"switch,omitempty"` // it takes no value
}

// Definitions is a command with those below it.
func Definitions(n *kong.Node, examples Examples) Definition {
	d := Definition{Command: pathOf(n), Help: n.Help, Arguments: []ValueOf{}, Flags: []ValueOf{}, Examples: []string{},
		Commands: []Definition{}}
	for _, p := range n.Positional {
		d.Arguments = append(d.Arguments, valueOf(p))
	}
	for _, f := range n.Flags {
		if !f.Hidden {
			v := valueOf(f.Value)
			if f.Short != 0 {
				v.Short = string(f.Short)
			}
			d.Flags = append(d.Flags, v)
		}
	}
	for _, e := range examples[pathOf(n)] {
		d.Examples = append(d.Examples, e.Args)
	}
	for _, c := range shown(n) {
		d.Commands = append(d.Commands, Definitions(c, examples))
	}
	return d
}

func valueOf(v *kong.Value) ValueOf {
	out := ValueOf{Name: v.Name, Help: v.Help, Default: v.Default, Required: v.Required, Many: v.IsCumulative(), Switch: v.IsBool()}
	if v.Enum != "" {
		out.OneOf = v.EnumSlice()
	}
	return out
}
