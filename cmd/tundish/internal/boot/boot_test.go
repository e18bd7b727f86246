package boot

import "testing"

// COLORFGBG is "foreground;background", or with a third field between, numbers
// of the sixteen colours or "default" (rxvt's manual page; from memory).
func TestBackgroundByTheEnvironment(t *testing.T) {
	for _, row := range []struct {
		ours, colours string
		dark          bool
	}{
		{"", "", true},
		{"light", "", false},
		{"LIGHT", "15;0", false},
		{"dark", "0;15", true},
		{"sepia", "0;15", false},
		{"", "0;15", false},
		{"", "0;default;15", false},
		{"", "15;default;0", true},
		{"", "0;7", false},
		{"", "7;8", true},
		{"", "0;default", true},
		{"", ";", true},
		{"", "0;99", true},
		{"", "-1", true},
	} {
		env := map[string]string{BackgroundVariable: row.ours, "COLORFGBG": row.colours}
		if got := darkBy(func(name string) string { return env[name] }); got != row.dark {
			t.Errorf("TUNDISH_BACKGROUND=%q COLORFGBG=%q: dark %v, want %v", row.ours, row.colours, got, row.dark)
		}
	}
}
