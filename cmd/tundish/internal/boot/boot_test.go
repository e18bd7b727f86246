package boot

import "testing"

// COLORFGBG is "foreground;background", or with a third field between, numbers
// of the sixteen colours or "default" (rxvt's manual page; from memory).
func TestBackgroundByTheEnvironment(t *testing.T) {
	for _, row := range []struct {
		ours, colours string
		dark, told    bool
	}{
		{"", "", true, false},
		{"light", "", false, true},
		{"LIGHT", "15;0", false, true},
		{"dark", "0;15", true, true},
		{"sepia", "0;15", false, true},
		{"", "0;15", false, true},
		{"", "0;default;15", false, true},
		{"", "15;default;0", true, true},
		{"", "0;7", false, true},
		{"", "7;8", true, true},
		{"", "0;default", true, false},
		{"", ";", true, false},
		{"", "0;99", true, true},
		{"", "-1", true, true},
	} {
		env := map[string]string{backgroundVariable: row.ours, "COLORFGBG": row.colours}
		if dark, told := darkBy(func(name string) string { return env[name] }); dark != row.dark || told != row.told {
			t.Errorf("TUNDISH_BACKGROUND=%q COLORFGBG=%q: dark %v, told %v, want %v, %v", row.ours, row.colours, dark, told,
				row.dark, row.told)
		}
	}
}
