// Package guide asks: the questions of each step, what is on offer, how an answer
// is read and refused, what is asked next, and what a later answer makes void.
// What answers add up to is not worked out here.
package guide
