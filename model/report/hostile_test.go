package report

// This file fills jobs with text that wants to be more than text, and reads
// every format back with an independent parser: goldmark for Markdown
// (CommonMark 0.31 with GitHub's tables, strikethrough and links),
// golang.org/x/net/html for HTML, encoding/csv for CSV.

import (
	"bytes"
	"encoding/csv"
	"errors"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/extension"
	renderer "github.com/yuin/goldmark/renderer/html"
	"golang.org/x/net/html"
	"pgregory.net/rapid"

	"garage/tundish/model/agenda"
	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/jobtest"
	"garage/tundish/model/text"
	"garage/tundish/testdata/runs"
)

// poisoned is a job with every text that was typed replaced, and everything
// that was entered struck out and entered again, so that struck texts show too.
func poisoned(j job.Job, text string) job.Job {
	out := job.Job{ID: j.ID, Started: j.Started, Entries: slices.Clone(j.Entries)}
	for i := range out.Entries {
		e := &out.Entries[i]
		if e.Value.Text != "" {
			e.Value.Text = text
		}
		if e.Typed != "" {
			e.Typed = text
		}
	}
	for _, topic := range []job.Topic{job.Remark, job.OilGrade, job.LeftWhy} {
		e := job.Entry{Seq: len(out.Entries) + 1, At: out.Entries[len(out.Entries)-1].At, Topic: topic, Value: job.Value{Text: text}}
		out.Entries = append(out.Entries, e)
		e.Seq, e.Strikes = e.Seq+1, e.Seq
		out.Entries = append(out.Entries, e)
	}
	return out
}

func written(t rapid.TB, f Format, job job.Job) string {
	t.Helper()
	var b bytes.Buffer
	if err := Write(&b, f, guide.Fold(job, guide.Offers{}), job, Options{}); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// shape lists the elements of a page and their attributes but class, whose
// value only says how small the letters are.
func shape(t rapid.TB, page string) (elements []string, text string) {
	t.Helper()
	root, err := html.Parse(strings.NewReader(page))
	if err != nil {
		t.Fatal(err)
	}
	var all strings.Builder
	for n := range root.Descendants() {
		switch n.Type {
		case html.ElementNode:
			name := n.Data
			for _, a := range n.Attr {
				if a.Key != "class" && n.Namespace != "svg" {
					name += " " + a.Key + "=" + a.Val
				}
			}
			elements = append(elements, name)
		case html.CommentNode:
			elements = append(elements, "comment "+n.Data)
		case html.TextNode:
			all.WriteString(n.Data + " ")
		}
	}
	return elements, strings.Join(strings.Fields(all.String()), " ")
}

func TestHTMLShowsTextAsText(t *testing.T) {
	lines := jobtest.DrainPort()
	lines[job.DripReading], lines[job.FillReading] = nil, nil // long texts would have them left out
	job := jobtest.New(t, lines).ToTheEnd()
	want, _ := shape(t, written(t, HTML, poisoned(job, "plain")))
	runs.Check(t, 40, func(t *rapid.T) {
		text := jobtest.AnyHostile().Draw(t, "text")
		got, words := shape(t, written(t, HTML, poisoned(job, text)))
		if !slices.Equal(got, want) {
			t.Fatalf("%q changes the page:\n%q\n%q", text, got, want)
		}
		shows(t, words, text)
	})
}

// shows says that a text can be read on a page.
func shows(t *rapid.T, words, s string) {
	t.Helper()
	if line := strings.Join(strings.Fields(text.Visible(s)), " "); !strings.Contains(words, line) {
		t.Fatalf("%q is not to be read in it", line)
	}
}

func TestMarkdownShowsTextAsText(t *testing.T) {
	md := goldmark.New(goldmark.WithExtensions(extension.GFM), goldmark.WithRendererOptions(renderer.WithUnsafe()))
	page := func(t rapid.TB, text string) string {
		var b bytes.Buffer
		if err := md.Convert([]byte(text), &b); err != nil {
			t.Fatal(err)
		}
		return b.String()
	}
	// Text stands as code where it would be a link; del is only ever round a cell.
	withoutCode := func(elements []string) []string {
		return slices.DeleteFunc(elements, func(name string) bool { return name == "code" || name == "del" })
	}
	job := wholeDrainPort(t)
	want, _ := shape(t, page(t, written(t, Markdown, poisoned(job, "plain"))))
	want = withoutCode(want)
	runs.Check(t, 40, func(t *rapid.T) {
		text := jobtest.AnyHostile().Draw(t, "text")
		got, words := shape(t, page(t, written(t, Markdown, poisoned(job, text))))
		if got = withoutCode(got); !slices.Equal(got, want) {
			t.Fatalf("%q changes the page:\n%q\n%q\n%s", text, got, want, written(t, Markdown, poisoned(job, text)))
		}
		shows(t, words, text)
	})
}

func TestCSVHoldsNoFormula(t *testing.T) {
	job := wholeDrainPort(t)
	lines := strings.Count(written(t, CSV, job), "\n")
	rapid.Check(t, func(t *rapid.T) {
		text := jobtest.AnyHostile().Draw(t, "text")
		rows, err := csv.NewReader(strings.NewReader(written(t, CSV, poisoned(job, text)))).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		if len(rows) != lines {
			t.Fatalf("%q makes %d lines of %d", text, len(rows), lines)
		}
		for _, row := range rows[1:] {
			for i, cell := range row {
				_, notNumber := strconv.ParseFloat(cell, 64)
				numeric := slices.Contains([]string{"line", "round", "value", "at_c", "volume_20c_ml", "volume_20c_u_ml",
					"volume_20c_2u_ml"}, csvHead[i])
				switch {
				case numeric && cell != "" && notNumber != nil:
					t.Fatalf("%s is %q, no number", csvHead[i], cell)
				case !numeric && cell != "" && strings.ContainsRune("=+-@\t\r", rune(strings.TrimLeft(cell+".", " ")[0])):
					t.Fatalf("a spreadsheet takes %q for a formula", cell)
				}
			}
		}
	})
}

func TestTextHoldsNothingHidden(t *testing.T) {
	job := wholeDrainPort(t)
	runs.Check(t, 50, func(t *rapid.T) {
		hostile := jobtest.AnyHostile().Draw(t, "text")
		for _, l := range strings.Split(written(t, Text, poisoned(job, hostile)), "\n") {
			if strings.IndexFunc(l, text.Hidden) >= 0 {
				t.Fatalf("hidden sign in %q", l)
			}
			if text.Width(l) > textColumns {
				t.Fatalf("wider than %d columns: %q", textColumns, l)
			}
		}
	})
}

// No job that can be read may stop the program, whatever it holds.
func TestAnyJobCanBeWritten(t *testing.T) {
	runs.Check(t, 50, func(t *rapid.T) {
		job := jobtest.AnyJob().Draw(t, "job")
		for f := range formatCount {
			written(t, f, job)
		}
		s := guide.Fold(job, guide.Offers{})
		var b bytes.Buffer
		if err := agenda.Calendar(&b, agenda.Dues(s, nil), job.Started); err != nil && !errors.Is(err, agenda.ErrNothingDue) {
			t.Fatal(err)
		}
		_ = writeTag(&b, true, s)
		if err := History(&b, []*guide.Guide{s, s}, time.UTC); err != nil {
			t.Fatal(err)
		}
	})
}
