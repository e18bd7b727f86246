// Package guide leads through a job: which question is next, how what is typed is read and
// becomes an entry, which wait runs meanwhile, and what a list shows of the job.
// The questions themselves are package ask's; what answers add up to is worked out below both.
package guide
