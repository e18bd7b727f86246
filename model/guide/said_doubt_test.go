package guide

// This file holds the ± that questions and answers name to what is reckoned
// with: twice the standard uncertainty, as everywhere on the screens.

import (
	"fmt"
	"strings"
	"testing"

	"garage/tundish/model/ask"
	"garage/tundish/model/estimate"
	"garage/tundish/model/job"
	"garage/tundish/model/oil"
)

func TestTheDoubtThatIsSaidIsTheOneThatCounts(t *testing.T) {
	percents := func(share float64) string { return fmt.Sprintf("± %.0f %%", 100*estimate.Coverage*share) }
	s := newDrive(t, nil).state()
	says := ask.SpecOf(job.TemperatureHow).OptionsOf(s.Known, job.Place{})
	for i, uC := range []float64{estimate.TempMeasuredUC, estimate.TempFeltUC} {
		if want := fmt.Sprintf("± %.0f °C", estimate.Coverage*uC); !strings.Contains(says[i].Label, want) {
			t.Errorf("%q does not say %s", says[i].Label, want)
		}
	}
	hose := s.HoldUp()
	for topic, want := range map[job.Topic]string{
		job.ResidualExpected: fmt.Sprintf("%.0f %% of all that belongs in, %s", 100*estimate.ResidualShare,
			percents(estimate.ResidualShareU)),
		job.OilDensity:     fmt.Sprintf("%.0f ± %.0f", oil.DefaultRho15KgM3, estimate.Coverage*oil.DefaultRho15UKgM3),
		job.EscapeExpected: fmt.Sprintf("%.0f ± %.0f ml", estimate.EscapeML, estimate.Coverage*estimate.EscapeUML),
		job.HoseHolds:      fmt.Sprintf("%.0f ± %.0f ml", hose.Nominal, estimate.Coverage*hose.U()),
	} {
		if said := (Prompt{Spec: ask.SpecOf(topic)}).UnknownText(s); !strings.Contains(said, want) {
			t.Errorf("%v: %q does not say %s", topic, said, want)
		}
	}
}
