package model

// This file holds the ± that questions and answers name to what is reckoned
// with: twice the standard uncertainty, as everywhere on the screens.

import (
	"fmt"
	"strings"
	"testing"

	"garage/tundish/model/oil"
)

func TestTheDoubtThatIsSaidIsTheOneThatCounts(t *testing.T) {
	percents := func(share float64) string { return fmt.Sprintf("± %.0f %%", 100*Coverage*share) }
	for trust, o := range trustOptions {
		if want := percents(Trust(trust).Share()); o.Token != Trust(trust).String() || !strings.Contains(o.Label, want) {
			t.Errorf("%s: %q does not say %s", o.Token, o.Label, want)
		}
	}
	s := newDrive(t, nil).state()
	for i, uC := range []float64{tempMeasuredUC, tempFeltUC} {
		if want := fmt.Sprintf("± %.0f °C", Coverage*uC); !strings.Contains(howChoices(s, Place{})[i].Label, want) {
			t.Errorf("%q does not say %s", howChoices(s, Place{})[i].Label, want)
		}
	}
	hose := s.HoldUp()
	for topic, want := range map[Topic]string{
		ResidualExpected: fmt.Sprintf("%.0f %% of the stated quantity, %s", 100*ResidualShare, percents(ResidualShareU)),
		OilDensity:       fmt.Sprintf("%.0f ± %.0f", oil.DefaultRho15KgM3, Coverage*oil.DefaultRho15UKgM3),
		EscapeExpected:   fmt.Sprintf("%.0f ± %.0f ml", EscapeML, Coverage*EscapeUML),
		HoseBore:         fmt.Sprintf("%.0f ± %.0f ml", hose.Nominal, Coverage*hose.U()),
	} {
		if said := (Prompt{Spec: SpecOf(topic)}).UnknownText(s); !strings.Contains(said, want) {
			t.Errorf("%v: %q does not say %s", topic, said, want)
		}
	}
}
