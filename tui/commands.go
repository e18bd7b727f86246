package tui

// This file holds everything that the screens do beside drawing: each effect is
// a command made here, given plain values, and comes back as a message.

import (
	"io"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/text"
)

func listJobs(j Journal, asked bool) tea.Cmd {
	return func() tea.Msg {
		unfinished, err := j.Unfinished()
		if err != nil {
			return listedMsg{err: err}
		}
		units, err := j.Units()
		return listedMsg{unfinished, units, asked, err}
	}
}

func loadJob(j Journal, id string) tea.Cmd {
	return func() tea.Msg {
		job, err := j.Load(id)
		if err != nil {
			return loadedMsg{err: err}
		}
		offers, err := j.Offers(job)
		if err != nil {
			return loadedMsg{err: err}
		}
		draft, err := j.LoadDraft(id)
		return loadedMsg{job: job, offers: offers, draft: draft, err: err}
	}
}

// startJob makes a job of the same unit as an earlier one, or of a new unit;
// nothing is stored before the first answer.
func startJob(j Journal, id string, now time.Time, like *guide.Head) tea.Cmd {
	return func() tea.Msg {
		job := job.Job{ID: id, Started: now.UTC().Round(0)}
		if like != nil {
			job.Entries = namesOf(*like, now)
		}
		offers, err := j.Offers(job)
		return loadedMsg{job: job, offers: offers, fresh: true, err: err}
	}
}

// namesOf are the first entries of a job of a unit that is known already.
func namesOf(h guide.Head, now time.Time) []job.Entry {
	at := now.UTC().Round(0)
	return []job.Entry{
		{Seq: 1, At: at, Topic: job.Vehicle, Value: job.Value{Text: h.Vehicle}},
		{Seq: 2, At: at, Topic: job.UnitName, Value: job.Value{Text: h.UnitName}},
	}
}

// saving is what is stored: entries, and the job as it is with them.
type saving struct {
	request int
	job     job.Job
	create  bool // the job is new
	entries []job.Entry
	moved   bool       // the job is of another unit with these, or of none
	head    guide.Head // unless moved
}

// save stores entries; a job that is new is created with them. Of another unit
// other jobs come before this one.
func save(j Journal, s saving) tea.Cmd {
	return func() tea.Msg {
		var offers *guide.Offers
		if s.moved {
			brought, err := j.Offers(s.job)
			if err != nil {
				return saveFailedMsg{s.request, err}
			}
			offers, s.head = &brought, guide.Fold(s.job, brought).Head()
		}
		var err error
		if s.create {
			err = j.Create(s.job, s.head)
		} else {
			err = j.Append(s.job.ID, s.head, s.entries...)
		}
		if err != nil {
			return saveFailedMsg{s.request, err}
		}
		return savedMsg{s.request, s.entries, offers}
	}
}

const draftPause = 300 * time.Millisecond

func draftDue(after After, tag int) tea.Cmd {
	return after(draftPause, func(time.Time) tea.Msg { return draftDueMsg{tag} })
}

func saveDraft(j Journal, id string, d Draft) tea.Cmd {
	return func() tea.Msg { return draftSavedMsg{j.SaveDraft(id, d)} }
}

func tick(after After, clock func() time.Time) tea.Cmd {
	return after(time.Second, func(time.Time) tea.Msg { return tickMsg{clock()} })
}

func export(write func(string) (string, error), id string) tea.Cmd {
	return func() tea.Msg {
		path, err := write(id)
		return exportedMsg{id, path, err}
	}
}

// bell rings, and notifies the desktop where the terminal knows how (OSC 9,
// which others ignore).
func bell(w io.Writer, words string) tea.Cmd {
	if w == nil {
		return nil
	}
	return func() tea.Msg {
		// A terminal that cannot ring has still shown the words.
		_, _ = io.WriteString(w, "\a\x1b]9;tundish: "+text.Visible(words)+"\x1b\\")
		return nil
	}
}
