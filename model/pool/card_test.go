package pool

// This file checks that a card says what its jobs say, and names nobody.

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/stat"

	"garage/tundish/model/card"
	"garage/tundish/model/job"
	"garage/tundish/model/jobtest"
)

// namedJob is a drain-port job of a kind, by an owner whose name is all over it.
func namedJob(t *testing.T, n int, kind, drained string, more jobtest.Script) job.Job {
	t.Helper()
	lines := jobtest.DrainPort()
	lines[job.DrainedAmount], lines[job.DrainedTemperature] = []string{drained + "@20C"}, nil
	lines[job.EscapedAtCap], lines[job.EscapedAmount] = []string{"0"}, []string{fmt.Sprint(40 + 3*n)}
	lines[job.Vehicle], lines[job.ClubKind] = []string{fmt.Sprintf("Wanda Ferrow's KX-7%d PLM", n)}, []string{kind}
	lines[job.PlugThread], lines[job.PlugKey] = []string{"M18x1.5 Ferrow"}, []string{"10 mm hex, Wanda's"}
	lines[job.TorqueSource], lines[job.Remark] = []string{"Ferrow's book"}, []string{"ring 0199 555"}
	for topic, l := range more {
		lines[topic] = l
	}
	d := jobtest.New(t, lines)
	d.Job.ID = fmt.Sprintf("named-%d", n)
	d.Until(job.Decision)
	return d.Job
}

// Mean and standard deviation are checked against gonum's; what stays inside is 900 ml less
// what came out (invented figures).
func TestCardOfAKind(t *testing.T) {
	var p Pool
	var out, stays []float64
	for n, drained := range []string{"810", "830", "820", "842", "805"} {
		kind := []string{"K2 rear axle", "k2 Rear-axle", "K2  rear axle (Ferrow)"}[n%3]
		if err := add(&p, namedJob(t, n, kind, drained, nil)); err != nil {
			t.Fatal(err)
		}
		var ml float64
		fmt.Sscan(drained, &ml)
		out, stays = append(out, ml), append(stays, 900-ml)
	}
	if err := add(&p, namedJob(t, 9, "K2 rear axle", "840", jobtest.Script{job.PriorLevel: {"unknown"}})); err != nil {
		t.Fatal(err)
	}
	c, others, err := p.Card("K2 rear axle")
	if err != nil || others != 0 {
		t.Fatal(err, others)
	}
	mean, sd := stat.MeanStdDev(out, nil)
	if c.Jobs != 6 || c.Out.Jobs != 5 || math.Abs(c.Out.Mean-mean) > 0.06 || math.Abs(c.Out.SD-sd) > 0.06 {
		t.Errorf("%d jobs, came out %+v; want 6, %.1f, %.1f of 5", c.Jobs, c.Out, mean, sd)
	}
	if mean, sd = stat.MeanStdDev(stays, nil); c.Stays == nil || math.Abs(c.Stays.Mean-mean) > 0.06 || math.Abs(c.Stays.SD-sd) > 0.06 {
		t.Errorf("stays inside %+v, want %.1f, %.1f", c.Stays, mean, sd)
	}
	if c.Thread != "M18x1.5" || c.Key != "10mm hex" || c.Unit != "final_drive" || c.Path != "drain_only" || len(c.Spill) != 1 ||
		c.Spill[0].Jobs != 6 || c.Drain == nil || c.In != nil {
		t.Errorf("%+v", c)
	}
	var b bytes.Buffer
	if err := card.Write(&b, c); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"wanda", "ferrow", "kx-7", "plm", "0199"} {
		if strings.Contains(strings.ToLower(b.String()), name) {
			t.Errorf("%q stands on the card:\n%s", name, b.String())
		}
	}
	if kinds := p.Result().Kinds; len(kinds) != 1 || kinds[0] != (NamedKind{"k2 rear axle", 6}) {
		t.Errorf("kinds %+v", kinds)
	}
}

func TestNoCardOfTooFew(t *testing.T) {
	var p Pool
	for n, kind := range []string{"one", "two", "two", "none of these"} {
		if err := add(&p, namedJob(t, n, kind, "820", nil)); err != nil {
			t.Fatal(err)
		}
	}
	for n := range card.MinJobs {
		if err := add(&p, namedJob(t, 10+n, "enough", "820", nil)); err != nil {
			t.Fatal(err)
		}
	}
	if c, _, err := p.Card("enough"); err != nil || c.Out.Jobs != card.MinJobs {
		t.Errorf("%+v, %v", c, err)
	}
	for name, says := range map[string]string{"one": "1 of 1 jobs", "two": "2 of 2 jobs", "three": "no owner named"} {
		if _, _, err := p.Card(name); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%s: %v", name, err)
		}
	}
}
