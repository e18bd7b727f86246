package verdict

// This file holds the findings of a level that was read: what it was not, and what it
// was wrong by. Every limit in it is trade judgement without a source.

import (
	"fmt"
	"math"

	"garage/tundish/model/estimate"
	"garage/tundish/model/job"
)

// mostLeanML is how wrong a level may be for the lean of the car before that is said.
const mostLeanML = 100.0

func (s *found) levelFindings(round int) {
	s.step, s.round = job.Fill, round
	said, _ := s.TubeLook(round)
	tube := job.At(job.TubeSaid, round, 0)
	if said == job.TubeEngineOff {
		s.add(LevelEngineOff, 0, tube, "Oil that runs with the engine off is no level.",
			"The converter's oil stands in the pan then. Engine on, selector, then look.")
	}
	if s.stillDry(round) {
		s.add(LevelStillDry, mostBeyondOut, tube, fmt.Sprintf("%s more in than came out, and nothing runs: STOP adding.",
			s.Show(mostBeyondOut, job.DimML)), "A leak, a loose tube, a car that leans, the wrong opening. Not to be driven.")
	}
	s.outOfWindow(round)
	if first, ok := s.Num(job.At(job.StickFirst, round, 0)); ok {
		second, _ := s.Num(job.At(job.StickSecond, round, 0))
		if apart := math.Abs(first - second); apart > estimate.MostStickSpreadMM {
			s.add(StickUnsteady, 0, job.At(job.StickFirst, round, 0),
				fmt.Sprintf("The stick's two sides are %.0f mm apart: no reading.", apart),
				"Wipe it, wait, read it three times. Froth: let it stand for 30 min.")
		}
	}
	if tilt, ok := s.Num(job.At(job.CarTilt, round, 0)); ok && s.TiltML(tilt) > mostLeanML {
		s.add(CarLeans, s.TiltML(tilt), job.At(job.CarTilt, round, 0),
			fmt.Sprintf("%.1f° off level: the level may be wrong by %s.", tilt, s.Show(s.TiltML(tilt), job.DimML)),
			"Both ends, both sides to one height, then look again.")
	}
}

// outOfWindow says what a level is off by that was set out of the maker's window.
func (s *found) outOfWindow(round int) {
	near, far, out := s.OutOfWindow(round)
	if !out {
		return
	}
	at, u := job.At(job.LevelAtC, round, 0), s.Units()
	tempC, _ := s.Num(at)
	low, high, _ := s.LevelWindow()
	window := u.FormatTemperature(low) + " to " + u.FormatTemperature(high)
	if s.Path() == job.Dipstick {
		text, do := fmt.Sprintf("Read at %s, not at %s: it is reckoned to that.", u.FormatTemperature(tempC), window),
			"Warm it up and read it once more."
		if !s.LevelSeen(round) {
			text, do = fmt.Sprintf("Read at %s: cold, that may only be driven to warm.", u.FormatTemperature(tempC)),
				"The verdict waits for "+window+"."
		}
		s.add(LevelOutOfWindow, near, at, text, do)
		return
	}
	if said, ok := s.TubeLook(round); !ok || said != job.TubeDrops {
		return
	}
	side, do := "LOW", "Plug in, engine off, cool below "+u.FormatTemperature(low)+", then set it again."
	if near > 0 {
		side, do = "HIGH", "Open it again in the range, running; about "+s.Show((near+far)/2, job.DimML)+" run out."
	}
	s.add(LevelOutOfWindow, near, at, fmt.Sprintf("Set at %s, not %s: %s by %s to %s.", u.FormatTemperature(tempC), window, side,
		u.BareVolume(math.Abs(near)), s.Show(math.Abs(far), job.DimML)), do)
}
