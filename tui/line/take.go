package line

// This file does what a typed line says: an answer, or a command.

import (
	"errors"
	"slices"
	"strconv"
	"strings"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/sheet"
	"garage/tundish/tui/status"
	"garage/tundish/tui/sums"
)

// take does what a line says. The error ends the line mode.
func (m *mode) take(typed string) error {
	free := m.line != noLine && m.doubt == nil && m.sheet.Lines[m.line].Kind == sheet.Reading &&
		m.sheet.Lines[m.line].Topic().Info().Kind == job.Free
	switch {
	case strings.HasPrefix(typed, "*"):
		return m.command(strings.Fields(typed[1:]))
	case typed == "?" && !free:
		m.sayHelp()
	case typed == "+":
		m.sayWorth()
	case typed == "/":
		m.doubt = nil
		m.back()
	case m.doubt != nil:
		m.meant(typed)
	case typed == "":
		m.enter()
	default:
		if i, rest, ok := m.named(typed); ok && !free {
			m.answer(i, rest)
		} else if m.line == noLine {
			m.say("Nothing is open: Enter, or a name and what it is.")
		} else {
			m.answer(m.line, typed)
		}
	}
	return nil
}

// enter leaves a line as it was, completes the sheet, or says what is open.
func (m *mode) enter() {
	switch {
	case m.again != nil || m.line == noLine && m.s.Visit.Looking():
		m.forth()
	case m.line != noLine:
		_, err := m.sheet.Complete(m.s.Real(), m.now)
		m.say("%v", err)
	default:
		entries, err := m.sheet.Complete(m.s.Real(), m.cfg.Clock())
		if err == nil && m.save(entries) {
			m.s.Visit = m.s.Visit.Done()
		} else if err != nil {
			m.say("%v", err)
		}
	}
}

// named finds the line that a typed line names, and what it says of it. Minutes ago are
// of what the sheet has the time of.
func (m *mode) named(typed string) (line int, rest string, ok bool) {
	longest := 0
	for i, l := range m.sheet.Lines {
		if l.Kind == sheet.Confirm {
			continue
		}
		for _, t := range l.Topics() {
			n := name(t)
			if after, is := strings.CutPrefix(strings.ToLower(typed), n+" "); is && len(n) > longest {
				longest, line, rest, ok = len(n), i, strings.TrimSpace(typed[len(typed)-len(after):]), true
			}
		}
		if l.Kind == sheet.Moment && strings.HasPrefix(typed, "-") && (m.line == noLine || m.sheet.Lines[m.line].Kind != sheet.Reading) {
			return i, typed, true
		}
	}
	return line, rest, ok
}

// answer answers a line of the sheet.
func (m *mode) answer(i int, typed string) {
	l := m.sheet.Lines[i]
	a := sheet.Answer{Typed: typed}
	key, one := onlyRune(typed)
	switch {
	case l.Kind == sheet.Confirm && one:
		a = sheet.Answer{Key: key}
	case l.Kind == sheet.Confirm:
		a = sheet.Answer{}
	case typed == guide.UnknownLine && l.Kind == sheet.Reading:
		a = sheet.Answer{Unknown: true}
	case l.Kind == sheet.Choice || len(l.Options) > 0 && one:
		a = m.chosen(l, typed)
	}
	m.put(i, a)
}

func onlyRune(typed string) (rune, bool) {
	r := []rune(typed)
	if len(r) != 1 {
		return 0, false
	}
	return r[0], true
}

// chosen is the option of a digit, or of a word, "." the one of somebody who has not
// looked.
func (m *mode) chosen(l sheet.Line, typed string) sheet.Answer {
	for _, o := range l.Options {
		if string(o.Key) == typed || strings.EqualFold(o.Token, typed) || strings.EqualFold(o.Label, typed) ||
			typed == guide.UnknownLine && o.Token == job.NotLooked {
			return sheet.Answer{Key: o.Key}
		}
	}
	return sheet.Answer{Typed: typed}
}

// put stores an answer to a line, or says why not.
func (m *mode) put(i int, a sheet.Answer) {
	l := m.sheet.Lines[i]
	entries, err := m.sheet.Take(m.s.Real(), i, a, m.cfg.Clock())
	var unclear *guide.UnclearUnit
	var back *sheet.Back
	switch {
	case errors.As(err, &unclear):
		m.doubt = &doubt{unclear.Readings, a, i}
		m.say("%v.", err)
	case errors.As(err, &back):
		m.lookAt(back.Places[0])
		m.say("%v.", err)
	case err != nil:
		m.say("%v", err)
	case m.save(entries):
		m.sayTaken(&l, entries)
		m.s.Visit, m.again = m.s.Visit.Answered(entries), nil
	}
}

