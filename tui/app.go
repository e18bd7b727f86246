// Package tui is the guided flow in the terminal: it asks what the model says
// comes next, stores each answer before it moves on, and draws what the model
// makes of all answers. It decides nothing about oil.
//
// A key becomes an entry, the journal stores the entry, the model folds the
// entries, the screen shows the fold: in that direction only.
//
// This file holds the root: which screen is up, and the way of messages to it.
package tui

import (
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/tui/input"
	"garage/tundish/tui/theme"
)

// screen says what fills the terminal.
type screen uint8

const (
	screenLoading screen = iota
	screenPicking        // which job
	screenJob            // the job itself
)

// App is the root model of the guide.
type App struct {
	cfg      Config
	theme    theme.Theme
	keys     input.Keys
	width    int
	height   int
	now      time.Time
	screen   screen
	picker   picker
	job      jobScreen
	overlay  overlay   // nil: none
	fatal    error     // shown, and the only way is out
	quitting bool      // a quit waits for the save in flight
	ticks    int       // asked for so far
	armed    time.Time // when the last of them comes; zero: none does
}

// Open is the guide in a terminal of the given columns and rows, with the list of
// jobs read, or the job that is asked for: its first frame is one to work on.
// It waits for the journal.
func Open(cfg Config, t theme.Theme, columns, rows int) App {
	a := App{cfg: cfg, theme: t, keys: input.NewKeys(), now: cfg.Clock(), width: columns, height: rows}
	cmd := listJobs(cfg.Journal, false)
	switch {
	case cfg.OpenID != "":
		cmd = a.loadJob(cfg.OpenID)
	case cfg.New:
		cmd = startJob(cfg.Journal, job.NewID(a.now, cfg.Chance()), a.now, nil)
	}
	for cmd != nil {
		var next tea.Model
		next, cmd = a.handle(cmd())
		a = next.(App)
	}
	return a
}

// Init starts the clock.
func (a App) Init() tea.Cmd {
	return func() tea.Msg { return tickMsg{a.ticks} }
}

// ThemeMsg changes the look, when it has turned out what the terminal's
// background is.
type ThemeMsg struct{ Theme theme.Theme }

// Update moves the clock on and takes one message to where it belongs. What a clock
// shows is worked out from times in the entries, so a machine that slept loses nothing.
func (a App) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	before := a.now
	a.now = a.cfg.Clock()
	rung := a.job.alarm(before, a.now)
	counted := a.counting()
	next, cmd := a.handle(msg)
	if a = next.(App); a.counting() && !counted {
		a.job = a.job.read(a.now)
	}
	a, clock := a.arm()
	cmds := []tea.Cmd{cmd, clock}
	if rung != "" {
		cmds = append(cmds, bell(a.cfg.Bell, rung))
	}
	return a, tea.Batch(cmds...)
}

func (a App) handle(msg tea.Msg) (tea.Model, tea.Cmd) {
	switch msg := msg.(type) {
	case tea.WindowSizeMsg:
		a.width, a.height = msg.Width, msg.Height
		return a, nil
	case ThemeMsg:
		a.theme = msg.Theme
		return a, nil
	case tickMsg:
		return a.onTick(msg)
	case listedMsg:
		return a.onListed(msg)
	case loadedMsg:
		return a.onLoaded(msg)
	case savedMsg:
		return a.onSaved(msg)
	case saveFailedMsg:
		return a.onSaveFailed(msg)
	case draftDueMsg:
		return a, a.job.draftCmd(a.cfg, msg.tag)
	case exportedMsg:
		if msg.id == a.job.Job.ID {
			a.job.notice, a.job.refused = msg.notice(), false
		}
		return a, nil
	case historyMsg:
		return a.onHistory(msg)
	case carMsg:
		return a.onCar(msg)
	case togetherMsg:
		return a.onTogether(msg)
	case quitWantedMsg:
		a.quitting = true
		return a, nil
	case HangupMsg:
		return a, tea.Quit
	case tea.KeyMsg:
		return a.onKey(msg)
	case tea.MouseMsg:
		return a.onMouse(msg)
	}
	return a, nil
}

