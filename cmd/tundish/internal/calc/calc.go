// Package calc is the calculations that can be done alone, one file each, and the
// values of their flags.
package calc

// Commands are the calculations.
type Commands struct {
	Plan    planCommand    `cmd:"" help:"What belongs in the unit and what to pour in, from what came out and the manual's fill quantity."`
	Oil     oilCommand     `cmd:"" help:"Volume, density and viscosity of an oil at a temperature."`
	Hose    hoseCommand    `cmd:"" help:"What a hose holds."`
	Flow    flowCommand    `cmd:"" help:"How long it takes to push oil through a hose."`
	Drip    dripCommand    `cmd:"" help:"How much is still to drip out, from readings over time."`
	Balance balanceCommand `cmd:"" help:"Reconcile volumes that were measured twice over, and name the one most likely wrong."`
	Share   shareCommand   `cmd:"" help:"What share of a fill is new after so many drains that bring out only a part of it."`
	Vessel  vesselCommand  `cmd:"" help:"Check a jug with water on a scale."`
}