// meant settles which unit a figure is meant in.
func (m *mode) meant(typed string) {
	d := m.doubt
	n, err := strconv.Atoi(typed)
	if err != nil || n < 1 || n > len(d.readings) {
		m.say("open: which is meant, a digit from 1 to %d", len(d.readings))
		return
	}
	m.doubt = nil
	d.answer.Meant = &d.readings[n-1].Value
	m.put(d.line, d.answer)
}

// save makes entries durable; false where that failed, which is said.
func (m *mode) save(entries []job.Entry) bool {
	var err error
	if m.s, err = m.s.Keep(m.cfg.Journal, entries); err != nil {
		m.say("%v", err)
		if m.cfg.Piped {
			m.refused = err
		}
	}
	return err == nil
}

// lookAt asks a line of whatever sheet once more.
func (m *mode) lookAt(p job.Place) (ok bool) {
	if m.s.Visit, ok = m.s.Visit.LooksFor(p); ok {
		m.again = &p
	}
	return ok
}

// back asks the line before once more; before the first, that of the sheet before.
func (m *mode) back() {
	from := m.line
	if from == noLine {
		from = len(m.sheet.Lines)
	}
	if m.lastBefore(from) {
		return
	}
	visited := sheet.Visited(m.s.Guide())
	i := slices.Index(visited, m.sheet.At)
	if m.sheet.ID >= sheet.Resume {
		i = len(visited)
	}
	for i--; i >= 0; i-- {
		m.s.Visit = m.s.Visit.Looks(visited[i])
		m.sheet, _ = m.s.Visit.Sheet(m.now)
		if m.lastBefore(len(m.sheet.Lines)) {
			return
		}
	}
	m.forth()
	m.say("There is nothing before this.")
}

// lastBefore asks the last line of the sheet before one that can be answered anew.
func (m *mode) lastBefore(from int) bool {
	for i := from - 1; i >= 0; i-- {
		if l := m.sheet.Lines[i]; !l.Folded && l.Kind != sheet.Confirm && l.Kind != sheet.Moment && l.Standing != sheet.Open {
			m.again = &m.sheet.Lines[i].Place
			return true
		}
	}
	return false
}

// forth goes on where the job is.
func (m *mode) forth() {
	m.again = nil
	if m.s.Visit.Looking() {
		m.s.Visit = m.s.Visit.Done()
	}
}

// command does what a line that begins with * says.
func (m *mode) command(words []string) error {
	if len(words) == 0 {
		words = []string{"help"}
	}
	m.doubt = nil
	g := m.s.Guide()
	switch words[0] {
	case "quit", "leave":
		return errLeft
	case "undo":
		if entries, ok := sheet.Undo(m.s.Real(), m.cfg.Clock()); ok {
			m.takeBack(entries)
		} else {
			m.say("There is nothing to undo.")
		}
	case "list":
		for _, e := range g.Standing() {
			m.say("%d. %s", e.Seq, status.Entry(g, e))
		}
	case "correct":
		m.correct(words[1:])
	case "strike":
		if e, ok := m.s.Real().StrikeEntry(lineNumber(words[1:]), m.cfg.Clock()); ok {
			m.takeBack([]job.Entry{e})
		} else {
			m.say("*strike N takes an answer back, with a line number from *list")
		}
	case "back":
		m.forth()
	case "again":
		m.begun, m.asked = sheet.Mark{}, asking{}
	case "sums":
		for _, words := range sums.All(m.sheet.Live()) {
			m.say("%s", words)
		}
	case "record":
		m.record()
	default:
		m.sayHelp()
	}
	return nil
}

// takeBack stores entries that strike others out.
func (m *mode) takeBack(entries []job.Entry) {
	if m.save(entries) {
		m.sayTaken(nil, entries)
		m.s.Visit, m.again = m.s.Visit.Done(), nil
	}
}

// correct asks the answer of a line number once more.
func (m *mode) correct(words []string) {
	p, ok := m.s.Guide().Correcting(lineNumber(words))
	switch {
	case !ok:
		m.say("*correct N, with a line number from *list")
	case p.Kind == job.Acknowledge || p.Kind == job.Event:
		m.say("That is confirmed, not answered: *strike %s takes it back.", words[0])
	case !m.lookAt(p.Place):
		m.say("That cannot be asked again as things stand; *strike %s takes it back.", words[0])
	default:
		m.say("The old answer is kept, struck out. *back leaves it as it was.")
	}
}

// lineNumber is the number that a command was given, 0 where it was given none.
func lineNumber(words []string) int {
	if len(words) != 1 {
		return 0
	}
	n, _ := strconv.Atoi(words[0]) // 0 where it is none
	return n
}

func (m *mode) record() {
	if m.cfg.Export == nil || m.s.Fresh {
		m.say("There is no record yet: answer the first question.")
		return
	}
	path, err := m.cfg.Export(m.s.Job.ID, m.cfg.Folder)
	if err != nil {
		m.say("record not written: %v", err)
		return
	}
	m.say("record written: %s", path)
}
