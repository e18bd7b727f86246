package model

import (
	"garage/tundish/model/drip"
	"garage/tundish/model/measure"
)

// figuresMemo is what the figures of a job remember.
type figuresMemo struct {
	drips       lazy[dripsTold]
	devices     lazy[[]Device]
	loadDevices lazy[[]Device]
	drained     lazy[Drained]
	plan        lazy[planned]
	nets        []measure.Value // by round
	balances    map[int]RoundBalance
}

// dripsTold is what the looks at the pan tell.
type dripsTold struct {
	readings []drip.Reading
	fit      drip.Result
	err      error
}

type planned struct {
	plan Plan
	err  error
}
