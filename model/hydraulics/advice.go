package hydraulics

// This file holds the result of a push in words, and what warming the oil would gain.

import (
	"fmt"
	"math"

	"garage/tundish/model/oil"
)

// String is the result in words: "3 min", "stalls after 344 ml: …".
func (r PushResult) String() string {
	switch {
	case r.Outcome == Stalls && r.StallsAfterML == 0:
		return "does not start: the pressure does not lift the oil"
	case r.Outcome == Stalls:
		return fmt.Sprintf("stalls after %.0f ml: the pressure no longer lifts the oil", r.StallsAfterML)
	case r.Outcome != Finishes:
		return "not reckoned"
	case r.IsLowerBound():
		return "more than " + duration(r.Minutes)
	}
	return duration(r.Minutes)
}

// duration prints seconds below a minute and a half, then minutes, then hours and minutes.
func duration(minutes float64) string {
	switch {
	case minutes < 1.5:
		return fmt.Sprintf("%.0f s", math.Ceil(minutes*60))
	case minutes < 90:
		return fmt.Sprintf("%.0f min", minutes)
	case minutes < 100*60:
		whole := int(math.Round(minutes))
		return fmt.Sprintf("%d h %d min", whole/60, whole%60)
	}
	return fmt.Sprintf("%.0f h", minutes/60)
}

// maxWarmC is the highest temperature that is advised: hotter oil burns the hands that hold the
// hose. Common practice, no source.
const maxWarmC = 50.0

// WarmerAdvice compares a push as planned with the same push of warmer oil.
type WarmerAdvice struct {
	TempC     float64 // of the warmer oil
	Now, Then PushResult
}

// String is the advice as a sentence without its end: "warm the oil to 25 °C: 3 min instead of
// 11 min".
func (a WarmerAdvice) String() string {
	if a.Now.Outcome != Finishes || a.Then.Outcome != Finishes {
		return fmt.Sprintf("oil at %g °C: %s", a.TempC, a.Then)
	}
	return fmt.Sprintf("warm the oil to %g °C: %s instead of %s", a.TempC, a.Then, a.Now)
}

// Warmer computes the push for each of the temperatures that is above the plan's, with the same
// mass of oil. Warming makes a push faster; one that stalls still stalls, since the lift stays.
// Errors as for Push, or a temperature above 50 °C.
func Warmer(p PushPlan, tempsC ...float64) ([]WarmerAdvice, error) {
	now, err := Push(p)
	if err != nil {
		return nil, err
	}
	var advice []WarmerAdvice
	for _, tempC := range tempsC {
		if tempC <= p.TempC {
			continue
		}
		if err := oil.CheckWithin("temperature to warm to", tempC, p.TempC, maxWarmC, "°C"); err != nil {
			return nil, err
		}
		warm, err := p.warmedTo(tempC)
		if err != nil {
			return nil, err
		}
		then, err := Push(warm)
		if err != nil {
			return nil, err
		}
		advice = append(advice, WarmerAdvice{TempC: tempC, Now: now, Then: then})
	}
	return advice, nil
}

// warmedTo is the plan with the same mass of oil at another temperature.
func (p PushPlan) warmedTo(tempC float64) (PushPlan, error) {
	at20ML, err := p.Oil.VolumeAt20(p.VolumeML, p.TempC)
	if err != nil {
		return PushPlan{}, err
	}
	p.VolumeML, err = p.Oil.VolumeFrom20(at20ML, tempC)
	p.TempC = tempC
	return p, err
}
