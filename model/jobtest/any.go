package jobtest

// This file draws jobs and texts at random.

import (
	"strings"
	"time"

	"pgregory.net/rapid"

	"garage/tundish/model/job"
)

// Fataler is a test, or a run of one with drawn values.
type Fataler interface {
	Helper()
	Fatal(...any)
}

// anyText draws texts with what is hard to carry: quotes, controls, marks that
// turn the direction, signs beyond the first plane.
func anyText() *rapid.Generator[string] {
	return rapid.OneOf(
		rapid.StringN(0, 40, 200),
		rapid.SampledFrom([]string{"", "<script>", "a\tb\nc", "\x1b[31m", "\u202eevil", "\u2028", "😀",
			"\U000e0041", `"\`, "\u009b31m", "\ufffd"}),
	)
}

// anyNumber draws numbers, large ones too.
func anyNumber() *rapid.Generator[float64] {
	return rapid.OneOf(rapid.Float64Range(-1e9, 1e9), rapid.SampledFrom([]float64{0, 0.1, 1e-300, 1e9, -1e9, 830}))
}

// anyTime draws times that can be stored.
func anyTime() *rapid.Generator[time.Time] {
	return rapid.Custom(func(t *rapid.T) time.Time {
		return time.Unix(rapid.Int64Range(0, 4e9).Draw(t, "second"), rapid.Int64Range(0, 1e9-1).Draw(t, "nano")).UTC()
	})
}

// anyTopic draws among all topics, found by their texts.
func anyTopic() *rapid.Generator[job.Topic] {
	return rapid.Custom(func(t *rapid.T) job.Topic {
		return rapid.SampledFrom(AllTopics()).Draw(t, "topic")
	})
}

// AllTopics lists every topic that has a name.
func AllTopics() []job.Topic {
	var list []job.Topic
	for i := job.NoTopic + 1; ; i++ {
		if _, err := i.MarshalText(); err != nil {
			return list
		}
		list = append(list, i)
	}
}

func anyEntry(t *rapid.T, seq int) job.Entry {
	e := job.Entry{
		Seq: seq, At: anyTime().Draw(t, "at"), Topic: anyTopic().Draw(t, "topic"),
		Round: rapid.IntRange(0, 3).Draw(t, "round"), Item: rapid.IntRange(0, 3).Draw(t, "item"), Typed: anyText().Draw(t, "typed"),
		Asked: anyText().Draw(t, "asked"), Label: anyText().Draw(t, "label"),
	}
	if seq > 1 {
		e.Strikes = rapid.IntRange(0, seq-1).Draw(t, "strikes")
	}
	if e.Topic == job.Undo && e.Strikes == 0 {
		e.Topic = job.Remark
	}
	v := &e.Value
	v.Number, v.High = anyNumber().Draw(t, "number"), anyNumber().Draw(t, "high")
	v.Unit = job.Dim(rapid.IntRange(0, int(job.NumDims)-1).Draw(t, "unit"))
	v.Parts = rapid.SliceOfN(anyNumber(), 0, 4).Draw(t, "parts")
	if len(v.Parts) == 0 {
		v.Parts = nil
	}
	if rapid.Bool().Draw(t, "warm") {
		x := anyNumber().Draw(t, "at_c")
		v.AtC = &x
	}
	v.Choice, v.Text = anyText().Draw(t, "choice"), anyText().Draw(t, "text")
	v.Unknown = rapid.Bool().Draw(t, "unknown")
	if e.CheckSense() != nil {
		v.Number, v.High, v.Unit, v.Parts, v.AtC = 0, 0, job.NoDim, nil, nil
	}
	return e
}

// AnyJob draws jobs that can be stored, of no sense.
func AnyJob() *rapid.Generator[job.Job] {
	return rapid.Custom(func(t *rapid.T) job.Job {
		job := job.Job{ID: rapid.StringMatching(`[a-z0-9_~][a-z0-9_~-]{0,20}`).Draw(t, "id"), Started: anyTime().Draw(t, "started")}
		for seq := range rapid.IntRange(0, 12).Draw(t, "entries") {
			job.Entries = append(job.Entries, anyEntry(t, seq+1))
		}
		return job
	})
}

var hostileTexts = []string{
	"<script>alert(1)</script>", "<img src=x onerror=alert(1)>", "</style><b>", "</title><svg/onload=1>", "a|b|c",
	"|", "`code`", "``", "`|`", `\`, `\|`, `a\`,
	"[x](javascript:alert(1))", "![x](http://example.org/x.png)", "<http://example.org>", "http://example.org/a?b=c", "www.example.org",
	"someone@example.org",
	"@someone #12", "# heading", "1. one", "- item", "+1", "=cmd()", "=HYPERLINK(\"x\")", "-2+3", "@SUM(1)", "\t=1+1", "\r=1", " =1", "＝1",
	"a\nb", "a\r\n\r\n# b", "\x1b[2J\x1b[31mred", "\u009b31m", "\u202egnp.exe", "\u2066x\u2069", "\u200b", "&lt;b&gt;", "&#60;",
	"**b** _i_ ~~s~~", "$x$", ":smile:",
	"<!-- c -->", "x --> y", "{{.}}", "'\"><b>", "\x00", "\ufeff", "---", "===", "> q", "[ref]: http://example.org", "~~~",
	strings.Repeat("w", 300), "دفتر", "ｗｉｄｅ",
	"a*b*c", "__x__", "<b", "&", "&amp", "\u2028x", "#",
}

// AnyHostile draws texts that mean something to a program that reads them.
func AnyHostile() *rapid.Generator[string] {
	return rapid.OneOf(rapid.SampledFrom(hostileTexts), rapid.StringN(1, 30, 100),
		rapid.Custom(func(t *rapid.T) string {
			return strings.Join(rapid.SliceOfN(rapid.SampledFrom(hostileTexts), 2, 3).Draw(t, "parts"),
				rapid.SampledFrom([]string{"", " "}).Draw(t, "between"))
		}))
}
