// Package quantity reads amounts as they are typed on a number pad and prints
// them again: volumes, weights, temperatures, distances, lengths, pressures,
// torques, percentages and counts. It holds the exact factors between
// units and the choice of units to show.
//
// Inside, every number is in one base unit: ml, g, °C, km, mm, kPa and N·m.
// The conversion of a reading at 60 °C to 20 °C, and of a weight to a volume, is the
// caller's.
//
// Every parser is strict: it returns a number, or an error of one line that says
// what to type instead. Text that can be read in two ways (1,500 ml; 1-1/2 qt;
// 28 + 500 ml where bare numbers are fluid ounces) is an error. On an error the
// number returned is zero.
//
// Sources of the factors: NIST Special Publication 811 (2008), appendix B, and
// NIST Handbook 44, appendix C. All of them rest on five exact definitions: the
// inch is 25.4 mm, the US gallon is 231 cubic inches, the imperial gallon is
// 4.54609 L, the pound is 0.45359237 kg and standard gravity is 9.80665 m/s².
package quantity