// onTick reads the sheet anew.
func (a App) onTick(msg tickMsg) (tea.Model, tea.Cmd) {
	if msg.number != a.ticks {
		return a, nil
	}
	a.armed = time.Time{}
	if a.counting() {
		a.job = a.job.read(a.now)
	}
	return a, nil
}

// onListed shows the list of jobs where there is anything to choose, or where
// the owner asked for it.
func (a App) onListed(msg listedMsg) (tea.Model, tea.Cmd) {
	if msg.err != nil {
		a.fatal = msg.err
		return a, nil
	}
	switch {
	case msg.asked:
	case len(msg.unfinished) == 0 && len(msg.units) == 0:
		return a.start(nil)
	case len(msg.unfinished) == 1 && msg.unfinished[0].Phase == guide.Open:
		return a, a.loadJob(msg.unfinished[0].ID)
	}
	a.picker, a.screen = newPicker(msg.unfinished, msg.units), screenPicking
	return a, nil
}

func (a App) onHistory(msg historyMsg) (tea.Model, tea.Cmd) {
	switch {
	case msg.id != a.job.Job.ID: // another job is on the screen by now
	case msg.err != nil:
		a.job.notice = "no history: " + msg.err.Error()
	default:
		a.overlay = historyOverlay{msg.data}
	}
	return a, nil
}

// start begins a new job; like is an earlier job of the same unit, or nil.
func (a App) start(like *guide.Head) (tea.Model, tea.Cmd) {
	id := job.NewID(a.now, a.cfg.Chance())
	return a, startJob(a.cfg.Journal, id, a.now, like)
}

func (a App) onLoaded(msg loadedMsg) (tea.Model, tea.Cmd) {
	if msg.err != nil {
		a.fatal = msg.err
		return a, nil
	}
	a.screen, a.overlay = screenJob, nil
	a.job = jobScreen{Session: msg.session}.look(a.now) // at the sheet it was left at
	return a, nil
}

func (a App) onSaved(msg savedMsg) (tea.Model, tea.Cmd) {
	was := a.job.state().Phase()
	a.job = a.job.saved(msg, a.now)
	if a.quitting {
		return a, tea.Quit
	}
	return a, a.leadsOn(was)
}

// onSaveFailed keeps what was typed; a quit that waited for the save is off,
// so that the reading is not lost unseen.
func (a App) onSaveFailed(msg saveFailedMsg) (tea.Model, tea.Cmd) {
	a.job = a.job.saveFailed(msg)
	a.quitting = false
	return a, nil
}

// onKey gives a key to the overlay, else to the screen. Only the two keys that
// leave the program mean the same everywhere.
func (a App) onKey(msg tea.KeyMsg) (tea.Model, tea.Cmd) {
	switch msg.Type {
	case tea.KeyCtrlC:
		return a, tea.Quit
	case tea.KeyCtrlZ:
		return a, tea.Suspend
	case tea.KeyCtrlJ: // the Enter of a number pad, as tmux hands it on
		msg.Type = tea.KeyEnter
	}
	if a.fatal != nil {
		return a, tea.Quit
	}
	// F3 wherever the job is on, and on a number pad, where it is done.
	if a.screen == screenJob && (input.Matches(msg, a.keys.Record) || !a.job.on && a.overlay == nil && input.Pressed(msg) == '-') {
		return a.carryOut(wantExport{})
	}
	if a.overlay != nil {
		var want intent
		a.overlay, want = a.overlay.key(msg, a.keys)
		if long, ok := a.overlay.(reading); ok {
			a.overlay = long.within(a.overlayScene())
		}
		return a.carryOut(want)
	}
	switch a.screen {
	case screenPicking:
		var want intent
		a.picker, want = a.picker.key(msg, a.keys)
		return a.carryOut(want)
	case screenJob:
		var want intent
		a.job, want = a.job.press(msg, a.keys, a.cfg.Clock())
		return a.carryOut(want)
	}
	return a, nil
}
