package paper

import (
	"os"
	"testing"
	"time"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
)

// prepared is a first job up to where the car goes up.
func prepared() *guide.Guide {
	at := time.Date(2026, 4, 18, 9, 0, 0, 0, time.UTC)
	entries := []job.Entry{
		{Topic: job.Vehicle, Value: job.Value{Text: "blue hatch"}},
		{Topic: job.UnitKind, Value: job.Value{Choice: "final_drive"}},
		{Topic: job.UnitName, Value: job.Value{Text: "rear axle"}},
		{Topic: job.DriveKind, Value: job.Value{Choice: "combustion"}},
		{Topic: job.FillPath, Value: job.Value{Choice: "drain_only"}},
		{Topic: job.Capacity, Value: job.Value{Number: 600, High: 680, Unit: job.DimML}},
		{Topic: job.CapacityMeans, Value: job.Value{Choice: "refill"}},
		{Topic: job.DryStart, Value: job.Value{Choice: "holds_oil"}},
		{Topic: job.PriorLevel, Value: job.Value{Choice: "believed"}},
		{Topic: job.OilHistory, Value: job.Value{Choice: "undisturbed"}},
		{Topic: job.Filler, Value: job.Value{Choice: "hand_pump"}},
		{Topic: job.HoseHolds, Value: job.Value{Number: 25, Unit: job.DimML}},
		{Topic: job.VesselGraduation, Value: job.Value{Number: 10, Unit: job.DimML}},
		{Topic: job.ContainerName, Value: job.Value{Text: "jug"}},
		{Topic: job.ContainerGraduation, Value: job.Value{Number: 10, Unit: job.DimML}},
		{Topic: job.AtHand},
	}
	for i := range entries {
		entries[i].Seq, entries[i].At = i+1, at
	}
	return guide.Fold(job.Job{ID: "b7k2", Started: at, Entries: entries}, guide.Offers{})
}

func TestShow(t *testing.T) {
	g := prepared()
	Write(os.Stdout, false, g, g.Updated)
}
