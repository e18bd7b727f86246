package ahead

import (
	"runtime"
	"sync/atomic"
	"testing"
)

func TestInOrderGivesEachResultInItsPlace(t *testing.T) {
	const count = 500
	for _, most := range []int{0, 1, 7, count} { // taken
		var begun, wanted atomic.Int64
		taken := 0
		for i, got := range InOrder(count, func(i int) int {
			if ahead := begun.Add(1) - wanted.Load(); ahead > int64(2*runtime.GOMAXPROCS(0)+1) {
				t.Errorf("%d were begun that nobody has asked for", ahead)
			}
			return i * i
		}) {
			if i != taken || got != i*i {
				t.Fatalf("result %d is %d, %d", taken, i, got)
			}
			wanted.Add(1)
			if taken++; taken >= most {
				break
			}
		}
		if taken != max(most, 1) {
			t.Errorf("%d of %d were given", taken, most)
		}
	}
	for range InOrder(0, func(int) int { return 0 }) {
		t.Error("of nothing came something")
	}
}
