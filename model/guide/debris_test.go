package guide

// This file checks what magnet and look of the oil lead to: cases of the trade, worked there.

import (
	"strings"
	"testing"
	"time"

	"garage/tundish/model/job"
	"garage/tundish/model/verdict"
)

// Cases I1 to I5: paste goes on, hairs are looked at again, flakes are moved or tested only, chunks alone stop the job.
func TestCaseDebrisGrades(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		name, magnet string
		grade        verdict.Debris
		kind         verdict.FindingKind
		drives       bool
	}{
		{"I1", "paste", verdict.Paste, verdict.NumFindingKinds, true},
		{"I2", "hairs", verdict.Needles, verdict.NeedlesFound, true},
		{"I3", "flakes", verdict.Flakes, verdict.FlakesFound, true},
		{"I4, I5", "chips", verdict.Chunks, verdict.ChipsFound, false},
		{"clean", "clean", verdict.NoDebris, verdict.NumFindingKinds, true},
		{"not looked", job.NotLooked, verdict.NoDebris, verdict.NumFindingKinds, true},
	} {
		s := newDrive(t, small.with(script{job.MagnetLook: {row.magnet}, job.ChipsDecision: {job.ChipsStop}})).until(job.NoTopic)
		if s.Debris() != row.grade || s.MayDrive() != row.drives || s.StoppedByOwner() == row.drives {
			t.Errorf("%s: grade %d, drives %v, stopped %v", row.name, s.Debris(), s.MayDrive(), s.StoppedByOwner())
		}
		if row.kind != verdict.NumFindingKinds {
			found(t, s, row.kind)
		}
	}
}

// The same grade in half the distance is one worse; flakes a second time are opened, whatever the distance.
func TestCaseDebrisTrend(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		name, before, now string
		km                []string // odometer at three jobs, "" not noted
		want              verdict.Debris
	}{
		{"half the distance", "hairs", "hairs", []string{"60000", "90000", "104000"}, verdict.Flakes},
		{"nearly as far", "hairs", "hairs", []string{"60000", "90000", "112000"}, verdict.Needles},
		{"paste", "paste", "paste", []string{"60000", "90000", "105000"}, verdict.Needles},
		{"less than before", "flakes", "hairs", []string{"60000", "90000", "100000"}, verdict.Needles},
		{"flakes again", "flakes", "flakes", []string{"", "", ""}, verdict.Chunks},
		{"clean twice", "clean", "clean", []string{"60000", "90000", "95000"}, verdict.NoDebris},
		{"nobody noted how far", "hairs", "hairs", []string{"", "", ""}, verdict.Needles},
	} {
		var before *Guide
		for i, magnet := range []string{"clean", row.before, row.now} {
			lines := small.with(script{job.MagnetLook: {magnet}, job.ChipsDecision: {job.ChipsStop}})
			if row.km[i] != "" {
				lines = lines.with(script{job.Odometer: {row.km[i]}})
			}
			d := newDrive(t, lines)
			begins := start.AddDate(i, 0, 0)
			d.job.ID, d.job.Started, d.at, d.offers = job.NewID(begins, 7), begins, begins.Add(time.Minute), Offers{Before: before}
			before = d.until(job.NoTopic)
		}
		if got := before.Debris(); got != row.want || before.DebrisWorse() != (row.want > grades[row.now]) {
			t.Errorf("%s: grade %d, want %d; worse %v", row.name, got, row.want, before.DebrisWorse())
		}
	}
}

var grades = map[string]verdict.Debris{"paste": verdict.Paste, "hairs": verdict.Needles, "flakes": verdict.Flakes}

// Case I6: a clean magnet and brass in the oil of a gearbox is not clean.
func TestCaseBrassThatNoMagnetHolds(t *testing.T) {
	t.Parallel()
	lines := small.with(script{job.UnitKind: {"gearbox"}, job.MagnetLook: {"clean"}, job.OilLook: {"glitter"}})
	s := newDrive(t, lines).until(job.Decision)
	f := found(t, s, verdict.BrassFound)
	if !strings.Contains(f.Text, "synchro") || !strings.Contains(f.Do, "Not clean") || s.DrainedVoid() {
		t.Errorf("%q %q, void %v", f.Text, f.Do, s.DrainedVoid())
	}
}

// Case I7: 640 of 600, milky: water. The aim stays by the manual, and what comes out says nothing; the flush is said.
func TestCaseWaterStaysOutOfTheAim(t *testing.T) {
	t.Parallel()
	s := newDrive(t, small.with(script{job.CapacityMeans: {"refill"}, job.DrainedAmount: {"640"},
		job.OilLook: {"milky"}})).until(job.PlanAccepted)
	plan, err := s.Plan(0)
	if err != nil || !plan.DrainedVoid {
		t.Fatalf("%+v, %v", plan, err)
	}
	near(t, "aim", plan.Target.Nominal, 600, 1)
	if f := found(t, s, verdict.WaterIn); !strings.Contains(f.Do, "Flush") || !strings.Contains(f.Do, "Breather first. Flush") {
		t.Errorf("%q", f.Do)
	}
}

// Burnt oil is said to be; its amount still tells.
func TestCaseBurntOil(t *testing.T) {
	t.Parallel()
	s := newDrive(t, small.with(script{job.OilLook: {"dark"}})).until(job.Decision)
	if f := found(t, s, verdict.BurntOil); s.DrainedVoid() || !strings.Contains(f.Text, "overload") {
		t.Errorf("%+v", f)
	}
}
