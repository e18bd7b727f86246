package reference

// This file tells what the word at the cursor may become.

import (
	"bufio"
	"io"
	"slices"
	"strings"

	"github.com/alecthomas/kong"
)

// Candidate is what a word may become, and what that is.
type Candidate struct{ Value, About string }

// fileKind is the kind of value for which the shell itself completes names of files.
const fileKind = "file"

// Completion is what the word at the cursor may become; with Files, a file name too.
type Completion struct {
	Candidates []Candidate
	Files      bool
}

// cursor is a place in a command line: what has been read before it.
type cursor struct {
	node  *kong.Node
	open  *kong.Flag // that the next word is the value of
	given []string   // names of flags
	args  int        // how many arguments of the command were given
	plain bool       // after --, where no word is a flag
}

// Complete completes the last of the words after the program's name. The values of
// what is tagged complete:"KIND" come from values, which is asked for that kind.
func Complete(app *kong.Application, words []string, values func(kind string) []Candidate) Completion {
	if len(words) == 0 {
		words = []string{""}
	}
	at := &cursor{node: app.Node}
	last := words[len(words)-1]
	for _, word := range words[:len(words)-1] {
		at.pass(word)
	}
	c := at.candidates(last, values)
	c.Candidates = slices.DeleteFunc(c.Candidates, func(c Candidate) bool { return !strings.HasPrefix(c.Value, last) })
	return c
}

// pass reads a word that is complete.
func (c *cursor) pass(word string) {
	switch {
	case c.open != nil:
		c.open = nil
	case c.plain || !strings.HasPrefix(word, "-") || word == "-":
		c.argument(word)
	case word == "--":
		c.plain = true
	default:
		name, _, joined := strings.Cut(word, "=")
		if f := c.flag(name); f != nil {
			c.given = append(c.given, f.Name)
			if !joined && !f.IsBool() {
				c.open = f
			}
		}
	}
}

func (c *cursor) argument(word string) {
	for _, child := range c.node.Children {
		if c.args == 0 && (child.Name == word || slices.Contains(child.Aliases, word)) {
			c.node = child
			return
		}
	}
	c.args++
}

// flag is the flag of a name; nil where there is none here.
func (c *cursor) flag(name string) *kong.Flag {
	for _, f := range flagsOf(c.node) {
		if slices.Contains(names(f), name) {
			return f
		}
	}
	return nil
}

func (c *cursor) candidates(word string, values func(string) []Candidate) (done Completion) {
	if c.open != nil {
		return valuesOf(c.open.Value, values)
	}
	if strings.HasPrefix(word, "-") && !c.plain {
		if name, _, joined := strings.Cut(word, "="); joined {
			return c.joined(name, values)
		}
		return Completion{Candidates: c.flagNames()}
	}
	if c.args == 0 {
		for _, child := range shown(c.node) {
			done.Candidates = append(done.Candidates, Candidate{child.Name, strings.TrimSuffix(child.Help, ".")})
		}
	}
	args := c.node.Positional
	if len(args) > 0 && (c.args < len(args) || args[len(args)-1].IsCumulative()) {
		return valuesOf(args[min(c.args, len(args)-1)], values)
	}
	return done
}

// joined are the values of a flag that is typed with them: --format=html.
func (c *cursor) joined(name string, values func(string) []Candidate) (done Completion) {
	f := c.flag(name)
	if f == nil {
		return done
	}
	done = valuesOf(f.Value, values)
	for i := range done.Candidates {
		done.Candidates[i].Value = name + "=" + done.Candidates[i].Value
	}
	return done
}

// flagNames are those that may still be given.
func (c *cursor) flagNames() (list []Candidate) {
	for _, f := range flagsOf(c.node) {
		if slices.Contains(c.given, f.Name) && !f.IsCumulative() {
			continue
		}
		for _, name := range names(f) {
			list = append(list, Candidate{name, strings.TrimSuffix(f.Value.Help, ".")})
		}
	}
	return list
}

// valuesOf are the values of a flag or an argument: one of its words, or what is
// known of its kind.
func valuesOf(v *kong.Value, values func(string) []Candidate) (done Completion) {
	if v.Enum != "" {
		for _, word := range v.EnumSlice() {
			done.Candidates = append(done.Candidates, Candidate{Value: word})
		}
		return done
	}
	switch kind := v.Tag.Get("complete"); kind {
	case "":
	case fileKind:
		done.Files = true
	default:
		done.Candidates = slices.Clone(values(kind))
	}
	return done
}

// filesToo is the line that tells the shell to complete names of files.
const filesToo = ":files"

// Write writes what the shells' scripts read: a candidate a line, with what it is
// after a tab, and in the end whether names of files are meant too.
func (c Completion) Write(w io.Writer) error {
	out := bufio.NewWriter(w)
	oneLine := strings.NewReplacer("\n", " ", "\r", " ", "\t", " ") // so that no text ends its line or its column
	for _, one := range c.Candidates {
		out.WriteString(oneLine.Replace(one.Value) + "\t" + oneLine.Replace(one.About) + "\n")
	}
	if c.Files {
		out.WriteString(filesToo + "\n")
	}
	return out.Flush()
}
