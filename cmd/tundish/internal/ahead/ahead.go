// Package ahead works things out side by side, a few ahead of who takes them.
package ahead

import (
	"iter"
	"runtime"
)

// InOrder runs fn count times on all processors, results in order. Only a few
// results wait to be taken.
func InOrder[T any](count int, fn func(i int) T) iter.Seq2[int, T] {
	return InOrderBy(count, 2*runtime.GOMAXPROCS(0)-1, fn)
}

// InOrderBy is InOrder for who takes many results at once: so many wait.
func InOrderBy[T any](count, wait int, fn func(i int) T) iter.Seq2[int, T] {
	type task struct {
		i      int
		result chan T
	}
	return func(yield func(int, T) bool) {
		ahead, begun := make(chan task, wait), make(chan task)
		stop := make(chan struct{})
		defer close(stop)
		for range min(runtime.GOMAXPROCS(0), count) { // each with a stack that has grown
			go func() {
				for t := range begun {
					t.result <- fn(t.i)
				}
			}()
		}
		go func() {
			defer close(ahead)
			defer close(begun)
			for i := range count {
				t := task{i, make(chan T, 1)}
				select {
				case ahead <- t:
					begun <- t
				case <-stop:
					return
				}
			}
		}()
		for t := range ahead {
			if !yield(t.i, <-t.result) {
				return
			}
		}
	}
}
