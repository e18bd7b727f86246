package guide

import (
	"testing"

	"garage/tundish/model/verdict"
)

// TestForbidsAreNamed checks that every reason has a name and words of its own.
func TestForbidsAreNamed(t *testing.T) {
	t.Parallel()
	seen := map[string]bool{}
	for f := verdict.Forbids(0); f < verdict.NumForbids; f++ {
		for _, text := range []string{f.String(), f.Text()} {
			if text == "" || seen[text] {
				t.Errorf("reason %d: %q is empty or used twice", f, text)
			}
			seen[text] = true
		}
	}
}
