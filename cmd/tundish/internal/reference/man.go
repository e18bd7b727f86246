package reference

// This file writes the man page, in the man macros of troff (man(7)).

import (
	"fmt"
	"strings"
	"time"

	"github.com/alecthomas/kong"
)

// Page is what a man page says beside the commands.
type Page struct {
	Version     string
	Date        time.Time // of the version; the zero Time leaves it out
	Environment [][2]string
	Files       [][2]string
	Examples    Examples
}

// Man is the page of all commands, in section 1.
func Man(app *kong.Application, p Page) string {
	var b strings.Builder
	day := ""
	if !p.Date.IsZero() {
		day = p.Date.UTC().Format(time.DateOnly)
	}
	first, more, _ := strings.Cut(app.Help, "\n\n")
	fmt.Fprintf(&b, ".TH %s 1 %q %q\n", strings.ToUpper(app.Name), day, app.Name+" "+p.Version)
	b.WriteString(".ad l\n") // ragged: flags and paths leave wide gaps else
	fmt.Fprintf(&b, ".SH NAME\n%s \\- %s\n", app.Name, roff(strings.TrimSuffix(first, ".")))
	fmt.Fprintf(&b, ".SH SYNOPSIS\n.B %s\n[\\fIcommand\\fR] [\\fIflags\\fR]\n", app.Name)
	fmt.Fprintf(&b, ".SH DESCRIPTION\n%s\n", roff(more))
	b.WriteString(".SH \"FLAGS OF EVERY COMMAND\"\n")
	flags(&b, app.Flags)
	b.WriteString(".SH COMMANDS\n")
	for _, c := range leaves(app.Node) {
		command(&b, app.Name, c, p.Examples)
	}
	terms(&b, "ENVIRONMENT", p.Environment)
	terms(&b, "FILES", p.Files)
	fmt.Fprintf(&b, ".SH \"EXIT STATUS\"\n%s.\n.SH EXAMPLES\n", roff(exitCodes))
	for _, e := range p.Examples[pathOf(app.Node)] {
		example(&b, app.Name, e)
	}
	return b.String()
}

// leaves are the commands that do something.
func leaves(n *kong.Node) (list []*kong.Node) {
	for _, c := range shown(n) {
		if len(c.Children) == 0 {
			list = append(list, c)
		}
		list = append(list, leaves(c)...)
	}
	return list
}

func command(b *strings.Builder, program string, c *kong.Node, examples Examples) {
	fmt.Fprintf(b, ".SS %q\n", roff(program+" "+synopsis(c)))
	b.WriteString(roff(c.Help) + "\n")
	for _, p := range c.Positional {
		fmt.Fprintf(b, ".TP\n\\fI%s\\fR\n%s\n", roff(strings.ToUpper(p.Name)), roff(p.Help))
	}
	flags(b, c.Flags)
	for _, e := range examples[pathOf(c)] {
		example(b, program, e)
	}
}

// synopsis is a command with its arguments.
func synopsis(c *kong.Node) string {
	s := pathOf(c)
	for _, p := range c.Positional {
		name := strings.ToUpper(p.Name)
		if p.IsCumulative() {
			name += " ..."
		}
		if !p.Required {
			name = "[" + name + "]"
		}
		s += " " + name
	}
	return s
}

func flags(b *strings.Builder, list []*kong.Flag) {
	for _, f := range list {
		if f.Hidden {
			continue
		}
		written := names(f)
		for i, name := range written {
			written[i] = "\\fB" + roff(name) + "\\fR"
		}
		s := strings.Join(written, ", ")
		if !f.IsBool() {
			s += "=\\fI" + roff(f.FormatPlaceHolder()) + "\\fR"
		}
		fmt.Fprintf(b, ".TP\n%s\n%s\n", s, roff(f.Help))
	}
}

func example(b *strings.Builder, program string, e Example) {
	fmt.Fprintf(b, ".PP\n%s:\n.RS\n.nf\n%s\n.fi\n.RE\n", roff(e.Does), roff(strings.TrimSpace(program+" "+e.Args)))
}

func terms(b *strings.Builder, title string, list [][2]string) {
	fmt.Fprintf(b, ".SH %s\n", title)
	for _, t := range list {
		fmt.Fprintf(b, ".TP\n\\fB%s\\fR\n%s\n", roff(t[0]), roff(t[1]))
	}
}

// roff is a text that troff prints as it stands: what would be a request, an escape
// or a hyphen in place of a minus is written so that it is not.
func roff(s string) string {
	s = strings.NewReplacer(`\`, `\e`, "-", `\-`, "\n", " ", "\"", "\\(dq", "±", `\(+-`, "…", "...").Replace(strings.TrimSpace(s))
	if strings.HasPrefix(s, ".") || strings.HasPrefix(s, "'") {
		s = `\&` + s
	}
	return s
}
