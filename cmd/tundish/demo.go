package main

// This file opens the guide on an invented job in a store that is thrown away.

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"time"

	"github.com/alecthomas/kong"

	"garage/tundish/model"
	"garage/tundish/store"
	"garage/tundish/tui"
)

type demoCommand struct{ lookFlags }

// Run makes the job, opens it, and leaves nothing behind.
func (c *demoCommand) Run(o *outside, k *kong.Context) (err error) {
	if o.storeFlag != "" {
		return usage(k, errors.New("the demo has a store of its own: leave --store out"))
	}
	if err := c.needsTerminal(o); err != nil {
		return err
	}
	folder, err := os.MkdirTemp("", "tundish-demo-")
	if err != nil {
		return fmt.Errorf("no folder for the demo; %w", err)
	}
	defer func() { err = errors.Join(err, os.RemoveAll(folder)) }()
	s, err := store.Open(filepath.Join(folder, "jobs.db"), store.Options{})
	if err != nil {
		return err
	}
	job, err := demoJob(o.now())
	if err == nil {
		err = s.Create(job, headOf(job))
	}
	if err == nil {
		coach := demoTour()
		if c.lineMode(o) {
			coach = spokenTour()
		}
		err = c.open(o, s, tui.Config{OpenID: job.ID, Coach: coach, Passing: true})
	}
	return errors.Join(err, s.Close())
}

// demoStart is the question that the demo opens at.
const demoStart = model.DrainedAmount

// demoAnswers are typed in turn; what is not named is taken as it is offered.
// All of it is invented.
func demoAnswers() map[model.Topic][]string {
	return map[model.Topic][]string{
		model.Vehicle:          {"demo estate"},
		model.UnitName:         {"rear axle"},
		model.Capacity:         {"900 ml"},
		model.CapacityMeans:    {"1"},
		model.Odometer:         {"118 400"},
		model.OilGrade:         {"75W-90"},
		model.OilDensity:       {"872"},
		model.OilKV40:          {"102"},
		model.OilKV100:         {"14.6"},
		model.PlugThread:       {"M18x1.5"},
		model.PlugKey:          {"8 mm hexagon"},
		model.WasherKind:       {"copper, 18 x 24 x 1.5"},
		model.TorqueFigure:     {"35"},
		model.TorqueSource:     {"invented for the demo"},
		model.IntervalKm:       {"60 000"},
		model.IntervalMonths:   {"48"},
		model.ContainerName:    {"two-litre jug"},
		model.OilTemperature:   {"42"},
		model.TemperatureHow:   {"1"},
		model.MagnetLook:       {"2"},
		model.OilLook:          {"1"},
		model.OilHistory:       {"1"},
		model.DripReading:      {"560", "742", "798", "819", ""},
		model.VesselGraduation: {"10"},
	}
}

// demoPause is how long each answer took; drips take longer.
func demoPause(t model.Topic) time.Duration {
	if t == model.DripReading {
		return 6 * time.Minute
	}
	return 20 * time.Second
}

// maxDemoAnswers is far more than there are questions.
const maxDemoAnswers = 500

// demoJob is the job up to demoStart, its last answer given just now.
func demoJob(now time.Time) (model.Job, error) {
	job, err := answered(model.Job{Started: now.UTC().Round(0)}, demoAnswers(), demoStart)
	if err != nil {
		return model.Job{}, err
	}
	took := headOf(job).Updated.Sub(job.Started)
	job.Started = job.Started.Add(-took)
	for i := range job.Entries {
		job.Entries[i].At = job.Entries[i].At.Add(-took)
	}
	job.ID = model.NewID(job.Started, rand.Uint32())
	return job, nil
}

// answered goes on with a job until a topic is asked, or, for NoTopic, until
// nothing is.
func answered(job model.Job, lines map[model.Topic][]string, stop model.Topic) (model.Job, error) {
	at := headOf(job).Updated
	for range maxDemoAnswers {
		s := model.Fold(job, model.Offers{})
		p, more := s.Next()
		if !more || p.Topic == stop {
			return job, nil
		}
		line := ""
		if rest := lines[p.Topic]; len(rest) > 0 {
			line, lines[p.Topic] = rest[0], rest[1:]
		}
		at = at.Add(demoPause(p.Topic))
		if w, waits := s.Wait(); waits && line == "" && at.Before(w.Ends()) {
			at = w.Ends()
		}
		e, err := demoEntry(s, p, line, at)
		if err != nil {
			return model.Job{}, fmt.Errorf("demo job: %v: %w", p.Topic, err)
		}
		job.Entries = append(job.Entries, e)
	}
	return model.Job{}, errors.New("demo job: the questions do not end")
}

// demoEntry answers one question: with the line, else as it is offered.
func demoEntry(s *model.State, p model.Prompt, line string, at time.Time) (model.Entry, error) {
	switch {
	case p.Kind == model.Acknowledge || p.Kind == model.Event:
		return p.Entry(s, p.AckValue(s), "", at), nil
	case line == "" && p.Ends != model.NoTopic:
		return p.EndEntry(s, at), nil
	case line != "":
		v, err := p.Parse(s, line)
		return p.Entry(s, v, line, at), err
	}
	v, ok := p.DefaultValue(s)
	if !ok {
		return model.Entry{}, errors.New("nothing is on offer")
	}
	if p.Kind == model.Choose {
		v = p.ChoiceValue(s, model.Option{Token: v.Choice})
	}
	return p.Entry(s, v, "", at), p.Accept(s, v)
}
