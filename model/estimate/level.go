package estimate

// This file weighs what a look at the level tells against the sums: oil at the lip
// of a hole, so far below it, out of an overflow tube, on a dipstick.

import (
	"math"

	"garage/tundish/model/hydraulics"
	"garage/tundish/model/job"
	"garage/tundish/model/measure"
	"garage/tundish/model/oil"
)

// Looked says what a look at the level told.
type Looked uint8

const (
	NotRead   Looked = iota // nothing, or a second look found why it told nothing
	ReadAt                  // the level is LevelLook.Off
	ReadUnder               // it is below that
	ReadOver                // it is above that
)

// LevelLook is what a look at the level told after a round.
type LevelLook struct {
	Looked
	Off measure.Value // how far off the fill is by it, ml at 20 °C
}

// LevelLook is the last look at the level in a round.
func (s *Figures) LevelLook(round int) LevelLook {
	again := s.Choice(job.At(job.LevelLookedAgain, round, 0))
	if again != "" && again != job.LevelHolds && again != job.LevelGone {
		return LevelLook{}
	}
	var look LevelLook
	switch s.Path() {
	case job.LevelPort:
		look = s.lookAtLip(round)
	case job.OverflowTube:
		look = s.lookAtTube(round)
	case job.Dipstick:
		look = s.lookAtStick(round)
	}
	if again == job.LevelGone && look.Looked != NotRead {
		look.Looked = ReadUnder
	}
	return look
}

// LevelSeen reports whether the level was read at the end of a round; BelowHole,
// whether oil was seen to stand below the hole or the tube.
func (s *Figures) LevelSeen(round int) bool { return s.LevelLook(round).Looked == ReadAt }

func (s *Figures) BelowHole(round int) bool { return s.LevelLook(round).Looked == ReadUnder }

// level is a level that is off by so much, as well as it is read.
func (s *Figures) level(offML float64) measure.Value {
	return measure.Gaussian(measure.Source{Name: LevelSource, Job: s.ID}, offML, s.levelU())
}

// LevelAtLip is how far off the fill is by a level seen where it belongs: not at all,
// as well as a level tells.
func (s *Figures) LevelAtLip() measure.Value { return s.level(0) }

// lookAtLip is a look at a level hole: whether oil weeps from it or, where the manual
// states a level below the lip, how far below it stands.
func (s *Figures) lookAtLip(round int) LevelLook {
	low, high, below := s.LipRule()
	if mm, ok := s.Num(job.At(job.LevelBelow, round, 0)); ok && below {
		return LevelLook{ReadAt, s.level(((low+high)/2 - mm) * s.mlPerMM())}
	}
	switch s.Choice(job.At(job.LevelWeeps, round, 0)) {
	case job.WeepsLevel:
		return LevelLook{ReadAt, s.LevelAtLip()}
	case job.WeepsNot:
		return LevelLook{ReadUnder, s.LevelAtLip()}
	}
	return LevelLook{}
}

// LipRule is how far below the lip the manual has the oil, mm; false where it is at the
// lip.
func (s *Figures) LipRule() (low, high float64, below bool) { return s.rangeOf(job.LipBelow) }

// rangeOf are the ends of a range of the first step; false where it is not known.
func (s *Figures) rangeOf(t job.Topic) (low, high float64, ok bool) {
	e, ok := s.Answer(job.Place{Topic: t})
	low, high = e.Value.Ends()
	return low, high, ok && !e.Value.Unknown
}

// lookAtTube is what an overflow tube let out, in terms of the middle of the maker's
// window: what is right at one temperature is too little at a lower one.
func (s *Figures) lookAtTube(round int) LevelLook {
	said, ok := s.TubeLook(round)
	tempC, measured := s.Num(job.At(job.LevelAtC, round, 0))
	if !ok || !measured || said == job.TubeEngineOff {
		return LevelLook{}
	}
	look := LevelLook{ReadAt, s.level(s.windowOffML(tempC))}
	switch said {
	case job.TubeNothing, job.TubeWaves:
		look.Looked = ReadUnder
	case job.TubeThread, job.TubeFlow:
		look.Looked = ReadOver
	}
	return look
}

// lookAtStick is what a dipstick showed on the side that is lower, in terms of the
// middle of its band and of the maker's window.
func (s *Figures) lookAtStick(round int) LevelLook {
	first, ok1 := s.Num(job.At(job.StickFirst, round, 0))
	second, ok2 := s.Num(job.At(job.StickSecond, round, 0))
	tempC, ok3 := s.Num(job.At(job.LevelAtC, round, 0))
	if !ok1 || !ok2 || !ok3 || math.Abs(first-second) > MostStickSpreadMM {
		return LevelLook{}
	}
	if low, _, known := s.LevelWindow(); known && tempC < low-mostColdK {
		return LevelLook{} // the marks for cold oil let it be driven to warm, and no more
	}
	bandML, bandMM := s.stickBand()
	return LevelLook{ReadAt, s.level((math.Min(first, second)-bandMM/2)*bandML/bandMM + s.windowOffML(tempC))}
}

// MostStickSpreadMM is how far apart both sides of a dipstick may be for it to be a
// reading (trade judgement, no source).
const MostStickSpreadMM = 5.0

// mostColdK is how far below the maker's window a dipstick still tells a level (trade
// judgement, no source).
const mostColdK = 30.0

