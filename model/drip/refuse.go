// This file holds the errors of the package: each says what is wrong and, after the
// colon, what to do.

package drip

import (
	"errors"
	"fmt"
	"math"
)

var (
	// ErrTooFew: fewer than three readings after minute 0.
	ErrTooFew = errors.New("too few readings")
	// errTooMany: more than 10 000 readings.
	errTooMany = errors.New("too many readings")
	// errReading: a time or volume that is not plausible.
	errReading = errors.New("reading outside sense")
	// ErrSameTime: two readings carry the same time.
	ErrSameTime = errors.New("two readings at the same time")
	// ErrFalling: the cumulative volume falls by more than a reading error.
	ErrFalling = errors.New("the volume falls")
	// ErrNothingOut: every reading is zero.
	ErrNothingOut = errors.New("nothing has come out")
	// ErrNotSettling: still too straight a line to compute where it settles.
	ErrNotSettling = errors.New("not settling yet")
	// ErrMisfit: the readings do not follow one settling curve.
	ErrMisfit = errors.New("the readings do not follow one curve")
)

// checkEach refuses readings that are not plausible each by itself.
func checkEach(readings []Reading) error {
	if len(readings) > maxReadings {
		return fmt.Errorf("%w: keep at most %d", errTooMany, maxReadings)
	}
	for i, r := range readings {
		if !(r.Minutes >= 0 && r.Minutes <= maxMinutes) {
			return fmt.Errorf("%w: minutes of reading %d must be a number from 0 to %.0f", errReading, i+1, maxMinutes)
		}
		if !(r.ML >= 0 && r.ML <= maxML) {
			return fmt.Errorf("%w: ml of reading %d must be a number from 0 to %.0f", errReading, i+1, maxML)
		}
	}
	return nil
}

// check refuses readings that are not plausible together, of which so many are
// after minute 0.
func (s series) check(after int) error {
	if after < minReadings {
		return fmt.Errorf("%w: %d after minute 0, and %d are needed: read again in %s", ErrTooFew, after, minReadings, s.pause())
	}
	if s.lastMin < minLastMinutes {
		return fmt.Errorf("%w: minutes of the last reading must be at least %g", errReading, minLastMinutes)
	}
	if s.topML == 0 {
		return fmt.Errorf("%w: check that the port is open and read again in %s", ErrNothingOut, s.pause())
	}
	var top Reading
	for i, r := range s.readings {
		if i > 0 && r.Minutes == s.readings[i-1].Minutes {
			return fmt.Errorf("%w: keep one reading for minute %g", ErrSameTime, r.Minutes)
		}
		if top.ML-r.ML > misreadShare*s.topML {
			return fmt.Errorf("%w from %g ml at minute %g to %g ml at minute %g: read the jug again and correct the wrong one",
				ErrFalling, top.ML, top.Minutes, r.ML, r.Minutes)
		}
		if r.ML > top.ML {
			top = r
		}
	}
	return nil
}

func (s series) notSettling() error {
	return fmt.Errorf("%w: it runs too evenly to tell where it ends: read again in %s", ErrNotSettling, s.pause())
}

func (s series) misfit() error {
	more := ""
	if needed := Offset.readings(); len(s.readings) < needed {
		more = fmt.Sprintf(", and go on to %d readings", needed)
	}
	return fmt.Errorf("%w: the stream seems to have broken to drips: read again in %s%s", ErrMisfit, s.pause(), more)
}

// pause is how long to wait for the next reading: half the time so far, but at
// least 5 minutes.
func (s series) pause() string {
	return fmt.Sprintf("%.0f minutes", max(5, math.Ceil(s.lastMin/2)))
}
