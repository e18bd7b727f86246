package sheet

// This file holds every topic to its place: the sheet that it is on, in jobs of every
// path.

import (
	"maps"
	"slices"
	"strings"
	"testing"

	"garage/tundish/model/card"
	"garage/tundish/model/guide"
	"garage/tundish/model/job"
)

// path is a job: what is said in it beside what is usual, and which lines are answered
// that need not be.
type path struct {
	says map[job.Topic][]string // of the session the units that are still to come
	also []job.Topic
}

// paths are jobs that between them ask everything.
func paths() map[string]path {
	type is = map[job.Topic][]string
	level := []string{job.LevelPort.String()}
	air := []string{job.PressurisedVessel.String()}
	return map[string]path{
		"drain only":              {is{job.EscapedAmount: {"0"}}, nil},
		"another unit is to come": {is{job.Session: {"gearbox"}}, nil},
		"all that is worth knowing": {is{job.HoseHolds: {"6*1.5"}, job.HoseMore: {"another", "done"}, job.HoseBore: {"8"},
			job.HoseLength: {"1"}, job.OilKV40: {"150"}, job.OilKV100: {"15"}, job.ScaleDivision: {"1"}, job.ContainerWater: {"1000 g"},
			job.ContainerWaterReading: {"1000 ml"}, job.VesselWater: {"1000 g"}, job.VesselWaterReading: {"1000 ml"},
			job.TorqueFigure: {"35, manual"}, job.StrokeVolume: {"25 ml"}, job.BottlesOpened: {"2000 ml"},
			job.VesselWeighedFull: {"1700 g"}, job.EscapedMore: {"another", "done"}, job.LoadedMore: {"another", "done"}},
			[]job.Topic{job.HoseHolds, job.HoseMore, job.OilKV40, job.OilKV100, job.ScaleDivision, job.ContainerWater, job.VesselWater,
				job.TorqueFigure, job.StrokeVolume, job.BottlesOpened, job.VesselWeighedFull, job.EscapedMore, job.LoadedMore}},
		"far from a card": {is{job.Card: {"card1"}, job.CardLookedAgain: {job.CardBoth}}, []job.Topic{job.Card}},
		"second container": {is{job.ContainerMore: {"another", "done"}, job.ContainerName: {"", "can"}, job.DrainedMore: {"again", "done"},
			job.DrainedAmount: {"830 ml", "600 ml"}}, []job.Topic{job.ContainerMore, job.DrainedMore}},
		"scale only": {is{job.ScaleDivision: {"1"}, job.VesselGraduation: {guide.UnknownLine}},
			[]job.Topic{job.ScaleDivision, job.VesselGraduation}},
		"level port":               {is{job.FillPath: level}, nil},
		"level port, under air":    {is{job.FillPath: level, job.Filler: air, job.VesselRating: {"2 bar"}}, nil},
		"level and readings apart": {is{job.FillPath: level, job.LeftInVessel: {"600 ml"}}, nil},
		"under air":                {is{job.Filler: air, job.VesselRating: {"2 bar"}}, nil},
		"dry start":                {is{job.PriorLevel: {job.DryUnit}}, nil},
		"leaked before":            {is{job.PriorLevel: {job.PastLeaked.String()}}, nil},
		"hybrid":                   {is{job.DriveKind: {job.Hybrid.String()}}, nil},
		"top-up":                   {is{job.LoadedAmount: {"700 ml"}, job.LeftInVessel: {"10 ml"}, job.Decision: {"", "add"}}, nil},
		"drain-off": {is{job.LoadedAmount: {"1300 ml"}, job.LeftInVessel: {"10 ml"},
			job.Decision: {job.DecideLetOut.String()}}, nil},
		"leaks later":     {is{job.LeakCheck: {job.CheckWeeps}, job.LeakedHow: {job.EscapeCaught}}, nil},
		"leaks into pads": {is{job.LeakCheck: {job.CheckWeeps}, job.LeakedHow: {job.EscapePads}}, nil},
		"leaks much later": {is{job.LeakCheck: {job.CheckWeeps}, job.LeakedHow: {job.EscapeCaught}, job.LeakedAmount: {"250 ml"},
			job.ScaleDivision: {"1"}, job.Decision: {job.DecideAccept.String(), job.DecideAdd.String()}}, []job.Topic{job.ScaleDivision}},
		"level port, scale":  {is{job.FillPath: level, job.ScaleDivision: {"1"}}, []job.Topic{job.ScaleDivision}},
		"chips":              {is{job.MagnetLook: {job.MagnetChips.String()}, job.ChipsDecision: {job.ChipsStop}}, nil},
		"hot oil":            {is{job.OilTemperature: {"hot"}}, nil},
		"halted":             {is{job.FillHalted: {job.HaltLeaks}}, nil},
		"far too little":     {is{job.DrainedAmount: {"300 ml"}}, nil},
		"the pan says more":  {is{job.DripReading: {"950 ml"}, job.DrainedAmount: {"700 ml"}}, []job.Topic{job.DripReading}},
		"another unit's oil": {is{job.DrainedAmount: {"2500 ml"}}, nil},
		"readings that do not fit": {is{job.ScaleDivision: {"1"}, job.VesselWeighedFull: {"1700 g"},
			job.VesselWeighedAfter: {"1500 g"}}, []job.Topic{job.ScaleDivision, job.VesselWeighedFull}},
		"overflow tube": {is{job.FillPath: {job.OverflowTube.String()}, job.FirstCharge: {"600 ml"}, job.AddedRunning: {"150 ml"},
			job.OilRunning: {"30 C", "38 C"}, job.CarTilt: {"0.2"}, job.OverflowCaught: {"20 ml"}, job.OilSurface: {"300"},
			job.LipDistance:   {"80"},
			job.ScaleDivision: {"1"}},
			[]job.Topic{job.FirstCharge, job.AddedRunning, job.OilRunning, job.CarTilt, job.OilSurface, job.LipDistance,
				job.ScaleDivision}},
		"overflow tube, hybrid": {is{job.FillPath: {job.OverflowTube.String()}, job.DriveKind: {job.Hybrid.String()}}, nil},
		"dipstick":              {is{job.FillPath: {job.Dipstick.String()}}, nil},
		"quantity from above": {is{job.FillPath: {job.FillAbove.String()}, job.FillTorque: {"30"}, job.FillWasher: {"copper"}},
			[]job.Topic{job.FillTorque, job.FillWasher}},
		"below the lip":      {is{job.FillPath: level, job.LipBelow: {"0-5"}}, []job.Topic{job.LipBelow}},
		"rig of another oil": {is{job.RigLastOil: {job.RigIntoAutomatic}, job.RigLeft: {job.RigFull}}, []job.Topic{job.RigLastOil}},
		"drops counted":      {is{job.DropsCounted: {"12"}}, []job.Topic{job.DropsCounted}},
		"odd torque": {is{job.PlugThread: {"M18x1.5, hex 10, copper"}, job.TorqueFigure: {"180 Nm, manual"}},
			[]job.Topic{job.PlugThread, job.TorqueFigure}},
		"odd spill": {is{job.PlugThread: {"M18x1.5, hex 10, copper"}, job.PortOpenFor: {"1.5"}, job.EscapedAmount: {"20 ml"}},
			[]job.Topic{job.PlugThread, job.PortOpenFor}},
		"narrow hose": {is{job.HoseHolds: {"6*2"}, job.HoseAfter: {"pan"}}, nil},
		"left as it is": {is{job.LoadedAmount: {"600 ml"}, job.LeftInVessel: {"10 ml"},
			job.Decision: {job.DecideLeave.String()}}, nil},
	}
}

