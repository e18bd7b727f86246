package model

// This file lists what only a person at the car can tell: what was seen, felt,
// caught or read there. Nothing of it is on offer, neither the usual answer nor
// that of an earlier job, so that Enter alone never notes what nobody looked at.

// observed are the topics of it. A typed answer says where nobody looked.
var observed = map[Topic]bool{
	OilTemperature: true, TemperatureHow: true, MagnetLook: true, OilLook: true, OilHistory: true,
	DrainedAmount: true, DrainedTemperature: true, LookedAgain: true, PanLookedAgain: true,
	HoseBefore: true, LoadedAmount: true, LoadedTemperature: true,
	FillOilTemperature: true, LevelWeeps: true, OverflowCaught: true, AirInLine: true,
	HoseAfter: true, LeftInVessel: true, EscapedAtCap: true, LetOutAmount: true,
	WasherFitted: true, EscapedHow: true, EscapedAmount: true, NothingEscaped: true, TightenedHow: true,
	BalanceSuspect: true, LevelLookedAgain: true,
	LeakCheck: true, WasherRecheck: true, LeakedHow: true, LeakedAmount: true,
	ResumedPlug: true,
}
