package stream

// This file makes what goes out: one object a line.

import (
	"encoding/json"
	"fmt"
	"strings"
	"time"

	"garage/tundish/model/car"
	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/report"
	"garage/tundish/model/sheet"
	"garage/tundish/model/verdict"
)

// out is one object; one of its members is set.
type out struct {
	Sheet   *sheetOut   `json:"sheet,omitempty"`
	Prompt  any         `json:"prompt,omitempty"` // a promptOut or a completeOut
	Taken   *takenOut   `json:"taken,omitempty"`
	Refused *refusedOut `json:"refused,omitempty"`
	Doubt   *doubtOut   `json:"doubt,omitempty"`
	Done    bool        `json:"done,omitempty"`
}

type sheetOut struct {
	ID    string    `json:"id"`
	N     int       `json:"n"`
	Of    int       `json:"of"`
	State string    `json:"state"`
	Car   string    `json:"car,omitempty"` // which other units of the car are open or to come
	Lines []lineOut `json:"lines"`
}

type lineOut struct {
	Topics []string `json:"topics"`
	Ask    string   `json:"ask"`
	Offer  *string  `json:"offer"`
	Folded bool     `json:"folded,omitempty"`
}

type promptOut struct {
	Topic     string      `json:"topic"`
	Topics    []string    `json:"topics"`
	Step      string      `json:"step"`
	Round     int         `json:"round"`
	Item      int         `json:"item"`
	Kind      string      `json:"kind"`
	Ask       string      `json:"ask"`
	Why       string      `json:"why"`
	Caution   bool        `json:"caution"`
	Key       string      `json:"key"`
	Options   []choiceOut `json:"options"`
	Offer     *string     `json:"offer"`
	UnknownOK bool        `json:"unknown_ok"`
}

// completeOut asks for the sheet to be said to be complete.
type completeOut struct {
	Kind   string   `json:"kind"`
	Topics []string `json:"topics"`
}

type choiceOut struct {
	Token string `json:"token"`
	Label string `json:"label"`
}

type takenOut struct {
	Topic string `json:"topic"`
	Seq   int    `json:"seq"`
}

type refusedOut struct {
	Topic string `json:"topic"`
	Why   string `json:"why"`
}

type doubtOut struct {
	Topic   string      `json:"topic"`
	Why     string      `json:"why"`
	Choices []choiceOut `json:"choices"`
}

// The kinds of prompt.
const (
	kindConfirm  = "confirm"
	kindChoice   = "choice"
	kindMoment   = "moment"
	kindComplete = "complete"
)

// readings are the kinds of what is typed.
var readings = map[job.Kind]string{job.Amount: "amount", job.Number: "number", job.Range: "range", job.Bounds: "bounds", job.Free: "text"}

// states are what is known of the oil in the unit.
var states = [verdict.NumUnitStates]string{
	verdict.AsFound: "as_found", verdict.Empty: "empty", verdict.Unproven: "not_proven", verdict.Proven: "filled",
	verdict.Accepted: "filled",
	verdict.LeftOff:  "left",
}

// stepTokens are the steps, as the ids of sheets call them.
var stepTokens = [job.NumSteps]string{"prepare", "isolate", "drain", "measure", "preload", "fill", "cap", "seat", "close"}

// step is the step that a sheet is of: of one that can come at any, where the job is.
func step(g *guide.Guide, s sheet.Sheet) job.Step {
	if st := s.ID.Step(); st < job.NumSteps {
		return st
	}
	return g.Step()
}

// sheetOf is a sheet as it begins.
func sheetOf(g *guide.Guide, s sheet.Sheet) *sheetOut {
	x := &sheetOut{ID: s.ID.String(), N: int(step(g, s)) + 1, Of: int(job.NumSteps), State: states[g.UnitState()], Car: car.Beside(g)}
	x.Lines = []lineOut{}
	for _, l := range s.Lines {
		x.Lines = append(x.Lines, lineOut{names(l.Topics()), l.Ask, offer(l), l.Folded})
	}
	return x
}

func names(topics []job.Topic) []string {
	list := make([]string, len(topics))
	for i, t := range topics {
		list[i] = t.String()
	}
	return list
}

// offer is what counts for a line as things stand; nil where it must be answered.
func offer(l sheet.Line) *string {
	if l.Standing == sheet.Open {
		return nil
	}
	v := l.Value
	if v == "" && l.Kind == sheet.Moment {
		v = l.At.UTC().Format(time.RFC3339)
	}
	return &v
}

// promptOf is the prompt of a line.
func promptOf(g *guide.Guide, s sheet.Sheet, l sheet.Line) promptOut {
	x := promptOut{
		Topic: l.Topic().String(), Topics: names(l.Topics()), Step: stepTokens[step(g, s)], Round: l.Place.Round, Item: l.Place.Item,
		Kind: kindOf(l), Ask: l.Ask, Why: l.Why, Caution: l.Safety && l.Kind == sheet.Confirm, Options: []choiceOut{}, Offer: offer(l),
		UnknownOK: l.Unknown || notLooked(l) != "",
	}
	if l.Kind == sheet.Confirm {
		x.Key = string(l.Key)
	}
	for _, o := range l.Options {
		x.Options = append(x.Options, choiceOut{token(o), strings.TrimSuffix(o.Label+" ("+o.Hint+")", " ()")})
	}
	return x
}

func kindOf(l sheet.Line) string {
	switch l.Kind {
	case sheet.Confirm:
		return kindConfirm
	case sheet.Choice:
		return kindChoice
	case sheet.Moment:
		return kindMoment
	}
	return readings[l.Topic().Info().Kind]
}

// token is what an option is called; a text at hand is its own name.
func token(o sheet.Option) string {
	if o.Token == "" {
		return o.Label
	}
	return o.Token
}

// notLooked is the token of the option of somebody who has not looked, "" none.
func notLooked(l sheet.Line) string {
	for _, o := range l.Options {
		if o.Token == job.NotLooked {
			return o.Token
		}
	}
	return ""
}

// figuresOut is what a job comes to as things stand.
type figuresOut struct {
	Figures  json.RawMessage `json:"figures"`
	Plan     planOut         `json:"plan"`
	Off      offOut          `json:"off"`
	Findings []string        `json:"findings"`
}

type planOut struct {
	Load   *float64 `json:"load_ml"`
	StopAt *float64 `json:"stop_at_ml"`
	Need   *float64 `json:"need_ml"`
	Low    *float64 `json:"low_ml"`
	High   *float64 `json:"high_ml"`
}

type offOut struct {
	ML  *float64 `json:"ml"`
	UML *float64 `json:"u_ml"`
}

func figuresOf(g *guide.Guide) (figuresOut, error) {
	figures, err := report.Figures(g)
	x := figuresOut{Figures: figures, Findings: []string{}}
	if err != nil {
		return x, fmt.Errorf("figures: %w", err)
	}
	round := g.Round()
	if whole, plan, err := g.PlansOf(round); err == nil {
		x.Plan = planOut{Load: report.Finite(plan.PreloadML), Need: report.Finite(whole.Target.Nominal),
			Low: report.Finite(whole.Low), High: report.Finite(whole.High)}
		if ml, ok := g.StopMarkML(round); ok && g.Pushes(round) {
			x.Plan.StopAt = report.Finite(ml)
		}
	}
	if v, ok := g.Judged(); ok {
		if a := report.AmountOf(v.Error); a != nil {
			x.Off = offOut{&a.ML, &a.UML}
		}
	}
	for _, f := range g.Findings() {
		x.Findings = append(x.Findings, strings.TrimSpace(f.Text+" "+f.Do))
	}
	return x, nil
}
