package main

// This file gives the settings to the commands.

import (
	"os"
	"path/filepath"
	"slices"

	"garage/tundish/cmd/tundish/internal/boot"
	"garage/tundish/cmd/tundish/internal/config"
	"garage/tundish/cmd/tundish/internal/look"
	"garage/tundish/model/dates"
	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/store"
	"garage/tundish/tui"
)

// settingsFile reads the settings. With an error, what could be read of them is there
// all the same, nil where there is no place for them.
func (o *outside) settingsFile() (path string, s config.Settings, err error) {
	home, err := os.UserHomeDir()
	if err != nil {
		home = "" // Path says what to do without
	}
	if path, err = config.Path(o.getenv, home); err != nil {
		return "", nil, err
	}
	s, err = config.Read(path)
	return path, s, err
}

// setting is what a setting says. Settings that cannot be read stop nothing: what
// counts without them counts.
func (o *outside) setting(name string) string {
	_, s, _ := o.settingsFile()
	value, _ := s.Get(name) // names here are of the program
	return value
}

// dates is how days are written.
func (o *outside) dates() (l dates.Language) {
	_ = l.UnmarshalText([]byte(o.setting("dates"))) // English, where it is nothing else
	return l
}

// configured is the guide's surroundings as the settings say, where nothing nearer
// does: a flag, the environment, an earlier job.
func configured(f look.Flags, o *outside, s *store.Store, cfg tui.Config) (look.Flags, tui.Config) {
	cfg.Journal = offering{storeJournal{s}, o.setting("units")}
	if cfg.Folder == "" {
		cfg.Folder = o.setting("records")
	}
	if cfg.Folder == "" {
		cfg.Folder = filepath.Join(filepath.Dir(s.Path()), "records")
	}
	if ring := f.Bell; ring != nil && *ring || ring == nil && o.setting("bell") == "on" {
		cfg.Bell = o.out
	}
	if f.Background == "auto" && !boot.Told {
		f.Background = o.setting("background")
	}
	return f, cfg
}

// offering offers the units of the settings, where no earlier job does.
type offering struct {
	storeJournal
	units string
}

// Offers is what earlier jobs bring to a job, and the settings.
func (j offering) Offers(of job.Job) (guide.Offers, error) {
	offers, err := j.storeJournal.Offers(of)
	at := job.Place{Topic: job.DisplayUnits}
	past := slices.ContainsFunc(of.Entries, func(e job.Entry) bool { return e.Topic == job.AtHand || e.Topic == job.PlugOut })
	if _, known := offers.Answers[at]; err == nil && !known && !past { // a job past its first step is not asked of it again
		if offers.Answers == nil {
			offers.Answers = map[job.Place]job.Value{}
		}
		offers.Answers[at] = job.Value{Choice: j.units}
	}
	return offers, err
}

// settingNames are those that can be completed.
func settingNames() (names []string) {
	for _, k := range config.Keys() {
		names = append(names, k.Name)
	}
	return names
}
