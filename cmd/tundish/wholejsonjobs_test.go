//go:build unix

package main

// This file does whole jobs with the real program over guide --json: both ways in, each
// kind of round, and what goes wrong on the way.

import (
	"math"
	"os"
	"strings"
	"testing"
	"time"
)

// with are answers, some of them others.
func with(answers map[string][]string, others map[string][]string) map[string][]string {
	for topic, list := range others {
		answers[topic] = list
	}
	return answers
}

// passes holds a job to sheets in this order, others between.
func passes(t *testing.T, sheets []string, want string) {
	t.Helper()
	at := 0
	for _, id := range strings.Fields(want) {
		for at < len(sheets) && sheets[at] != id {
			at++
		}
		if at == len(sheets) {
			t.Errorf("no sheet %s in its place: %v", id, sheets)
		}
	}
}

func TestWholeJobs(t *testing.T) {
	one := func(s string) []string { return []string{s} }
	for _, c := range []struct {
		name    string
		answers map[string][]string
		state   string   // of the unit in the end
		netML   float64  // what went in, as poured in less left over, hose and spilled; computed by hand
		passes  string   // sheets in this order, others between
		never   []string // topics that must not be asked
	}{
		{"drain only", drainOnly(), "accepted", 730 - 22 - 25 - 46,
			"prepare.1 prepare.2 prepare.3 isolate drain measure preload fill cap seat verdict close", nil},
		{"level port", levelPortJob(), "proven", 730 - 95, "isolate drain measure preload fill seat verdict close",
			[]string{"cap.capped", "fill.adapter_in"}},
		{"level port under air", with(levelPortJob(), map[string][]string{"prepare.filler": one("pressurised"),
			"prepare.vessel_rating": one("2 bar"), "prepare.hose_holds": one("25")}),
			"proven", 0, "fill seat", []string{"cap.capped"}},
		{"hybrid", with(drainOnly(), map[string][]string{"prepare.drive": one("hybrid")}), "accepted", 637, "isolate drain", nil},
		{"dry start", with(drainOnly(), map[string][]string{
			"prepare.prior_level": one("dry"), "prepare.capacity_means": one("dry"), "preload.amount": one("740"),
			"fill.left_in_vessel": one("29"),
		}), "", 740 - 29 - 25 - 46, "isolate preload fill cap seat verdict", []string{"measure.amount", "drain.magnet"}},
		{"top-up round", with(drainOnly(), map[string][]string{
			"preload.amount": {"600", "160"}, "fill.left_in_vessel": {"22", "0"}, "seat.escaped": {"46", "20"},
			"close.decision": {"add", "accept"},
		}), "", 600 - 22 - 25 - 46 + 160 - 25 - 20, "verdict preload fill cap seat verdict close", nil},
		{"drain-off round", with(drainOnly(), map[string][]string{
			"preload.amount": {"850"}, "fill.left_in_vessel": {"22"}, "close.decision": {"let_out", "accept"}, "letout.amount": one("120"),
		}), "", 850 - 22 - 25 - 46 - 120, "verdict fill seat verdict close", nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			j := startJSON(t, storePath(t), c.answers)
			first := j.Prompt
			asked := []string{first.Topic}
			for !j.Done {
				j.Step()
				asked = append(asked, j.Prompt.Topic)
			}
			j.done()
			f := j.figures()
			if c.state != "" && f.UnitState != c.state || c.state == "" && f.UnitState != "accepted" && f.UnitState != "proven" {
				t.Errorf("the unit is %s, want %s", f.UnitState, c.state)
			}
			if c.netML != 0 && math.Abs(f.NetFill.ML-c.netML) > 3 { // at 20 °C, as it was poured in
				t.Errorf("%.1f ml went in, want %.0f", f.NetFill.ML, c.netML)
			}
			passes(t, j.Sheets, c.passes)
			for _, topic := range c.never {
				if strings.Contains(strings.Join(asked, " ")+" ", topic+" ") {
					t.Errorf("%s is asked", topic)
				}
			}
			if t.Failed() {
				t.Log(j.Tail())
			}
		})
	}
}

// On a hybrid the first line under the car is high voltage.
func TestHighVoltageComesFirst(t *testing.T) {
	t.Parallel()
	j := startJSON(t, storePath(t), with(drainOnly(), map[string][]string{"prepare.drive": {"electric"}}))
	j.Upto("isolate")
	if p := j.Prompt; p.Topic != "isolate.electric_off" || !p.Caution {
		t.Errorf("first is %s", p.Topic)
	}
}

