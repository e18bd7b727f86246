// Durations in minutes, as read off a clock or a stopwatch.

package quantity

// maxMinutes is thirty days.
const maxMinutes = 30 * 24 * 60

// ParseMinutes reads a duration in minutes: 12, 12 min, 90 s, 1.5 h,
// 1 h 10 min. With a colon it is what a running clock shows: 1:30 is one minute
// and thirty seconds, 1:05:00 is one hour and five minutes.
func ParseMinutes(typed string) (minutes float64, err error) {
	s, err := scan(typed, grammar{like: "minutes such as 12, 90 s, 1 h 10 min or 1:30 (minutes:seconds)"})
	if err != nil {
		return 0, err
	}
	first, err := s.number()
	if err != nil {
		return 0, err
	}
	if s.take(":") != "" {
		minutes, err = s.clock(first)
	} else {
		minutes, err = s.spoken(first)
	}
	if err != nil {
		return 0, err
	}
	if minutes > maxMinutes {
		return 0, s.errorf("%s is too long, at most 30 days", quoted(typed))
	}
	return onlyIfAll(s, minutes)
}

// clock reads the rest of m:ss or h:mm:ss.
func (s *scanner) clock(first literal) (float64, error) {
	fields := []literal{first}
	for more := true; more; more = s.take(":") != "" {
		next, err := s.number()
		if err != nil {
			return 0, err
		}
		if len(next.text) != 2 || !next.whole || next.value >= 60 {
			return 0, s.errorf("%s is not 00 to 59", quoted(next.text))
		}
		fields = append(fields, next)
	}
	if !first.whole || len(fields) > 3 {
		return 0, s.errorf("a clock has the form m:ss or h:mm:ss")
	}
	minutes := 0.0
	for _, field := range fields {
		minutes = minutes*60 + field.value
	}
	return minutes / 60, nil
}

// minutesNamed finds how many minutes a word means.
func minutesNamed(word string) (float64, bool) {
	switch word {
	case "h", "hr", "hrs", "hour", "hours":
		return 60, true
	case "", "m", "min", "mins", "minute", "minutes", "'":
		return 1, true
	case "s", "sec", "secs", "second", "seconds", `"`:
		return 1.0 / 60, true
	}
	return 0, false
}

// spoken reads the rest of 12 min or 1 h 10 min 5 s, largest unit first.
func (s *scanner) spoken(number literal) (minutes float64, err error) {
	for before := 0.0; ; {
		word, shown := s.word()
		size, ok := minutesNamed(word)
		if !ok {
			return 0, s.errorf("%s is not a known unit", quoted(shown))
		}
		if before > 0 && (size >= before || number.value*size >= before) {
			return 0, s.errorf("hours, minutes and seconds are out of order or too many")
		}
		minutes += number.value * size
		before = size
		if s.skip(); word == "" || !startsNumber(s.rest) {
			return minutes, nil
		}
		if number, err = s.number(); err != nil {
			return 0, err
		}
	}
}
