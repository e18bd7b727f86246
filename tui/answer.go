package tui

// This file holds the answer that is being given: a field, a list, or a key to
// press. It turns keys into what is wanted and, in the end, into an entry.

import (
	"errors"
	"slices"
	"strings"
	"time"
	"unicode"

	"github.com/charmbracelet/bubbles/cursor"
	"github.com/charmbracelet/bubbles/textinput"
	tea "github.com/charmbracelet/bubbletea"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
)

// answer is one question and what has been typed or chosen so far.
type answer struct {
	prompt  guide.Prompt
	field   textinput.Model
	choices []guide.Option
	chosen  pointer // into choices
	digit   rune    // the key that confirms an acknowledgement
	problem string  // why the last attempt was refused
	earlier bool    // what stands in the field was typed before: the first key replaces it

	readings []guide.Reading // of what was typed, while it is asked which is meant
	meant    *job.Value      // the reading chosen
}

// maxTyped is how many letters a field takes.
const maxTyped = 300

func newAnswer(s *guide.Guide, p guide.Prompt) answer {
	a := answer{prompt: p, digit: confirmDigit(s, p.Place)}
	if p.Spec == nil {
		return a
	}
	switch p.Kind {
	case job.Choose:
		a.choices = p.Choices(s)
		a.chosen.at = -1
		if v, ok := p.DefaultValue(s); ok && !v.Unknown {
			a.chosen.at = slices.IndexFunc(a.choices, func(o guide.Option) bool { return o.Token == v.Choice })
		}
	case job.Acknowledge, job.Event:
	default:
		a.field = newField()
	}
	return a
}

func newField() textinput.Model {
	f := textinput.New()
	f.Prompt = ""
	f.CharLimit = maxTyped
	f.Cursor.SetMode(cursor.CursorStatic)
	f.Focus()
	return f
}

// confirmDigit is the key that confirms: it differs from one question to the
// next, so that a key held down, or pressed without reading, gets nowhere.
func confirmDigit(s *guide.Guide, p job.Place) rune {
	n := (int(p.Topic)*4 + p.Round*2 + p.Item) % 9
	entries, _ := s.Ledger()
	if last := len(entries) - 1; last >= 0 && entries[last].Typed == itoa(n+1) {
		n = (n + 1) % 9
	}
	return rune('1' + n)
}

func (a answer) text() string {
	if a.isField() {
		return a.field.Value()
	}
	return ""
}

func (a answer) withText(text string) answer {
	a.earlier = false
	if a.isField() {
		a.field.SetValue(text)
		a.field.CursorEnd()
	}
	return a
}

// withEarlier is the answer with what was typed at an earlier time, for Enter to
// take again or the first key to replace.
func (a answer) withEarlier(text string) answer {
	a = a.withText(text)
	a.earlier = a.text() != ""
	return a
}

// edited gives a key to the field. One that types or deletes replaces what was
// typed earlier; the cursor can be moved into it, to change it.
func (a answer) edited(msg tea.KeyMsg) answer {
	switch msg.Type {
	case tea.KeyRunes, tea.KeySpace, tea.KeyBackspace, tea.KeyDelete, tea.KeyCtrlH, tea.KeyCtrlU, tea.KeyCtrlK, tea.KeyCtrlW:
		if a.earlier {
			a = a.withText("")
		}
	case tea.KeyLeft, tea.KeyRight, tea.KeyHome, tea.KeyEnd:
		a.earlier = false
	}
	a.field, _ = a.field.Update(msg)
	return a
}

func (a answer) isField() bool {
	if a.prompt.Spec == nil {
		return false
	}
	switch a.prompt.Kind {
	case job.Choose, job.Acknowledge, job.Event:
		return false
	}
	return true
}

