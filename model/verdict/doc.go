// Package verdict judges a job by its figures: whether what is in the unit is
// right and how surely (JCGM 106:2012), in what state the unit is, what keeps a
// fill from being proven, what the owner must be told, and what the jobs of one
// unit say together. It gives the sums behind its figures line by line. Nothing
// is asked here.
package verdict