// others is a card with less than comes out in these jobs.
var others = card.Card{Name: "K2", Unit: "final_drive", Path: "drain_only", Jobs: 14,
	Out: card.Figure{Jobs: 14, Mean: 740, SD: 20}, Stays: &card.Figure{Jobs: 8, Mean: 60, SD: 15}}

// played goes through a job of a path and shows every sheet as it is before each answer.
func (p path) played(t testing.TB, name string, seen func(*guide.Guide, Sheet)) *honest {
	t.Helper()
	h := fitting("p1")
	h.also, h.seen, h.offers.ToCome = p.also, seen, p.says[job.Session]
	if _, taken := p.says[job.Card]; taken {
		h.offers.Cards = []card.Card{others}
	}
	for topic, lines := range p.says {
		h.says[topic] = slices.Clone(lines)
	}
	if err := h.finish(numIDs); err != nil {
		t.Errorf("%s: %v", name, err)
	}
	return h
}

// places are the sheets of the topics; left-over is read at the push of a level port, which
// has no cap.
var places = map[string]string{
	"prepare.1": "prepare.units prepare.vehicle prepare.unit prepare.kind prepare.drive prepare.fill_path prepare.capacity " +
		"prepare.capacity_means prepare.tolerance prepare.prior_level prepare.residual prepare.dry_start prepare.lost_or_added " +
		"prepare.club_kind prepare.card prepare.card_residual " +
		"isolate.makers_manual drain.oil_history prepare.makers_page prepare.level_window prepare.selector prepare.first_charge " +
		"prepare.stick_band prepare.stick_band_length prepare.lip_below prepare.lip_stands prepare.oil_surface prepare.lip_distance",
	"prepare.2": "prepare.oil_grade prepare.oil_density prepare.oil_kv40 prepare.oil_kv100 prepare.additive prepare.plug_thread " +
		"prepare.plug_key prepare.washer prepare.torque prepare.torque_source prepare.container prepare.container_graduation " +
		"prepare.container_error prepare.container_water prepare.container_water_reading prepare.container_more prepare.scale_division " +
		"prepare.filler prepare.vessel_graduation prepare.vessel_water prepare.vessel_water_reading prepare.vessel_rating " +
		"prepare.hose_bore prepare.hose_length prepare.hose_more prepare.hose_holds prepare.vessel_heel prepare.escape_expected " +
		"prepare.stroke_volume prepare.push_pressure prepare.rig_last_oil prepare.rig_left prepare.fill_torque prepare.fill_washer",
	"isolate": "isolate.electric_off isolate.ground_and_chocks isolate.stands_and_shake isolate.right_unit isolate.right_plug " +
		"isolate.breather_free isolate.way_in_proved drain.oil_temperature drain.temperature_how drain.gloves_and_eyes drain.tag_and_key",
	"drain":   "drain.plug_out drain.drip_reading drain.magnet drain.oil_look drain.drops",
	"measure": "measure.with measure.amount measure.temperature measure.more measure.basis_why",
	"preload": "preload.back_up preload.drain_plug_in preload.hose preload.plan preload.with preload.amount preload.temperature " +
		"preload.more preload.bottles_opened preload.vessel_weighed",
	"fill": "fill.adapter_in fill.breather_open fill.pressure_safe fill.oil_temperature fill.vessel_reading fill.strokes " +
		"fill.halted fill.air_in_line fill.level_weeps fill.level_below cap.pressure_off letout.with letout.amount " +
		"fill.exhaust_out fill.second_person",
	"level": "fill.engine_on fill.selector_moved fill.added_with fill.added_running fill.oil_running fill.tube fill.stick " +
		"fill.stick_back fill.level_at fill.engine_off",
	"fill level":     "fill.tilt fill.overflow fill.overflow_with",
	"fill level cap": "fill.left_with fill.left_in_vessel",
	"cap": "fill.vessel_weighed fill.bottles_left_with fill.bottles_left " +
		"fill.hose_after cap.capped cap.escaped_with cap.escaped",
	"seat": "seat.floor_and_exhaust seat.washer seat.plug_seated seat.breather_reopened seat.escaped_how seat.escaped " +
		"seat.escaped_more seat.tightened seat.port_open",
	"verdict": "close.decision close.left_why",
	"close": "prepare.odometer prepare.interval_distance prepare.interval_months close.wheels_turned close.tag_off close.next_unit " +
		"close.waste_oil close.waste_handed_in close.remark",
	"later": "close.leak_check close.washer_recheck close.washer_renewed close.leaked_how close.leaked_with close.leaked " +
		"close.leaked_pads_before close.leaked_pads_after",
	"stop": "prepare.torque_again prepare.rig_rinse seat.spill_again seat.hose_again " +
		"drain.chips_decision measure.trusted measure.wrong_box measure.looked_again measure.basis measure.pan_looked_again " +
		"measure.card_looked_again fill.mended seat.nothing_escaped close.balance_suspect close.level_looked_again",
}

