package main

import (
	"os"
	"path/filepath"
	"testing"

	"garage/tundish/cmd/tundish/internal/look"
	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/tui"
)

// What the settings say is on offer in the first job of a garage; what an earlier job
// says comes before it.
func TestGuideOffersTheUnitsOfTheSettings(t *testing.T) {
	j := openJournal(t)
	at := job.Place{Topic: job.DisplayUnits}
	offers, err := offering{j, "us"}.Offers(job.Job{ID: "new", Started: noon})
	if err != nil || offers.Answers[at].Choice != "us" {
		t.Errorf("%v, %v", offers.Answers[at], err)
	}
	first := keep(t, j, noon, "van", "rear axle", job.NoTopic)
	said := job.Entry{Seq: len(first.Entries) + 1, At: noon, Topic: job.DisplayUnits, Value: job.Value{Choice: "imperial"}}
	first.Entries = append(first.Entries, said)
	if err := j.Append(first.ID, headOf(first), said); err != nil {
		t.Fatal(err)
	}
	second := keep(t, j, noon.AddDate(1, 0, 0), "van", "rear axle", job.Capacity)
	if offers, err := (offering{j, "us"}).Offers(second); err != nil || offers.Answers[at].Choice != "imperial" {
		t.Errorf("%v, %v", offers.Answers[at], err)
	}
}

// Settings say where records go, whether it rings and what the background is; a flag
// comes before them.
func TestGuideIsAsTheSettingsSay(t *testing.T) {
	j, folder := openJournal(t), t.TempDir()
	o := &outside{getenv: func(name string) string { return map[string]string{"XDG_CONFIG_HOME": folder}[name] }, out: os.Stdout}
	f, cfg := configured(look.Flags{Background: "auto"}, o, j.Store, tui.Config{})
	if f.Background != "auto" || cfg.Bell == nil || cfg.Folder != filepath.Join(filepath.Dir(j.Store.Path()), "records") {
		t.Errorf("without settings: %q, %v, %q", f.Background, cfg.Bell, cfg.Folder)
	}
	if err := os.MkdirAll(folder+"/tundish", 0o700); err != nil {
		t.Fatal(err)
	}
	put(t, folder+"/tundish/config", "background = light\nbell = off\nrecords = /kept\n")
	f, cfg = configured(look.Flags{Background: "auto"}, o, j.Store, tui.Config{})
	if f.Background != "light" || cfg.Bell != nil || cfg.Folder != "/kept" {
		t.Errorf("with settings: %q, %v, %q", f.Background, cfg.Bell, cfg.Folder)
	}
	f, cfg = configured(look.Flags{Background: "dark", Bell: new(true)}, o, j.Store, tui.Config{Folder: "."})
	if f.Background != "dark" || cfg.Bell == nil || cfg.Folder != "." {
		t.Errorf("with flags: %q, %v, %q", f.Background, cfg.Bell, cfg.Folder)
	}
}

// A job that is past its first step stays where it is, whatever the settings offer.
func TestSettingsDoNotTakeAJobBackToItsFirstStep(t *testing.T) {
	var begun, past guide.Offers
	storeOf(t, func(j storeJournal) {
		for stop, into := range map[job.Topic]*guide.Offers{job.Capacity: &begun, job.DrainedAmount: &past} {
			var err error
			if *into, err = (offering{j, job.UnitsUS}).Offers(keep(t, j, noon.AddDate(0, int(stop), 0), stop.String(), stop.String(),
				stop)); err != nil {
				t.Fatal(err)
			}
		}
	})
	at := job.Place{Topic: job.DisplayUnits}
	if begun.Answers[at].Choice != job.UnitsUS || past.Answers[at].Choice == job.UnitsUS {
		t.Errorf("offered %v to a job that is begun, %v to one past its plug", begun.Answers[at], past.Answers[at])
	}
}
