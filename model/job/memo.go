package job

// This file keeps what was worked out once, since one question to a job asks for
// the same sums many times over. Nothing here decides anything.

// Lazy is a value that is worked out when it is first wanted.
type Lazy[T any] struct {
	value T
	known bool
}

func (l *Lazy[T]) Get(work func() T) T {
	if !l.known {
		l.value, l.known = work(), true
	}
	return l.value
}

// Recall is the value of a key, worked out when it is first wanted.
func Recall[K comparable, T any](known *map[K]T, key K, work func() T) T {
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
