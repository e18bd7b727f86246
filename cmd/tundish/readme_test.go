package main

// This file holds the README to what the program does.

import (
	"bytes"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/alecthomas/kong"
)

// readmeCode returns the lines of the README that are set as code.
func readmeCode(t *testing.T) []string {
	t.Helper()
	text, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	var code []string
	for line := range strings.Lines(string(text)) {
		if rest, ok := strings.CutPrefix(line, "    "); ok {
			code = append(code, strings.TrimRight(rest, "\n"))
		}
	}
	return code
}

// What the README shows of a command is what the command prints; … stands for
// lines that are left out.
func TestReadmeShowsWhatIsPrinted(t *testing.T) {
	code, shown := readmeCode(t), 0
	for i, line := range code {
		command, ok := strings.CutPrefix(line, "$ tundish ")
		if !ok {
			continue
		}
		shown++
		var out, errs bytes.Buffer
		o := &outside{out: &out, err: &errs, getenv: func(string) string { return "" }}
		if code := run(strings.Fields(command), o); code != exitDone {
			t.Fatalf("%s: exit code %d: %s", command, code, errs.String())
		}
		var parts []string
		for _, l := range code[i+1:] {
			if strings.HasPrefix(l, "$ ") || strings.HasPrefix(l, "tundish ") {
				break
			}
			if l == "…" {
				parts = append(parts, `(.*\n)*`)
				continue
			}
			parts = append(parts, regexp.QuoteMeta(l)+`\n`)
		}
		want := regexp.MustCompile(`^` + strings.Join(parts, "") + `(.*\n)*$`)
		if !want.MatchString(out.String()) {
			t.Errorf("%s prints:\n%s\nwant as in the README, up to lines left out:\n%s", command, out.String(), want)
		}
	}
	if shown == 0 {
		t.Error("the README shows no command with what it prints")
	}
}

// Each command of the program is in the README's list, and each word of the
// list is a command or a flag of the program.
func TestReadmeListsTheCommands(t *testing.T) {
	var c commands
	parser, err := newParser(&c, new(outside))
	if err != nil {
		t.Fatal(err)
	}
	listed := map[string]bool{"guide": true} // the one without a name
	for _, line := range readmeCode(t) {
		usage, ok := strings.CutPrefix(line, "tundish ")
		if !ok {
			continue
		}
		usage, rest, _ := strings.Cut(usage, "   ")
		for _, flag := range regexp.MustCompile(`--[a-z]+`).FindAllString(usage+rest, -1) {
			if !hasFlag(parser.Model.Node, flag) {
				t.Errorf("%q: no command has %s", line, flag)
			}
		}
		names := strings.FieldsFunc(usage, func(r rune) bool { return r == ',' })
		for _, name := range names {
			word := strings.Fields(name)
			if len(word) == 0 || strings.HasPrefix(word[0], "-") {
				continue
			}
			if word[0] == "calc" || word[0] == "config" {
				for sub := range strings.SplitSeq(word[1], "|") {
					listed[word[0]+" "+sub] = true
				}
			}
			listed[word[0]] = true
		}
	}
	for _, name := range []string{"version", "changes", "licenses", "man"} {
		listed[name] = listed["help"] // on its line
	}
	known := []string{"calc", "config"}
	for _, n := range parser.Model.Leaves(true) {
		known = append(known, n.Path())
		if !listed[n.Path()] {
			t.Errorf("the README does not list %q", n.Path())
		}
	}
	for name := range listed {
		if !slices.Contains(known, name) {
			t.Errorf("the README lists %q, which is no command", name)
		}
	}
}

// hasFlag reports whether a command, or one below it, takes a flag.
func hasFlag(n *kong.Node, flag string) bool {
	for _, f := range n.Flags {
		if "--"+f.Name == flag {
			return true
		}
	}
	return slices.ContainsFunc(n.Children, func(c *kong.Node) bool { return hasFlag(c, flag) })
}

// What the README says holds a convention is a test, or a script, that is there.
func TestReadmeNamesTestsThatAreThere(t *testing.T) {
	readme, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	var tests strings.Builder
	goFiles(t, func(path, text string) {
		if strings.HasSuffix(path, "_test.go") {
			tests.WriteString(text)
		}
	})
	_, table, _ := strings.Cut(string(readme), "| convention |")
	rows := 0
	for line := range strings.Lines(table) {
		cells := strings.Split(line, "|")
		if len(cells) != 5 || !strings.Contains(cells[3], "`") {
			continue
		}
		rows++
		for _, name := range strings.Split(cells[3], ",") {
			name = strings.Trim(name, " `")
			_, err := os.Stat("../../testdata/scripts/" + name + ".txtar")
			if err != nil && !strings.Contains(tests.String(), "func "+name+"(") {
				t.Errorf("there is no test %q", name)
			}
		}
	}
	if lines := strings.Count(table, "\n|") - 1; rows < 15 || rows != lines {
		t.Errorf("%d of %d conventions name what holds them", rows, lines)
	}
}