// Band of a dipstick where nobody says, ml and mm (commonly 0.4 L; trade judgement).
const (
	UsualBandML = 400.0
	UsualBandMM = 15.0
)

// stickBand is what the dipstick's marks are apart, ml and mm.
func (s *Figures) stickBand() (ml, mm float64) {
	return s.NumOr(job.StickBand, UsualBandML), math.Max(s.NumOr(job.StickBandMM, UsualBandMM), 1)
}

// LevelWindow is the oil temperature at which the maker has the level read, °C; false
// where it is not known.
func (s *Figures) LevelWindow() (lowC, highC float64, ok bool) { return s.rangeOf(job.LevelWindow) }

// windowOffML is how much less is in than the middle of the window asks for, where a
// level is right at a temperature, as a negative number.
func (s *Figures) windowOffML(tempC float64) float64 {
	low, high, ok := s.LevelWindow()
	if !ok {
		return 0
	}
	return s.MLPerK() * ((low+high)/2 - tempC)
}

// MLPerK is how much the oil in the unit grows with a kelvin, ml at 20 °C: of all that
// is in it, converter and cooler too.
func (s *Figures) MLPerK() float64 {
	c, err := oil.CorrectionTo20(s.Oil().Rho15KgM3, 20)
	if err != nil {
		return 0
	}
	return s.wholeML() * math.Abs(c.DLnPerC)
}

// Of the oil in a unit whose level is read, where nobody has measured it (computed from
// two cases of 4 and 9 L; trade judgement): its surface, cm², and the distance of the
// lip or the tube from the middle of that, mm.
const (
	areaPerL      = 89.0
	distanceAt0   = 60.0
	distancePerL  = 10.0
	usualTiltDeg  = 0.3
	lipMM         = 2.0  // how well a finger or an eye tells a level at a lip
	tubeMM        = 0.5  // and an overflow tube
	pulsesML      = 20.0 // cooling pulses, idle speed
	stickMM       = 2.0
	stickTempC    = 5.0
	leastLevelUML = 30.0 // of a level hole where the surface is not known
	levelShareU   = 0.015
)

// surface is the oil's surface, cm², and how far the lip is from its middle, mm; own
// where somebody has measured the first.
func (s *Figures) surface() (cm2, mm float64, own bool) {
	litres := s.wholeML() / 1000
	cm2, own = s.Num(job.Place{Topic: job.OilSurface})
	if !own {
		cm2 = areaPerL * litres
	}
	return cm2, s.NumOr(job.LipDistance, distanceAt0+distancePerL*litres), own
}

// mlPerMM is how much oil a millimetre of level is.
func (s *Figures) mlPerMM() float64 { cm2, _, _ := s.surface(); return cm2 / 10 }

// TiltML is how far a level may be off in a unit that leans by an angle, ml: too much
// where the lip is on the side that is raised, too little on the other. It holds for a
// case with upright walls.
//
//	dV = surface · distance · tan(angle)
func (s *Figures) TiltML(degrees float64) float64 {
	cm2, mm, _ := s.surface()
	return hydraulics.TiltML(cm2, mm, degrees)
}

// levelU is the standard uncertainty of a level, ml: half of the root sum of squares of
// what 19 in 20 readings are within.
func (s *Figures) levelU() float64 {
	tilt, told := s.Num(job.At(job.CarTilt, s.Round(), 0))
	if !told {
		tilt = usualTiltDeg
	}
	leans := s.TiltML(tilt)
	switch s.Path() {
	case job.OverflowTube:
		return s.tubeU(leans)
	case job.Dipstick:
		ml, mm := s.stickBand()
		return math.Hypot(math.Hypot(leans, stickMM*ml/mm), stickTempC*s.MLPerK()) / Coverage
	}
	_, _, own := s.surface()
	if _, _, below := s.LipRule(); own || below { // measured in mm
		return math.Hypot(lipMM*s.mlPerMM(), leans) / Coverage
	}
	if !told {
		leans = 0 // it is in the figure
	}
	return math.Hypot(math.Max(leastLevelUML, levelShareU*s.wholeML()), leans/Coverage)
}

// tubeU is the standard uncertainty of a level at an overflow tube, ml, in a car whose
// lean may put it off by so much.
func (s *Figures) tubeU(leansML float64) float64 {
	return math.Hypot(math.Hypot(leansML, tubeMM*s.mlPerMM()), pulsesML) / Coverage
}

// LevelTolerance is how far off the maker's own way of setting the level leaves a fill,
// ml each way; false where the level has no width of its own. Of an overflow tube that
// is the window and how well a tube sets a level in a car that stands level: a lean is
// doubt and allows nothing, and no tolerance of a quantity is made up for it.
func (s *Figures) LevelTolerance() (Tolerance, bool) {
	half := 0.0
	switch low, high, below := s.LipRule(); s.Path() {
	case job.OverflowTube:
		lowC, highC, _ := s.LevelWindow()
		half = (highC-lowC)/2*s.MLPerK() + Coverage*s.tubeU(s.TiltML(usualTiltDeg))
	case job.Dipstick:
		ml, _ := s.stickBand()
		half = ml / 2
	case job.LevelPort:
		if below {
			half = (high - low) / 2 * s.mlPerMM()
		}
	}
	return Tolerance{half, half}, half > 0
}

// OldOilTold reports whether what came out tells how much was in before.
func (s *Figures) OldOilTold() bool { return s.Measured() && !s.DrainedVoid() && !s.DryStart() }
