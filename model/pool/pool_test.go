package pool

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/stat"
	"pgregory.net/rapid"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/jobtest"
	"garage/tundish/model/share"
)

func add(p *Pool, job job.Job) error {
	t, err := Of(job)
	if err == nil {
		p.Add(t)
	}
	return err
}

// pooled is a drain-port job with what came out and escaped.
func pooledJob(t *testing.T, n int, drained, escaped string) job.Job {
	t.Helper()
	lines := jobtest.DrainPort()
	lines[job.DrainedAmount], lines[job.DrainedTemperature] = []string{drained + "@20C"}, nil
	lines[job.EscapedAtCap], lines[job.EscapedAmount] = []string{"0"}, []string{escaped}
	lines[job.Vehicle] = []string{fmt.Sprintf("car %d", n)}
	d := jobtest.New(t, lines)
	d.Job.ID = fmt.Sprintf("job-%d", n)
	d.Until(job.Decision)
	return d.Job
}

// The mean and standard deviation are checked against gonum's. The figures are
// invented: residual 1 − drained/900.
func TestPoolAddsUp(t *testing.T) {
	drained, escaped := []string{"810", "830", "820", "842"}, []string{"46", "52", "40", "61"}
	var p Pool
	var shares, mls []float64
	for i := range drained {
		job := pooledJob(t, i, drained[i], escaped[i])
		if i%2 == 0 {
			job = share.Job(job)
		}
		if err := add(&p, job); err != nil {
			t.Fatal(err)
		}
		var d, e float64
		fmt.Sscan(drained[i], &d)
		fmt.Sscan(escaped[i], &e)
		spilled, _ := guide.Fold(job, guide.Offers{}).EscapedAtSwap(0) // with the film that the pan kept
		if spilled.Nominal < e || spilled.Nominal > 1.05*e {
			t.Errorf("%s ml caught, %g ml spilled", escaped[i], spilled.Nominal)
		}
		shares, mls = append(shares, 1-d/900), append(mls, spilled.Nominal)
	}
	r := p.Result()
	if r.Jobs != 4 || len(r.Residual) != 1 || len(r.Escape) != 1 {
		t.Fatalf("result %+v", r)
	}
	mean, sd := stat.MeanStdDev(shares, nil)
	if g := r.Residual[0]; g.Unit != "final_drive" || g.Jobs != 4 || math.Abs(*g.Share-mean) > 1e-4 || math.Abs(*g.SD-sd) > 1e-4 {
		t.Errorf("residual %s %v ± %v of %d, want %.4f ± %.4f", g.Unit, *g.Share, *g.SD, g.Jobs, mean, sd)
	}
	mean, sd = stat.MeanStdDev(mls, nil)
	// 6 mm bore, 1.5 m: 42.4 ml, so 40.
	if g := r.Escape[0]; g.Filler != "hand_pump" || g.HoseML != 40 || math.Abs(*g.ML-mean) > 0.05 || math.Abs(*g.SDML-sd) > 0.05 {
		t.Errorf("escape %+v, want %.1f ± %.1f", g, mean, sd)
	}
}

func TestPoolCountsAJobOnce(t *testing.T) {
	kept := pooledJob(t, 1, "830", "46")
	var p Pool
	for _, j := range []job.Job{kept, share.Job(kept), kept} {
		if err := add(&p, j); err != nil {
			t.Fatal(err)
		}
	}
	if r := p.Result(); r.Jobs != 1 || r.Again != 2 {
		t.Errorf("%d jobs, %d again, want 1 and 2", r.Jobs, r.Again)
	}
}

// A figure of one or two jobs would be about those cars.
func TestPoolSaysNothingOfFewJobs(t *testing.T) {
	var p Pool
	for i := range minPooled - 1 {
		if err := add(&p, pooledJob(t, i, "830", "46")); err != nil {
			t.Fatal(err)
		}
	}
	if r := p.Result(); r.Residual[0].Share != nil || r.Escape[0].ML != nil || r.Residual[0].Jobs != minPooled-1 {
		t.Errorf("figures of %d jobs are told: %+v", minPooled-1, r)
	}
}

func TestPoolTakesOnlyWhatTells(t *testing.T) {
	bad := map[string]jobtest.Script{
		"water":      {job.OilLook: {"milky"}},
		"guessed":    {job.EscapedHow: {"guess"}, job.CapacityMeans: {"refill"}},
		"not sure":   {job.PriorLevel: {"unknown"}},
		"level port": jobtest.LevelPort(),
	}
	for name, change := range bad {
		lines := change
		if name != "level port" {
			lines = jobtest.DrainPort()
			for topic, l := range change {
				lines[topic] = l
			}
		}
		d := jobtest.New(t, lines)
		d.Until(job.Decision)
		s := d.Guide()
		_, residual := residualShare(s)
		_, escape := escapeML(s)
		if residual || (escape && (name == "guessed" || name == "level port")) {
			t.Errorf("%s: residual %v, escape %v", name, residual, escape)
		}
	}
	half := jobtest.New(t, jobtest.DrainPort())
	half.Until(job.EscapedAmount)
	if ml, ok := escapeML(half.Guide()); ok {
		t.Errorf("%v ml escaped before it was measured", ml)
	}
	if err := add(new(Pool), job.Job{}); err == nil {
		t.Error("a job that is none is added")
	}
}

