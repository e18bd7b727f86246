// Package demo is the invented job that the program shows itself with: its
// answers, and the tour of what to type and to look at from there.
package demo

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"time"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
)

// start is the question that the demo opens at.
const start = job.DrainedAmount

// Answers are typed in turn; what is not named is taken as it is offered, or is
// the first where nothing is. All of it is invented.
func Answers() map[job.Topic][]string {
	return map[job.Topic][]string{
		job.Vehicle:          {"demo estate"},
		job.UnitName:         {"rear axle"},
		job.Capacity:         {"900 ml"},
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
		job.MagnetLook:       {"2"},
		job.DripReading:      {"560", "742", "798", "819", ""},
		job.VesselGraduation: {"10"},
	}
}

// pause is how long each answer took; drips take longer.
func pause(t job.Topic) time.Duration {
	if t == job.DripReading {
		return 6 * time.Minute
	}
	return 20 * time.Second
}

// maxAnswers is far more than there are questions.
const maxAnswers = 500

// Job is the job up to start, its last answer given just now.
func Job(now time.Time) (job.Job, error) {
	j, err := Answered(job.Job{Started: now.UTC().Round(0)}, Answers(), start)
	if err != nil {
		return job.Job{}, err
	}
	took := guide.Fold(j, guide.Offers{}).Head().Updated.Sub(j.Started)
	j.Started = j.Started.Add(-took)
	for i := range j.Entries {
		j.Entries[i].At = j.Entries[i].At.Add(-took)
	}
	j.ID = job.NewID(j.Started, rand.Uint32())
	return j, nil
}

// Answered continues a job until a topic is asked, or, for NoTopic, until
// nothing is.
func Answered(j job.Job, lines map[job.Topic][]string, stop job.Topic) (job.Job, error) {
	at := guide.Fold(j, guide.Offers{}).Head().Updated
	for range maxAnswers {
		s := guide.Fold(j, guide.Offers{})
		p, more := s.Next()
		if !more || p.Topic == stop {
			return j, nil
		}
		line := ""
		if rest := lines[p.Topic]; len(rest) > 0 {
			line, lines[p.Topic] = rest[0], rest[1:]
		} else if p.Kind == job.Choose && p.Default == nil {
			line = "1"
		}
		at = at.Add(pause(p.Topic))
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