// elsewhere are topics that no line of these sheets stands for.
var elsewhere = map[job.Topic]string{
	job.AtHand: "said by the sheet being complete", job.DripsEnded: "said by the sheet being complete",
	job.FillEnded: "said by how the push ended", job.RunEnded: "said by the level",
	job.HotOilGoOn:  "of a temperature that a thermometer told",
	job.StruckWhy:   "of a correction",
	job.EscapedWith: "the unit typed says it", job.PadsBefore: "of a spill measured another way", job.PadsAfter: "the same",
	job.ResumedStands: "the sheet of a break", job.ResumedTag: "the same", job.ResumedPlug: "the same", job.FromPaper: "the printed page",
	job.Session: "said as the units of a car are begun",
}

// Every topic is on the sheet that it belongs to and on no other, on one line, and what
// comes later in the flow is on no earlier sheet of its round.
func TestEveryTopicHasItsPlace(t *testing.T) {
	seen := map[job.Topic]map[ID]bool{}
	note := func(g *guide.Guide, s Sheet) {
		lines := map[job.Place]int{}
		for i, l := range s.Lines {
			if l.Kind == Moment || l.merged == nil &&
				mergedOf[l.prompts[0].Topic] != nil { // the same place, as another time or another way
				continue
			}
			for _, p := range l.prompts {
				if k, twice := lines[p.Place]; twice {
					t.Errorf("%v is on line %q and on %q", p.Place, s.Lines[k].Ask, l.Ask)
				}
				lines[p.Place] = i
			}
		}
		for _, l := range s.Lines {
			for _, p := range l.prompts {
				if seen[p.Topic] == nil {
					seen[p.Topic] = map[ID]bool{}
				}
				seen[p.Topic][s.ID] = true
			}
		}
	}
	for name, p := range paths() {
		inOrder(t, name, p.played(t, name, note))
	}
	for topic := job.Undo + 1; topic < job.NumTopics; topic++ {
		var ids []string
		for _, id := range slices.Sorted(maps.Keys(seen[topic])) {
			if id == Later {
				ids = append(ids, "later")
			} else {
				ids = append(ids, id.String())
			}
		}
		_, not := elsewhere[topic]
		if is := strings.Join(ids, " "); not != (is == "") || !not && !slices.Contains(strings.Fields(places[is]), topic.String()) {
			t.Errorf("%v is on sheet %q; elsewhere: %v", topic, is, not)
		}
	}
}

// inOrder holds the sheets of a whole job to the order of the flow: of each round none is
// gone back to but for a stop, and no question of the flow belongs to an earlier sheet
// than one before it.
func inOrder(t *testing.T, name string, h *honest) {
	t.Helper()
	last := map[int]ID{}
	for p := range h.guide().Prompts() {
		at := home(h.guide(), p)
		if at.ID == Close || at.ID == Later {
			continue // once a job, after the last round
		}
		if at.ID < last[at.Round] {
			t.Errorf("%s: %v, of %v, comes after %v", name, p.Place, at.ID, last[at.Round])
		}
		last[at.Round] = max(last[at.Round], at.ID)
	}
}
