package ask

import (
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"garage/tundish/model/job"
)

// Every topic that is asked has its place in the flow, and the other way round,
// and a short name of its own.
func TestEveryTopicIsAskedSomewhere(t *testing.T) {
	names := map[job.Step]map[string]bool{}
	for topic := job.Undo + 1; topic < job.NumTopics; topic++ {
		sp := SpecOf(topic)
		if sp == nil {
			t.Errorf("%v is never asked", topic)
			continue
		}
		if step := names[sp.Step]; step[sp.Name] {
			t.Errorf("%v: two of the step %v are named %q", topic, sp.Step, sp.Name)
		} else if step == nil {
			names[sp.Step] = map[string]bool{}
		}
		names[sp.Step][sp.Name] = true
		if n := utf8.RuneCountInString(sp.Name); n == 0 || n > 28 || strings.ToLower(sp.Name) != strings.ReplaceAll(sp.Name, "°C", "°c") {
			t.Errorf("%v is named %q", topic, sp.Name)
		}
		if sp.Topic != topic || sp.Ask == "" && sp.AskOf == nil {
			t.Errorf("%v has the spec of %v, asks %q", topic, sp.Topic, sp.Ask)
		}
		if sp.Kind == job.Choose && len(sp.Options) == 0 && sp.OptionsOf == nil {
			t.Errorf("%v offers nothing to choose", topic)
		}
		tokens := []string{}
		for _, o := range sp.Options {
			if o.Token == "" || slices.Contains(tokens, o.Token) || !utf8.ValidString(o.Label) {
				t.Errorf("%v: option %+v", topic, o)
			}
			tokens = append(tokens, o.Token)
		}
	}
	if SpecOf(job.NumTopics) != nil || SpecOf(job.NoTopic) != nil {
		t.Error("there is a spec of nothing")
	}
}
