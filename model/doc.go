// Package model holds one oil change of one unit: its entries, what they mean
// together, what is asked next, what belongs in, what is in, and what is worth
// how much. It is pure: no files, no clock, no state but its own.
//
// Volumes are in ml, at 20 °C unless a name says otherwise; temperatures in °C,
// bores in mm, lengths in m, distances in km, pressures in kPa gauge, masses in
// g, densities in kg/m³ at 15 °C. Each comes with its errors (package measure),
// and is shown in the owner's units (package quantity).
//
// Where the rules come from: doubt is propagated as JCGM 100:2008 does, verdicts
// are given by JCGM 106:2012, volumes are corrected by API MPMS 11.1 (ASTM
// D1250-80). What is common practice of the trade, or a judgement, says so
// beside its figure.
package model
