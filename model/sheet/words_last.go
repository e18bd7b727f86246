package sheet

// This file says how a unit was left at its last oil change, and what that makes of
// this one; and what a load is made of.

import (
	"fmt"
	"math"
	"strings"

	"garage/tundish/model/estimate"
	"garage/tundish/model/guide"
	"garage/tundish/model/job"
)

// lastTimeWords are for a unit that an earlier job knows all of.
func lastTimeWords(s Sheet) Words {
	g := s.live
	w := Words{Next: "ISOLATE. A few lines, then the plug comes out."}
	last := g.Before()
	if last == nil {
		w.Intro = some("AS LAST TIME? Only what has changed is typed.")
		return w
	}
	w.Intro = some("AS LAST TIME (" + last.Started.Local().Format("2 Jan 2006") + ")? Only what has changed is typed.")
	u := g.Units()
	r := last.Round()
	w.Notes = some("AS IT WAS  "+s.facts(), fmt.Sprintf("LAST TIME  out %s, poured in %s, left %s, spilled %s, went in %s",
		u.BareVolume(last.Drained().Total.Nominal), u.BareVolume(last.Loaded(r).Nominal), u.BareVolume(last.Left(r).Nominal),
		u.BareVolume(last.Escaped(r).Nominal), u.FormatVolume(last.NetFill(r).Nominal)))
	if out, ok := g.ExpectedOut(); ok {
		half := estimate.Coverage * out.U()
		w.Notes = append(w.Notes, fmt.Sprintf("SO TODAY  %s should come out (%s to %s). Less: it was lost. "+
			"More: water, or another unit's oil.",
			u.FormatVolume(out.Nominal), u.BareVolume(max(out.Nominal-half, 0)), u.FormatVolume(out.Nominal+half)))
	}
	if remark := last.Text(job.Remark); remark != "" {
		w.Notes = append(w.Notes, "LAST REMARK  "+remark)
	}
	rig := "NEW washer and a spare, adapter, cap, pan and pads"
	if g.Path().PouredIn() {
		rig = "a NEW washer for each plug, pan"
	}
	w.Notes = append(w.Notes, "HAVE  "+u.FormatVolume(g.OilToBuyML())+" of oil, "+rig+", gloves, tag")
	return w
}

// facts are the answers of the earlier job that tell most, in a line.
func (s Sheet) facts() string {
	var list []string
	for _, t := range []job.Topic{job.Capacity, job.CapacityMeans, job.FillPath, job.OilGrade, job.PlugThread, job.TorqueFigure, job.Filler,
		job.VesselRating, job.HoseHolds, job.HoseBore, job.ContainerGraduation} {
		for _, l := range s.Lines {
			e, told := s.live.Answer(job.Place{Topic: t})
			if told && !e.Value.Unknown && l.lead().Topic == t {
				list = append(list, l.Value)
			}
		}
	}
	return strings.Join(list, " · ")
}

// stopMark is where the push ends, as it is read at the vessel.
func stopMark(g *guide.Guide, round int) (caption, figure string) {
	if _, marks := g.Num(job.Place{Topic: job.VesselGraduation}); !marks {
		if grams, ok := g.StopMassG(round); ok {
			return "STOP WHEN THE VESSEL WEIGHS", g.Units().FormatMass(grams)
		}
		return "STOP WHEN AIR COMES", "AIR"
	}
	ml, ok := g.StopMarkML(round)
	if !ok {
		return "", ""
	}
	if ml < 0.5 {
		return "STOP WHEN THE VESSEL READS", "0 " + g.Units().Volume.String()
	}
	return "STOP WHEN THE VESSEL READS", g.Units().FormatVolume(ml)
}

// loadTerms are what is poured into the vessel, term by term.
func loadTerms(g *guide.Guide, round int) string {
	plan, err := g.Plan(round)
	if err != nil {
		return ""
	}
	u := g.Units()
	terms := []string{u.BareVolume(plan.Target.Nominal) + " for the unit"}
	add := func(ml float64, what string) {
		if u.BareVolume(ml) != "0" {
			terms = append(terms, u.BareVolume(ml)+" "+what)
		}
	}
	add(plan.SurplusML, "so that it weeps")
	add(plan.HoseTakes.Nominal, "stays in the hose")
	add(plan.Escape.Nominal, "spills")
	add(plan.Heel.Nominal, "stays below the vessel's tube")
	return strings.Join(terms, " + ")
}

// movesAim says what the reading of what came out changes.
func movesAim(g *guide.Guide) string {
	plan, err := g.Plan(0)
	switch {
	case err != nil || plan.Undecided:
		return ""
	case plan.DrainedVoid:
		return "What came out proves nothing here: the aim goes by the manual."
	}
	by := plan.Target.Nominal - plan.FromCapacity.Nominal
	if math.Abs(by) < 0.5 {
		return ""
	}
	return "What came out moves the aim by " + signed(g, by) + "."
}

func signed(g *guide.Guide, ml float64) string {
	if ml < 0 {
		return "−" + g.Units().FormatVolume(-ml)
	}
	return g.Units().FormatVolume(ml)
}
