package model

// This file keeps what a state has worked out once, since one question to it
// asks for the same sums many times over. Nothing here decides anything.

// memo is what a state has worked out. The zero memo knows nothing.
type memo struct {
	rounds      lazy[int]
	devices     lazy[[]Device]
	loadDevices lazy[[]Device]
	drained     lazy[Drained]
	plan        lazy[planned]
	nets        []ml20 // by round
	balances    map[int]RoundBalance
	verdicts    map[int]judged
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
func recall[T any](known *map[int]T, key int, work func() T) T {
	if v, ok := (*known)[key]; ok {
		return v
	}
	v := work()
	if *known == nil {
		*known = map[int]T{}
	}
	(*known)[key] = v
	return v
}
