// Package ahead works things out side by side, a few ahead of who takes them.
package ahead

import (
	"iter"
	"runtime"
)

// InOrder runs fn count times on all processors, results in order. Only a few
// results wait to be taken.
func InOrder[T any](count int, fn func(i int) T) iter.Seq2[int, T] {
	return func(yield func(int, T) bool) {
		ahead := make(chan chan T, runtime.GOMAXPROCS(0)-1)
		stop := make(chan struct{})
		defer close(stop)
		go func() {
			defer close(ahead)
			for i := range count {
				result := make(chan T, 1)
				select {
				case ahead <- result:
				case <-stop:
					return
				}
				go func() { result <- fn(i) }()
			}
		}()
		i := 0
		for result := range ahead {
			if !yield(i, <-result) {
				return
			}
			i++
		}
	}
}
