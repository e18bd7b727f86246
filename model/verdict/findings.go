package verdict

// This file holds what a job has found out that the owner must know at a step:
// what is so, and what to do about it. The findings of each step stand in
// findings_steps.go. They follow from the entries like everything else.

import "garage/tundish/model/job"

// FindingKind says what a finding is of.
type FindingKind uint8

// The kinds of finding, in the order of the steps at which they matter.
const (
	MarksOff         FindingKind = iota // a container's marks are further off than claimed
	ToleranceWide                       // more than counts: only a part of it does
	VesselUnrated                       // air pressure in a vessel whose rating is not known
	PressureHigh                        // more air pressure than a push needs
	ChipsFound                          // metal on the magnet that stops the job
	FlakesFound                         // grains or small flakes: to be moved or tested only
	NeedlesFound                        // a few hairs
	BrassFound                          // metal that no magnet holds
	BurntOil                            // dark, burnt
	WaterIn                             // water in what came out
	ForeignOil                          // another unit's oil in what came out
	StoodOpen                           // the port was open for hours
	MeasuresApart                       // two measures of the same oil contradict each other
	WrongBoxDrained                     // far more came out than the unit can have held
	FarBelowStated                      // far less came out than belongs in
	FarAboveStated                      // far more came out than belongs in
	NeighbourOil                        // the surplus is the neighbour's
	OverfilledBefore                    // the surplus was there before
	LeakSuspected                       // oil was lost since the last fill
	BeyondProof                         // no fill, however well measured, can be proven
	LoadOffPlan                         // what is in the vessel is not what was planned
	AirEarly                            // air came before the end, oil stayed in the vessel
	PushedShort                         // the push ended before the plan was in
	AdapterLeaks                        // much got out round the adapter
	SpillDominates                      // a guess of what escaped is most of the doubt
	BalanceOff                          // readings of a round contradict each other
	LevelAgainstSums                    // the level says full, the sums say otherwise
	OldOilStays                         // some of the water or foreign oil is still inside
	BreatherShut                        // not noted as open again after the swap
	WasherUsedAgain                     // an old washer seals the plug
	TightenedByFeel                     // no torque figure was used
	PlugWeeps                           // found weeping after a drive
	LeftUndriveable                     // left so far off that it must not be driven
	DrainCold                           // the oil was drained cold
	DrainShort                          // measured before only slow drops came
	LookShort                           // looked again before oil and water had settled
	SettleShort                         // the level was seen before it had settled
	CapShort                            // uncapped before the bubbles had risen
	CheckShort                          // looked for leaks before one can show
	LevelEngineOff                      // oil ran with the engine off: no level
	LevelStillDry                       // far more in than came out, and nothing runs over
	LevelOutOfWindow                    // the level was set out of the maker's oil temperature
	StickUnsteady                       // both sides of the dipstick too far apart
	CarLeans                            // the car leans so far that the level tells little
	NumFindingKinds
)

var findingTokens = [NumFindingKinds]string{
	"marks_off", "tolerance_wide", "vessel_unrated", "pressure_high", "chips", "flakes", "hairs", "brass", "burnt", "water",
	"foreign_oil", "stood_open", "witnesses_apart",
	"wrong_box", "far_below", "far_above", "neighbour_oil", "overfilled_before", "leak_suspected", "beyond_proof",
	"load_off_plan", "air_early", "pushed_short", "adapter_leaks", "spill_dominates", "balance_off",
	"level_against_sums", "old_oil_stays", "breather_shut", "washer_used_again", "tightened_by_feel", "plug_weeps", "left_undriveable",
	"drain_cold", "drain_short", "look_short", "settle_short", "cap_short", "check_short",
	"level_engine_off", "level_still_dry", "level_out_of_window", "stick_unsteady", "car_leans",
}

// String is the kind's name.
func (k FindingKind) String() string { return job.TokenOf(findingTokens[:], k) }

// Finding is one thing that the owner must know.
type Finding struct {
	Kind  FindingKind
	Step  job.Step // where it matters first
	Round int      // 0 the first fill, 1… each correction
	ML    float64  // the amount that it is about, ml; 0 where it is about none
	Text  string   // what is so, one line
	Do    string   // what to do about it, one line
	Seq   int      // the entry to be read or answered again; 0 none
}

// Findings lists what a job has found out, in the order of its steps and
// rounds. What has been put right is not found any more.
func (s *Assessment) Findings() []Finding {
	f := found{Assessment: s}
	f.rigFindings()
	f.drainFindings()
	f.measureFindings()
	for round := range s.Rounds() {
		f.loadFindings(round)
		f.pushFindings(round)
		f.levelFindings(round)
		f.verdictFindings(round)
	}
	f.sealFindings()
	return append(f.list, s.CutShort()...)
}

// found collects what a job has found out, at a step of a round.
type found struct {
	*Assessment
	step  job.Step
	round int
	list  []Finding
}

// add notes a finding about an amount of ml; at is what is to be read or
// answered again.
func (s *found) add(kind FindingKind, ml float64, at job.Place, text, do string) {
	s.list = append(s.list, Finding{Kind: kind, Step: s.step, Round: s.round, ML: ml, Text: text, Do: do, Seq: s.SeqOf(at)})
}

// FindingsAt lists the findings that matter at a step of a round.
func (s *Assessment) FindingsAt(step job.Step, round int) []Finding {
	var list []Finding
	for _, f := range s.Findings() {
		if f.Step == step && f.Round == round {
			list = append(list, f)
		}
	}
	return list
}