// A reading that does not fit is settled on a sheet of its own, corrected, undone: the
// old one is kept, struck out.
func TestStopUndoAndCorrect(t *testing.T) {
	t.Parallel()
	j := startJSON(t, storePath(t), with(drainOnly(), map[string][]string{"measure.amount": {"250", "588"}}))
	j.Upto("stop")
	if j.Sheet.State != "empty" || j.Prompt.Offer != nil {
		t.Errorf("%+v", j.Sheet)
	}
	j.Send(map[string]any{"choose": j.Prompt.Options[0].Token})
	j.Upto("preload.amount")
	for _, m := range []map[string]any{{"correct": "prepare.hose_holds", "answer": "30"}, {"undo": true}} {
		if out := j.Send(m); out[0].Member != "taken" {
			t.Fatalf("%v: %+v", m, out)
		}
	}
	j.Upto("")
	j.done()
	struck := map[string]int{}
	for _, e := range j.entries() {
		if e.Strikes > 0 {
			struck[e.Topic]++
		}
	}
	if struck["measure.amount"] != 1 || struck["prepare.hose_holds"] != 1 || struck["undo"] != 1 {
		t.Errorf("struck out: %v", struck)
	}
	if f := j.figures(); math.Abs(f.NetFill.ML-637) > 3 {
		t.Errorf("%.1f ml went in", f.NetFill.ML)
	}
}

// Killed after every line, the program comes back with all that it took, at the sheet
// where it was, after the questions of a break.
func TestKilledBetweenLines(t *testing.T) {
	t.Parallel()
	j := startJSON(t, storePath(t), drainOnly())
	answers, seq := j.Answers, 0
	lines, kills, every := 0, 0, 3 // after each third line; of a long run after each
	if os.Getenv("TUNDISH_LONG") != "" {
		every = 1
	}
	for !j.Done {
		for _, o := range j.Send(j.Reply()) {
			if o.Member == "refused" {
				t.Fatalf("%s\n%s", o.Raw, j.Tail())
			}
			seq = max(seq, o.Taken.Seq)
		}
		if j.Done {
			break
		}
		if lines++; lines%every != 0 {
			continue
		}
		sheet, topic := j.Sheet.ID, j.Prompt.Topic
		_ = j.cmd.Process.Kill()
		_ = j.cmd.Wait()
		if seq == 0 {
			continue
		}
		kills++
		j.again(answers, "--job", "last")
		for j.Sheet.ID == "resume" {
			for _, o := range j.Send(j.Reply()) {
				seq = max(seq, o.Taken.Seq)
			}
		}
		if topic != "" && (j.Sheet.ID != sheet || j.Prompt.Topic != topic) { // a sheet without offers is complete once all is answered
			t.Errorf("back at %s, %s; was at %s, %s", j.Sheet.ID, j.Prompt.Topic, sheet, topic)
		}
	}
	if list := j.entries(); len(list) != seq || kills < 10 {
		t.Errorf("%d entries, %d were taken; %d kills", len(list), seq, kills)
	}
}

// A job of last year is told as of then.
func TestJobOfThePast(t *testing.T) {
	t.Parallel()
	j := &jsonJob{t: t, store: storePath(t), now: time.Now().AddDate(-1, 0, 0).Truncate(time.Second)}
	begun := j.now
	j.again(drainOnly())
	j.Upto("")
	j.done()
	list := j.entries()
	if first := list[0].At; first.Before(begun) || first.After(begun.Add(time.Hour)) {
		t.Errorf("the first entry is of %v, want about %v", first, begun)
	}
	for i := range list[1:] {
		if list[i+1].At.Before(list[i].At) {
			t.Fatalf("entry %d is older than the one before", i+2)
		}
	}
	var jobs []struct{ Started time.Time }
	if j.read(&jobs, "jobs", "--json"); len(jobs) != 1 || !jobs[0].Started.Equal(list[0].At) {
		t.Errorf("jobs: %+v", jobs)
	}
}

// Without --job it must be said which of two open jobs is meant.
func TestWhichJob(t *testing.T) {
	t.Parallel()
	j := startJSON(t, storePath(t), drainOnly())
	j.Upto("isolate")
	j.leave()
	j.again(with(drainOnly(), map[string][]string{"prepare.kind": {"front axle"}}), "--job", "new")
	j.Upto("prepare.2")
	j.leave()
	j.again(drainOnly(), "--job", "last")
	if j.Sheet.ID != "prepare.2" {
		t.Errorf("--job last is at %s", j.Sheet.ID)
	}
	j.leave()
	if code, _, says := runHere(t, nil, "guide", "--json", "--store", j.store); code != exitFailed || !strings.Contains(says,
		"say which with --job") {
		t.Errorf("exit %d: %s", code, says)
	}
	if code, _, _ := runHere(t, nil, "guide", "--json", "--job", "nosuch", "--store", j.store); code != exitFailed {
		t.Errorf("exit %d", code)
	}
}