// Whatever jobs are added, in whatever order, the result names none of them
// and can be written.
func TestPoolNamesNoCar(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		jobs := rapid.SliceOfN(jobtest.AnyJob(), 0, 5).Draw(t, "jobs")
		var p, back Pool
		for i, job := range jobs {
			for k := range job.Entries {
				job.Entries[k].Value.Text, job.Entries[k].Value.Choice = "KX-71 PLM", "KX-71 PLM"
			}
			if err := add(&p, job); err != nil {
				t.Fatal(err)
			}
			if err := add(&back, jobs[len(jobs)-1-i]); err != nil {
				t.Fatal(err)
			}
		}
		text, err := json.Marshal(p.Result())
		if err != nil {
			t.Fatal(err)
		}
		var b bytes.Buffer
		if err := p.Result().WriteText(&b); err != nil {
			t.Fatal(err)
		}
		for _, said := range []string{string(text), b.String()} {
			if strings.Contains(said, "KX-71") {
				t.Fatalf("the pool names a car: %s", said)
			}
		}
		if a, b := p.Result(), back.Result(); a.Jobs != b.Jobs || len(a.Residual) != len(b.Residual) {
			t.Fatalf("the order counts: %+v, %+v", a, b)
		}
	})
}

func BenchmarkPoolAdd(b *testing.B) {
	t := &testing.T{}
	job := pooledJob(t, 1, "830", "46")
	var p Pool
	b.ReportAllocs()
	for i := range b.N {
		job.ID = fmt.Sprintf("job-%d", i)
		if err := add(&p, job); err != nil {
			b.Fatal(err)
		}
	}
}

// A figure is one from three jobs on, to 0.01 % and 0.1 ml.
func TestFiguresFromThreeJobsOn(t *testing.T) {
	var p Pool
	for n, drained := range []string{"810", "830", "821"} {
		if r := p.Result(); len(r.Residual) > 0 && (r.Residual[0].Share != nil || r.Escape[0].ML != nil) {
			t.Errorf("%d jobs say %+v", n, r)
		}
		if err := add(&p, namedJob(t, n, "", drained, nil)); err != nil {
			t.Fatal(err)
		}
	}
	r := p.Result() // 90, 70, 79 of 900 ml stay; 40, 43, 46 ml are caught, each with its film
	if len(r.Residual) != 1 || len(r.Escape) != 1 || *r.Residual[0].Share != 0.0885 || *r.Residual[0].SD != 0.0111 ||
		math.Abs(*r.Escape[0].SDML-3) > 0.11 || fmt.Sprint(*r.Escape[0].SDML) != fmt.Sprintf("%.1f", *r.Escape[0].SDML) {
		t.Errorf("%g ± %g, ± %g ml", *r.Residual[0].Share, *r.Residual[0].SD, *r.Escape[0].SDML)
	}
}

func TestWhatAPoolSays(t *testing.T) {
	share, sd, ml, sdML := 0.0885, 0.0111, 45.25, 3.04
	for want, r := range map[string]Pooled{
		"1 job, 0 of them proven, 1 accepted as likely\n\n" +
			"STAYS INSIDE AT AN ORDINARY DRAIN, SHARE OF A DRY FILL\nunit  jobs  mean  scatter (sd)\n\n" +
			"SPILLED AT THE SWAP, BY RIG\nfiller  hose holds  jobs  mean  scatter (sd)\n\n" +
			"A figure is given from 3 jobs on.\n": {Jobs: 1, Accepted: 1},
		"5 jobs, 4 of them proven, 1 accepted as likely; 2 came again and are counted once\n\n" +
			"STAYS INSIDE AT AN ORDINARY DRAIN, SHARE OF A DRY FILL\n" +
			"unit         jobs  mean     scatter (sd)\nfinal drive  5     8.85 %   1.11 %\nother        2     too few  too few\n\n" +
			"SPILLED AT THE SWAP, BY RIG\n" +
			"filler     hose holds  jobs  mean     scatter (sd)\nhand pump  40 ml       5     45.2 ml  3.04 ml\n\n" +
			"KINDS OF UNIT, AS THEIR OWNERS NAME THEM\nkind          jobs\nk2 rear axle  5\n\n" +
			"A figure is given from 3 jobs on.\n": {
			Jobs: 5, Proven: 4, Accepted: 1, Again: 2,
			Residual: []PooledResidual{{"final_drive", 5, &share, &sd}, {"other", 2, nil, nil}},
			Escape:   []PooledEscape{{"hand_pump", 40, 5, &ml, &sdML}}, Kinds: []NamedKind{{"k2 rear axle", 5}},
		},
	} {
		var b strings.Builder
		err := r.WriteText(&b)
		if got := strings.ReplaceAll(b.String(), "\n  ", "\n"); err != nil || got != want {
			t.Errorf("%v:\n%s\nwant\n%s", err, got, want)
		}
	}
}
