// Package share takes out of a job whatever tells whose car it is, entry by entry:
//
//	id            a new one, the same each time this job is shared
//	times         a job begins at midnight of its day; times since the start stay,
//	              those that were given for an event too
//	odometer      to the nearest 1,000 km or miles, as the job's units are
//	vehicle       "shared car", so that nothing ties two shared jobs together
//	names, notes  left out; of thread, key, washer, oil and unit only words
//	              stay that the trade knows, see words.go; containers
//	              are numbered
//	kind of unit  as its owner named it for the club, with no word that names car,
//	              person or place: only where the owner says so
//	typed lines   left out: the value stays
//	questions     left out, and the labels of options: names may stand in them;
//	              a record words them anew by the entries before
//
// Each entry is reduced by itself and by what stands before it, so a job that
// is shared again later begins with what was shared before: an import knows it.
package share

import (
	"crypto/sha256"
	"encoding/base32"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"garage/tundish/model/ask"
	"garage/tundish/model/estimate"
	"garage/tundish/model/job"
	"garage/tundish/model/quantity"
)

// LeftOut stands where a text was left out.
const LeftOut = "(left out)"

// sharedVehicle begins the name of every car in a shared job; the rest is the
// shared job's id, so that two shared jobs are never taken for one car's.
const sharedVehicle = "shared car"

const sharedPrefix = "shared-"

// Job is a job without what tells whose car it is. Sharing a shared job
// changes nothing.
func Job(j job.Job) job.Job { return reduced(j, false) }

// WithKind is Job with the kind of unit that its owner named for the club.
func WithKind(j job.Job) job.Job { return reduced(j, true) }

func reduced(j job.Job, withKind bool) job.Job {
	id := ID(j)
	withKind = withKind || IsCopy(j.ID)
	start := j.Started.UTC()
	midnight := start.Truncate(24 * time.Hour)
	out := job.Job{ID: id, Started: midnight, Entries: slices.Clone(j.Entries)}
	distance := quantity.Kilometre
	for i := range out.Entries {
		e := &out.Entries[i]
		if e.Topic == job.DisplayUnits {
			distance = distanceOf(e.Value.Choice)
		}
		happened, moved := momentOf(*e)
		since := e.At.Sub(start).Truncate(time.Second)
		e.At, e.Asked, e.Typed, e.Label = midnight.Add(since), "", "", ""
		kind := e.Value.Text
		e.Value = shareValue(e.Topic, e.Value, distance)
		switch {
		case moved:
			e.Value.Text = job.AtMoment(midnight.Add(happened.Sub(start))).Text
		case e.Topic == job.Vehicle && !e.Value.Unknown:
			e.Value.Text = sharedVehicle + " " + strings.TrimPrefix(id, sharedPrefix)
		case e.Topic == job.ClubKind && withKind && kind != "":
			e.Value.Text = clubKind(kind, j.Entries[:i])
		case e.Topic == job.ContainerName && e.Value.Text == LeftOut:
			e.Value.Text = fmt.Sprintf("container %d", e.Item+1)
		}
	}
	return out
}

// momentOf is the time that was given for an event; false where none was.
func momentOf(e job.Entry) (time.Time, bool) {
	if e.Topic.Info().Kind != job.Event || e.Value.Text == "" {
		return time.Time{}, false
	}
	at, err := time.Parse(time.RFC3339, e.Value.Text)
	return at, err == nil && !at.After(e.At)
}

// IsCopy reports whether an id is that of a shared copy of a job.
func IsCopy(id string) bool { return strings.HasPrefix(id, sharedPrefix) }

// ID is that of the shared copy of a job. It is made from id and times that are themselves left out, so it does
// not lead back to them.
func ID(job job.Job) string {
	if IsCopy(job.ID) {
		return job.ID
	}
	secret := job.ID + job.Started.UTC().Format(time.RFC3339Nano)
	if len(job.Entries) > 0 {
		secret += job.Entries[0].At.UTC().Format(time.RFC3339Nano)
	}
	sum := sha256.Sum256([]byte(secret))
	return sharedPrefix + strings.ToLower(base32.StdEncoding.EncodeToString(sum[:10]))
}

func distanceOf(units string) quantity.DistanceUnit {
	if units == "us" || units == "imperial" {
		return quantity.Mile
	}
	return quantity.Kilometre
}

// shareValue keeps numbers and known choices; texts as shareText says.
func shareValue(t job.Topic, v job.Value, distance quantity.DistanceUnit) job.Value {
	if t == job.Odometer {
		v.Number, v.High, v.Parts = roundKm(v.Number, distance), 0, nil
	}
	if v.Choice != "" && !KnownChoice(t, v.Choice) {
		v.Choice = LeftOut
	}
	if v.Text != "" {
		v.Text = shareText(t, v.Text)
	}
	return v
}

// roundKm is a distance to the nearest 1,000 of its unit, km.
func roundKm(distanceKm float64, unit quantity.DistanceUnit) float64 {
	step := 1000 * unit.Factor()
	return math.Round(distanceKm/step) * step
}

// KnownChoice reports whether a choice is one that the program offers, and not a
// text that somebody wrote in its place.
func KnownChoice(t job.Topic, token string) bool {
	if token == LeftOut {
		return true
	}
	if sp := ask.SpecOf(t); sp != nil && slices.ContainsFunc(sp.Options, func(o ask.Option) bool { return o.Token == token }) {
		return true
	}
	return t == job.MeasureTrusted && estimate.IsMeasureToken(token) || deviceToken(token)
}

// deviceToken reports whether a token is that of the scale, of the vessel, or of
// a container: c0, c1, ….
func deviceToken(token string) bool {
	if token == "scale" || token == "vessel" {
		return true
	}
	digits, ok := strings.CutPrefix(token, "c")
	return ok && len(digits) > 0 && len(digits) <= 3 && strings.Trim(digits, "0123456789") == ""
}
