// Package job holds what happened in one oil change of one unit: its entries,
// what each can speak of, and which of them stand. What they mean together, and
// what is asked next, is not known here. Like all rooms of the model it is pure:
// no files, no clock, no state but its own.
//
// Each number of an entry is kept in one unit (Dim): volumes in ml as read,
// temperatures in °C, bores in mm, lengths in m, distances in km, pressures in
// kPa gauge, masses in g, densities in kg/m³ at 15 °C.
package job
