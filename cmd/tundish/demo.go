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

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
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
const demoStart = job.DrainedAmount

// demoAnswers are typed in turn; what is not named is taken as it is offered.
// All of it is invented.
func demoAnswers() map[job.Topic][]string {
	return map[job.Topic][]string{
		job.Vehicle:          {"demo estate"},
		job.UnitName:         {"rear axle"},
		job.Capacity:         {"900 ml"},
		job.CapacityMeans:    {"1"},
		job.Odometer:         {"118 400"},
		job.OilGrade:         {"75W-90"},
		job.OilDensity:       {"872"},
		job.OilKV40:          {"102"},
		job.OilKV100:         {"14.6"},
		job.PlugThread:       {"M18x1.5"},
		job.PlugKey:          {"8 mm hexagon"},
		job.WasherKind:       {"copper, 18 x 24 x 1.5"},
		job.TorqueFigure:     {"35"},
		job.TorqueSource:     {"invented for the demo"},
		job.IntervalKm:       {"60 000"},
		job.IntervalMonths:   {"48"},
		job.ContainerName:    {"two-litre jug"},
		job.OilTemperature:   {"42"},
		job.TemperatureHow:   {"1"},
		job.MagnetLook:       {"2"},
		job.OilLook:          {"1"},
		job.OilHistory:       {"1"},
		job.DripReading:      {"560", "742", "798", "819", ""},
		job.VesselGraduation: {"10"},
	}
}

// demoPause is how long each answer took; drips take longer.
func demoPause(t job.Topic) time.Duration {
	if t == job.DripReading {
		return 6 * time.Minute
	}
	return 20 * time.Second
}

// maxDemoAnswers is far more than there are questions.
const maxDemoAnswers = 500

// demoJob is the job up to demoStart, its last answer given just now.
func demoJob(now time.Time) (job.Job, error) {
	j, err := answered(job.Job{Started: now.UTC().Round(0)}, demoAnswers(), demoStart)
	if err != nil {
		return job.Job{}, err
	}
	took := headOf(j).Updated.Sub(j.Started)
	j.Started = j.Started.Add(-took)
	for i := range j.Entries {
		j.Entries[i].At = j.Entries[i].At.Add(-took)
	}
	j.ID = job.NewID(j.Started, rand.Uint32())
	return j, nil
}

// answered continues a job until a topic is asked, or, for NoTopic, until
// nothing is.
func answered(j job.Job, lines map[job.Topic][]string, stop job.Topic) (job.Job, error) {
	at := headOf(j).Updated
	for range maxDemoAnswers {
		s := guide.Fold(j, guide.Offers{})
		p, more := s.Next()
		if !more || p.Topic == stop {
			return j, nil
		}
		line := ""
		if rest := lines[p.Topic]; len(rest) > 0 {
			line, lines[p.Topic] = rest[0], rest[1:]
		}
		at = at.Add(demoPause(p.Topic))
		if w, waits := s.Wait(); waits && line == "" && at.Before(w.Ends()) {
			at = w.Ends()
		}
		e, err := p.Answer(s, line, at)
		if err != nil {
			return job.Job{}, fmt.Errorf("demo job: %v: %w", p.Topic, err)
		}
		j.Entries = append(j.Entries, e)
	}
	return job.Job{}, errors.New("demo job: the questions do not end")
}
