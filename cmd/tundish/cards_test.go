//go:build unix

package main

// This file makes a unit card of the jobs of six owners with the real program, and does
// the first job of a seventh with it.

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"garage/tundish/cmd/tundish/internal/cards"
	"garage/tundish/model/card"
	"garage/tundish/store"
)

// sharedBy is the shared copy of the job of an owner, of whose unit so much came out.
func sharedBy(t *testing.T, folder string, n int, out string) string {
	t.Helper()
	j := startJSON(t, filepath.Join(t.TempDir(), "jobs.db"), with(drainOnly(), map[string][]string{
		"prepare.vehicle": {fmt.Sprintf("Wanda Ferrow's KX-7%d", n)}, "measure.amount": {out}}))
	j.Upto("prepare.1")
	j.Send(map[string]any{"topic": "prepare.vehicle", "answer": fmt.Sprintf("Wanda Ferrow's KX-7%d", n)})
	j.Send(map[string]any{"topic": "prepare.club_kind", "answer": fmt.Sprintf("K2 rear axle (KX-7%d of Wanda)", n)})
	j.Upto("close")
	path := filepath.Join(folder, fmt.Sprintf("shared-%d.json", n))
	j.prints("summary", "last", "--format", "json", "--share", "--kind", "-o", path)
	j.leave()
	return path
}

func TestCardOfSixOwners(t *testing.T) {
	t.Parallel()
	folder := t.TempDir()
	var files []string
	for n, out := range []string{"588", "575", "600", "592", "581", "595"} {
		files = append(files, sharedBy(t, folder, n, out))
	}
	path := filepath.Join(folder, "k2.json")
	j := startJSON(t, storePath(t), with(drainOnly(), map[string][]string{
		"prepare.capacity_means": {"unknown"}, "preload.amount": {"695"}}))
	j.prints(append([]string{"pool", "--card", path, "--kind", "k2 rear axle of"}, files...)...)
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"wanda", "ferrow", "kx"} {
		if strings.Contains(strings.ToLower(string(text)), name) {
			t.Errorf("%q stands on the card:\n%s", name, text)
		}
	}
	c, err := card.Read(strings.NewReader(string(text)))
	if err != nil || c.Jobs != 6 || math.Abs(c.Out.Mean-588.5) > 15 || c.In == nil || c.Drain == nil || len(c.Spill) != 1 {
		t.Fatalf("%+v, %v", c, err)
	}
	for i, want := range []string{": added: card ", ": nothing new: card "} {
		if out := string(j.prints("import", path)); !strings.Contains(out, want) {
			t.Errorf("import %d: %q", i+1, out)
		}
	}
	j.leave()
	takesTheCard(t, j, c)
}

// takesTheCard does the first job of an owner who has a card.
func takesTheCard(t *testing.T, j *jsonJob, c card.Card) {
	t.Helper()
	j = j.again(j.Answers, "--job", "new")
	for j.Prompt.Kind != "complete" {
		j.Step()
	}
	if out := j.Send(map[string]any{"topic": "prepare.card", "answer": "card1"}); out[0].Member != "taken" {
		t.Fatalf("the card is not taken: %s", out[0].Raw)
	}
	var plan struct {
		Plan struct {
			Need float64 `json:"need_ml"`
		}
	}
	if err := json.Unmarshal([]byte(j.Ask().Raw), &plan); err != nil {
		t.Fatal(err)
	}
	if ml := plan.Plan.Need; math.Abs(ml-c.Out.Mean) > 25 { // the figure, 640 or 640 less what stays inside, 51: 615 ± 40 by itself
		t.Errorf("needed are %.0f ml, with a card of %.1f\n%s", ml, c.Out.Mean, j.Tail())
	}
	j.Upto("close")
	record := string(j.prints("summary", "last", "--format", "txt"))
	for _, want := range []string{"Others measured", "6 jobs", "what others measured"} {
		if !strings.Contains(record, want) {
			t.Errorf("the record does not say %q:\n%s", want, record)
		}
	}
	j.leave()
}

// A card that cannot be one changes nothing, whatever comes with it.
func TestBadCardsChangeNothing(t *testing.T) {
	o := inFolder(t)
	good := card.Card{Name: "K2", Unit: "final_drive", Path: "drain_only", Jobs: 3, Out: card.Figure{Jobs: 3, Mean: 548, SD: 9}}
	var b strings.Builder
	if err := card.Write(&b, good); err != nil {
		t.Fatal(err)
	}
	put(t, "good.json", b.String())
	for from, to := range map[string]string{`"jobs": 3`: `"jobs": 1`, "548": "-548", `"K2"`: `"\u001b[2J"`, "9": "1e999"} {
		put(t, "bad.json", strings.ReplaceAll(b.String(), from, to))
		code, out, errs := runHere(t, nil, "import", "--store", "jobs.db", "good.json", "bad.json")
		if code != exitFailed || out != "" || !strings.HasPrefix(errs, "tundish: bad.json: not taken: ") || strings.Contains(errs, "\x1b") {
			t.Errorf("%s: %d %q %q", to, code, out, errs)
		}
	}
	if list := cards.In(store.CardsBeside(o.storeFlag)); len(list) != 0 {
		t.Errorf("cards are kept: %+v", list)
	}
	if code, out, errs := runHere(t, nil, "import", "--store", "jobs.db", "good.json"); code != exitDone || errs != "" {
		t.Errorf("%d %q %q", code, out, errs)
	}
	put(t, filepath.Join("cards", "card-damaged.json"), "{")
	if list := cards.In(store.CardsBeside(o.storeFlag)); len(list) != 1 || list[0].Name != "K2" {
		t.Errorf("beside a damaged one: %+v", list)
	}
	for _, args := range [][]string{
		{"pool", "--card", "x.json", "good.json"}, {"pool", "--kind", "K2", "good.json"}, {"summary", "last", "--kind"},
	} {
		if code, _, errs := runHere(t, nil, args...); code != exitUsage {
			t.Errorf("%v: %d %q", args, code, errs)
		}
	}
}
