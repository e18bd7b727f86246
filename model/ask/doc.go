// Package ask holds the questions, one by one: in which words each is asked and when, what is
// on offer, which answers are refused, and what a later answer makes void. The order in
// which they come is here too; which of them is next, and how a typed line is read, is not.
package ask
