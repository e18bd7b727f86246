// Package done finds which of the things that are due of a job is meant, and makes the
// entries that say that it is done.
package done

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"garage/tundish/cmd/tundish/internal/cli"
	"garage/tundish/model/agenda"
	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/sheet"
)

// Usage is the error of an item that was not named, or is none.
type Usage struct{ error }

// Which is the item that is meant: the one that an answer does, or the one that is named
// or chosen of several.
func Which(id, named string, items []agenda.Item, ask cli.Asker) (agenda.Item, error) {
	byAnswer := slices.DeleteFunc(slices.Clone(items), func(i agenda.Item) bool { return i.Done == job.Place{} })
	of := func(token string) (agenda.Item, bool) {
		i := slices.IndexFunc(byAnswer, func(i agenda.Item) bool { return i.Kind.String() == token })
		if i < 0 {
			return agenda.Item{}, false
		}
		return byAnswer[i], true
	}
	var tokens []string
	for _, i := range byAnswer {
		tokens = append(tokens, i.Kind.String())
	}
	switch {
	case named != "":
		if item, ok := of(named); ok {
			return item, nil
		}
		if slices.ContainsFunc(items, func(i agenda.Item) bool { return i.Kind.String() == named }) {
			return agenda.Item{}, notByAnswer(id, named)
		}
		return agenda.Item{}, Usage{fmt.Errorf("job %s has no %q due: %s", id, named, cmp.Or(strings.Join(tokens, ", "), "nothing"))}
	case len(byAnswer) == 0 && len(items) > 0:
		return agenda.Item{}, notByAnswer(id, items[0].Kind.String())
	case len(byAnswer) == 0:
		return agenda.Item{}, fmt.Errorf("nothing is due of job %s", id)
	case len(byAnswer) == 1:
		return byAnswer[0], nil
	}
	for _, i := range byAnswer {
		ask.Say("%s: %s", i.Kind, i.What)
	}
	if item, ok := of(ask.For("Which of them?")); ok {
		return item, nil
	}
	return agenda.Item{}, Usage{fmt.Errorf("several are due; say which with --item: %s", strings.Join(tokens, ", "))}
}

// notByAnswer is the error of what is done by going on with a job, or by the next one.
func notByAnswer(id, item string) error {
	return fmt.Errorf("%q of job %s is done by no answer alone; go on with the job, or begin the unit's next: tundish", item, id)
}

// Answer makes the entries of what was seen, or where it was brought.
func Answer(typed string, shown, real *guide.Guide, at job.Place, ask cli.Asker, now time.Time) ([]job.Entry, error) {
	question := at.Topic.Info().Name
	for p := range shown.Prompts() {
		if p.Place != at {
			continue
		}
		question = p.AskText(shown)
		var tokens []string
		for _, o := range p.Choices(shown) {
			tokens = append(tokens, o.Token)
		}
		if len(tokens) > 0 {
			question += ": " + strings.Join(tokens, " or ")
		}
	}
	if typed == "" {
		typed = ask.For(question + "?")
	}
	if typed == "" {
		return nil, fmt.Errorf("say with --answer: %s", question)
	}
	entries, err := sheet.Correct(real, at, sheet.Answer{Typed: typed}, now)
	if err == nil && len(entries) > 0 && entries[0].Value.Unknown {
		err = errors.New("that says that it is not done")
	}
	return entries, err
}
