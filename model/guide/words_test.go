package guide

import (
	"testing"

	"garage/tundish/model/ask"
	"garage/tundish/model/job"
	"garage/tundish/model/words"
)

// No question, hint or option has a word that another one stands for now.
func TestQuestionsUseTheWordsOfTheTrade(t *testing.T) {
	for topic := job.Undo + 1; topic < job.NumTopics; topic++ {
		p := ask.SpecOf(topic)
		if p == nil {
			continue
		}
		texts := []string{p.Name, p.Ask, p.Hint, p.Why, p.Unknown}
		for _, o := range p.Options {
			texts = append(texts, o.Label, o.Hint)
		}
		for _, text := range texts {
			for _, old := range words.Check(text) {
				t.Errorf("%v: %q: %s", topic, text, old)
			}
		}
	}
}