// key takes one key. Keys that have a meaning of their own on an empty field
// are text once something is typed, and always in a line of text.
func (a answer) key(msg tea.KeyMsg, k keymap) (answer, intent) {
	a.problem = ""
	a, chosen := a.choosesReading(msg.String())
	switch {
	case chosen:
		return a, wantAccept{}
	case msg.Type == tea.KeyEsc, a.text() == "" && matches(msg, k.Menu): // of a text too: a number pad has no other key for it
		return a, wantOverlay{overlayMenu}
	case matches(msg, k.Back):
		return a, wantOverlay{overlayCorrect}
	case msg.Type == tea.KeyF2, !a.typing() && matches(msg, k.Sums):
		return a, wantOverlay{overlaySums}
	case msg.Type == tea.KeyF1, !a.typing() && matches(msg, k.Help):
		return a, wantOverlay{overlayHelp}
	case a.canTakeAll() && matches(msg, k.TakeAll):
		return a, wantTakeAll{}
	case a.clears() && matches(msg, k.Clear):
		return a.withText(""), nil
	}
	switch a.prompt.Kind {
	case job.Choose:
		return a.keyChoose(msg, k)
	case job.Acknowledge, job.Event:
		return a.keyConfirm(msg, k)
	}
	if matches(msg, k.Accept) {
		return a, wantAccept{}
	}
	return a.edited(msg), nil
}

// canTakeAll reports whether + takes over the offers: not once something is typed,
// and not where a figure may begin with it.
func (a answer) canTakeAll() bool {
	return a.prompt.Spec != nil && a.prompt.Step == job.Prepare && a.prompt.Kind != job.Bounds && a.text() == ""
}

// typing reports whether a sign belongs to the text.
func (a answer) typing() bool {
	return a.isField() && (a.prompt.Kind == job.Free || a.field.Value() != "")
}

// unknownIsAKey reports whether "don't know" is worth a key of its own now: it is
// allowed, nothing is typed, and Enter alone means something else.
func (a answer) unknownIsAKey(s *guide.Guide) bool {
	if a.prompt.Unknown == "" || a.text() != "" {
		return false
	}
	offered, ok := a.prompt.DefaultValue(s)
	return !ok || !offered.Unknown
}

// clears reports whether the sign that opens the menu clears what is typed: a
// figure, which is all that a number pad can type, or what was typed earlier.
// In a line of text, or a unit such as N*m, it is text.
func (a answer) clears() bool {
	return a.earlier || a.isField() && a.prompt.Kind != job.Free && a.text() != "" && !strings.ContainsFunc(a.text(), unicode.IsLetter)
}

func (a answer) keyChoose(msg tea.KeyMsg, k keymap) (answer, intent) {
	if matches(msg, k.Accept) {
		return a, wantAccept{}
	}
	a.chosen = a.chosen.key(msg, k, len(a.choices))
	if n := a.chosen.typed; msg.Type == tea.KeyRunes && (n < 1 || n > len(a.choices)) {
		a.chosen.at = -1 // an amount typed too early must not choose what it happens to end in
		a.problem = "choose one: a number from 1 to " + itoa(len(a.choices))
	}
	return a, nil
}

// keyConfirm takes only the digit that is shown, alone and not pasted.
func (a answer) keyConfirm(msg tea.KeyMsg, k keymap) (answer, intent) {
	if msg.Type == tea.KeyRunes && !msg.Paste && len(msg.Runes) == 1 {
		if msg.Runes[0] == a.digit {
			return a, wantAccept{}
		}
		a.problem = "press " + string(a.digit) + " to confirm"
	}
	if matches(msg, k.Accept) {
		a.problem = "Enter does not confirm this one: press " + string(a.digit)
	}
	return a, nil
}

// entry is the answer as the next entry of the job; its time is that of
// acceptance, and not set yet.
func (a answer) entry(s *guide.Guide) (job.Entry, error) {
	p := a.prompt
	switch p.Kind {
	case job.Acknowledge, job.Event:
		return p.Answer(s, string(a.digit), time.Time{})
	case job.Choose:
		if a.chosen.at < 0 || a.chosen.at >= len(a.choices) {
			return job.Entry{}, errors.New("choose one: its number, then Enter")
		}
		v := p.ChoiceValue(s, a.choices[a.chosen.at])
		return p.Entry(s, v, "", time.Time{}), p.Accept(s, v)
	}
	return a.fieldEntry(s)
}

func (a answer) fieldEntry(s *guide.Guide) (job.Entry, error) {
	p, typed := a.prompt, a.field.Value()
	if a.meant != nil {
		return p.Entry(s, *a.meant, typed, time.Time{}), p.Accept(s, *a.meant)
	}
	return p.Answer(s, typed, time.Time{})
}
