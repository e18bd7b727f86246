package model

// This file keeps what a state has worked out once, since one question to it
// asks for the same sums many times over. Nothing here decides anything.

import "garage/tundish/model/drip"

// memo is what a state has worked out. The zero memo knows nothing.
type memo struct {
	next        lazy[upNext]
	progress    map[progressOf]progress
	standing    lazy[[]Entry]
	rounds      lazy[int]
	drips       lazy[dripsTold]
	devices     lazy[[]Device]
	loadDevices lazy[[]Device]
	drained     lazy[Drained]
	plan        lazy[planned]
	nets        []ml20 // by round
	balances    map[int]RoundBalance
	verdicts    map[int]judged
}

// upNext is the next question, if there is one.
type upNext struct {
	prompt Prompt
	more   bool
}

type progressOf struct {
	step  Step
	round int
}

type progress struct{ answered, asked int }

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

type judged struct {
	verdict Verdict
	err     error
}

// lazy is a value that is worked out when it is first wanted.
type lazy[T any] struct {
	value T
	known bool
}

func (l *lazy[T]) get(work func() T) T {
	if !l.known {
		l.value, l.known = work(), true
	}
	return l.value
}

// recall is the value of a key, worked out when it is first wanted.
func recall[K comparable, T any](known *map[K]T, key K, work func() T) T {
	if v, ok := (*known)[key]; ok {
		return v
	}
	v := work()
	if *known == nil {
		*known = map[K]T{}
	}
	(*known)[key] = v
	return v
}
