package reference

import (
	"bytes"
	"slices"
	"strings"
	"testing"

	"github.com/alecthomas/kong"
)

// lab is a small command line with each kind of thing in it.
type lab struct {
	Store string `placeholder:"FILE" complete:"file" help:"Where it is."`

	Open struct {
		Bell bool   `default:"true" negatable:"" help:"Ring."`
		Job  string `complete:"job" help:"Which."`
	} `cmd:"" default:"withargs" help:"Open it."`
	Show struct {
		Job    string   `arg:"" complete:"job" help:"Which."`
		More   []string `arg:"" optional:"" complete:"file" help:"Files."`
		Format string   `short:"f" enum:"txt,html" default:"txt" help:"How."`
		Tag    []string `help:"Once a tag."`
	} `cmd:"" help:"Show it."`
	Sum struct {
		Up   struct{} `cmd:"" help:"Add."`
		Down struct{} `cmd:"" help:"Take away."`
	} `cmd:"" help:"Reckon."`
	Secret struct{} `cmd:"" hidden:""`
}

func labModel(t *testing.T) *kong.Application {
	t.Helper()
	k, err := kong.New(new(lab), kong.Name("lab"), kong.Description("A lab.\n\nIt is small."))
	if err != nil {
		t.Fatal(err)
	}
	return k.Model
}

func jobsAndNoMore(kind string) []Candidate {
	if kind != "job" {
		return []Candidate{{"asked for " + kind, ""}}
	}
	return []Candidate{{"20260102-a", "car"}, {"20260103-b", "car"}, {"last", ""}}
}

func TestWordsAreCompleted(t *testing.T) {
	for _, row := range []struct{ typed, want string }{
		{"", "open show sum"},
		{"s", "show sum"},
		{"x", ""},
		{"--", "--bell --no-bell --job --help --store"}, // of the command that is meant
		{"--no", "--no-bell"},
		{"--no-bell --b", ""}, // once
		{"--job ", "20260102-a 20260103-b last"},
		{"--store ", "FILES"},
		{"--store x sh", "show"},
		{"--store=x sh", "show"},
		{"show ", "20260102-a 20260103-b last"},
		{"show 2026", "20260102-a 20260103-b"},
		{"show last ", "FILES"},
		{"show last a b ", "FILES"},
		{"show --f", "--format"},
		{"show -", "--format -f --tag --help -h --store"},
		{"show --format ", "txt html"},
		{"show -f ", "txt html"},
		{"show --format=h", "--format=html"},
		{"show --wide=h", ""},
		{"show --tag a --t", "--tag"}, // as often as wanted
		{"show -- --f", ""},
		{"sum ", "up down"},
		{"sum up ", ""},
		{"sum up --", "--help --store"},
	} {
		c := Complete(labModel(t), strings.Split(row.typed, " "), jobsAndNoMore)
		var got []string
		for _, one := range c.Candidates {
			if one.Value != "-h" || strings.HasSuffix(row.typed, " -") {
				got = append(got, one.Value)
			}
		}
		if c.Files {
			got = append(got, "FILES")
		}
		if strings.Join(got, " ") != row.want {
			t.Errorf("%q: %q, want %q", row.typed, got, row.want)
		}
	}
}

func TestCompletionIsALineACandidate(t *testing.T) {
	var out bytes.Buffer
	c := Completion{[]Candidate{{"a", "of\nmany\tlines"}, {"b", ""}}, true}
	if err := c.Write(&out); err != nil || out.String() != "a\tof many lines\nb\t\n:files\n" {
		t.Errorf("%q, %v", out.String(), err)
	}
}

func TestThereIsAScriptForEachShell(t *testing.T) {
	for shell := range strings.SplitSeq(Shells, ",") {
		if s, err := Script(shell); err != nil || !strings.Contains(s, "tundish completion "+shell) || !strings.Contains(s, "__complete") {
			t.Errorf("%s: %v: it does not say how it is put in its place", shell, err)
		}
	}
	if _, err := Script("../help.go"); err == nil {
		t.Error("there is a script for a shell that is none")
	}
}

// Distances worked out by hand.
func TestDistanceCountsSlips(t *testing.T) {
	for _, row := range []struct {
		a, b string
		want int
	}{
		{"", "", 0}, {"", "abc", 3}, {"jobs", "jobs", 0}, {"sumary", "summary", 1}, {"jbos", "jobs", 1}, {"taag", "tag", 1},
		{"dew", "due", 2}, {"kitten", "sitting", 3}, {"ca", "abc", 3},
	} {
		if got := distance([]rune(row.a), []rune(row.b)); got != row.want {
			t.Errorf("%q to %q: %d, want %d", row.a, row.b, got, row.want)
		}
	}
}

func TestMistypedCommandsFindTheNearest(t *testing.T) {
	for _, row := range []struct{ line, word, nearest, at string }{
		{"shwo last", "shwo", "show", ""},
		{"--store x SHOW", "SHOW", "show", ""},
		{"show lst", "", "", ""}, // which is an argument
		{"sum upp", "upp", "up", "sum"},
		{"sum u", "u", "", "sum"}, // one slip, but no letter that is right could be told from chance
		{"drain", "drain", "", ""},
		{"--wide show", "", "", ""},
	} {
		word, nearest, at := Mistyped(labModel(t), strings.Fields(row.line))
		if word != row.word || nearest != row.nearest || at != nil && pathOf(at) != row.at {
			t.Errorf("%q: %q, %q, %v", row.line, word, nearest, at)
		}
	}
}

// A page of man(7): every command that is no secret, and no line that troff takes
// for a request of its own.
func TestManPageHasEveryCommand(t *testing.T) {
	page := Man(labModel(t), Page{Version: "1", Examples: Examples{"show": {{"show last", ".Does it"}}},
		Environment: [][2]string{{"A_B", "is - not \\ read"}}})
	for _, want := range []string{".TH LAB 1 \"\" \"lab 1\"\n", "lab \\- A lab\n", "It is small.", ".SS \"lab show JOB [MORE ...]\"\n",
		"\\fB\\-\\-format\\fR, \\fB\\-f\\fR=\\fI", "\\fB\\-\\-no\\-bell\\fR", "\n\\&.Does it:\n", "lab show last\n",
		".SS \"lab sum down\"\n",
		"is \\- not \\e read", ".SH \"EXIT STATUS\"\n0 done"} {
		if !strings.Contains(page, want) {
			t.Errorf("%q is not in\n%s", want, page)
		}
	}
	if strings.Contains(page, "ecret") {
		t.Error("a secret is told")
	}
}

func TestDefinitionsAreThoseOfTheModel(t *testing.T) {
	app := labModel(t)
	d := Definitions(app.Node, Examples{"show": {{"show last", "shows"}}})
	show := d.Commands[slices.IndexFunc(d.Commands, func(d Definition) bool { return d.Command == "show" })]
	if len(d.Commands) != 3 || len(show.Arguments) != 2 || !show.Arguments[0].Required || !show.Arguments[1].Many ||
		!slices.Equal(show.Flags[0].OneOf, []string{"txt", "html"}) || show.Flags[0].Short != "f" || show.Examples[0] != "show last" {
		t.Errorf("%+v", d)
	}
	if Find(app, []string{"sum", "up"}) == nil || Find(app, []string{"sum", "left"}) != nil || Find(app, []string{"secret"}) != nil {
		t.Error("a command is not found, or one that is none")
	}
}
